"""Measurements beside what people would otherwise use, in one run: see python -m tests.benchmarks --help."""
