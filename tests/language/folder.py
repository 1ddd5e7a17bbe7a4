"""The small rule files of bad/ and good/, each proofread over ground.rules."""

from __future__ import annotations

import shutil
from pathlib import Path

from cleatmark.language.proofread import Proofread, proofread

HERE = Path(__file__).parent


def items(folder: str) -> list[Path]:
    """Rule files, and folders of rule files that are taken together."""
    return sorted(path for path in (HERE / folder).iterdir() if path.suffix == ".rules" or path.is_dir())


def read(item: Path, tmp_path: Path) -> Proofread:
    """The proofreading of one item."""
    shutil.copy(HERE / "ground.rules", tmp_path)
    files = [item] if item.is_file() else sorted(item.glob("*.rules"))
    for file in files:
        shutil.copy(file, tmp_path)
    return proofread([file.name for file in files], tmp_path)
