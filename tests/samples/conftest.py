"""The sample sections as they lie in samples/, rebuilt, and as they print."""

from __future__ import annotations

import shutil
import subprocess
import sys
import zipfile
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from lxml import etree

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def folder() -> Callable[[str], Path]:
    """The folder of a sample."""
    return lambda name: ROOT / "samples" / name


@pytest.fixture
def rebuilt(tmp_path: Path) -> Callable[[str], Path]:
    """Runs a sample's builder as its docstring says and gives the file it wrote."""

    def build(name: str) -> Path:
        target = tmp_path / f"{name}.docx"
        subprocess.run(
            [sys.executable, "-m", f"samples.{name}.build_spec", str(target)],
            cwd=ROOT,
            check=True,
            timeout=120,
        )
        return target

    return build


@pytest.fixture
def xml(folder: Callable[[str], Path]) -> Callable[[str, str], etree._Element]:
    """A part of a sample's spec.docx as a tree."""

    def part(name: str, path: str = "word/document.xml") -> etree._Element:
        with zipfile.ZipFile(folder(name) / "spec.docx") as package:
            return etree.fromstring(package.read(path))

    return part


@pytest.fixture(scope="session")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], list[str]]:
    """The lines of a sample section with the numbers that print, by LibreOffice's text export.

    The export writes a tracked deletion before its insertion, and hidden text like any other.
    """
    office = shutil.which("soffice")
    if office is None:
        pytest.skip("LibreOffice is not installed: the printed numbers cannot be compared")
    work = tmp_path_factory.mktemp("printed")

    @cache
    def lines(name: str) -> list[str]:
        source = ROOT / "samples" / name / "spec.docx"
        profile = f"-env:UserInstallation={(work / 'profile').as_uri()}"
        order = [
            office,
            profile,
            "--headless",
            "--convert-to",
            "txt:Text",
            "--outdir",
            str(work),
            str(source),
        ]
        subprocess.run(order, check=True, capture_output=True, timeout=240)
        return (work / "spec.txt").read_text("utf-8-sig").splitlines()

    return lines
