"""The builders of the samples write this room's DOCX files too; they are found from the project's root."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
