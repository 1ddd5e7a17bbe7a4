"""The job file: place, code, insurer, roofs, wind data, and the pressures and facts that drawings state."""

from cleatmark.job.load import load_job
from cleatmark.job.model import ContractFact, Job, Reference, Roof, StatedPressures

__all__ = ["ContractFact", "Job", "Reference", "Roof", "StatedPressures", "load_job"]
