"""Cleatmark reviews metal roof panel assemblies against specifications and wind uplift."""

__version__ = "0.1.0"
