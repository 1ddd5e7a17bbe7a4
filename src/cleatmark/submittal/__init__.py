"""The submittal file: the proposed assembly by zone, declared departures, documents with their runs."""

from cleatmark.submittal.load import load_submittal
from cleatmark.submittal.model import Condition, Departure, Document, Run, Submittal

__all__ = ["Condition", "Departure", "Document", "Run", "Submittal", "load_submittal"]
