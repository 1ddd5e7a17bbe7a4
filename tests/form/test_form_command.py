"""`cleatmark form`: what it writes, and what it does not replace."""

from __future__ import annotations

from pathlib import Path

import pytest

from cleatmark.cli import main

from .filling import Form


@pytest.mark.parametrize("name", ["form.docx", "form.yaml"])
def test_a_form_is_written_and_not_written_over(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / name
    assert main(["form", str(path)]) == 0
    blank = path.read_bytes()
    assert capsys.readouterr().out == f"{path}: a blank form to fill in\n"
    assert main(["form", str(path)]) == 0
    assert capsys.readouterr().out == f"{path}: there already\n"
    assert path.read_bytes() == blank
    path.write_bytes(blank + b"\nfilled in")
    assert main(["form", str(path)]) == 2
    assert path.read_bytes() == blank + b"\nfilled in"
    assert "a blank form does not replace it" in capsys.readouterr().err


def test_another_ending_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["form", str(tmp_path / "form.pdf")]) == 2
    assert "ends in neither .docx nor .yaml" in capsys.readouterr().err


def test_a_filled_form_is_reviewed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "form.docx"
    main(["form", str(path)])
    form = Form(path.read_bytes())
    form.fill("submittal.id", "07 41 13-07")
    form.fill("proposed.panel.width", "18 in")
    form.save(path)
    job = Path(__file__).resolve().parents[2] / "samples" / "library" / "job.yaml"
    assert main(["review", str(job), str(path)]) == 1
    told = " ".join(capsys.readouterr().out.split())
    assert "07 41 13-07" in told
    assert "18 in is proposed" in told
