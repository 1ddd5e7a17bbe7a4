"""Help with an example for every command, each a call that the command line takes; shell completion."""

from __future__ import annotations

import argparse
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from cleatmark.cli import main, parser
from cleatmark.commands.completion import SHELLS


def commands(top: argparse.ArgumentParser, name: str = "") -> Iterator[tuple[str, argparse.ArgumentParser]]:
    """Every command and action, with the words that call it."""
    for action in top._actions:
        if isinstance(action, argparse._SubParsersAction):
            for word, command in action.choices.items():
                yield f"{name} {word}".strip(), command
                yield from commands(command, f"{name} {word}".strip())


ALL = dict(commands(parser()))


def examples(text: str | None) -> list[str]:
    """The calls that an epilog shows, without what is said beside them."""
    lines = re.findall(r"^  cleatmark (.*)$", text or "", re.M)
    return [re.split(r"\s{3,}", line)[0] for line in lines if not line.startswith("COMMAND")]


def test_the_commands_are_those_promised() -> None:
    assert {"review", "read", "wind", "prescreen", "form", "rules", "rules prove", "rules tidy"} <= set(ALL)


@pytest.mark.parametrize("name", ALL)
def test_a_command_built_alone_is_the_same(name: str) -> None:
    alone = dict(commands(parser(name.split()[0])))
    assert {called.split()[0] for called in alone} == {name.split()[0]}
    assert alone[name].format_help() == ALL[name].format_help()


@pytest.mark.parametrize("name", ALL)
def test_a_command_has_an_example_of_itself(name: str) -> None:
    shown = examples(ALL[name].epilog)
    assert any(line.startswith(name) for line in shown)
    assert ALL[name].description


@pytest.mark.parametrize(
    "call", [*examples(parser().epilog), *(e for c in ALL.values() for e in examples(c.epilog))]
)
def test_an_example_is_a_call_that_is_taken(call: str) -> None:
    assert parser().parse_args(shlex.split(call))


def test_help_ends_with_0_and_shows_the_example(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        main(["prescreen", "--help"])
    assert end.value.code == 0
    assert "cleatmark prescreen job.yaml --systems systems" in capsys.readouterr().out


@pytest.mark.parametrize("shell", SHELLS)
def test_a_completion_script_knows_every_command(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        main(["--print-completion", shell])
    assert end.value.code == 0
    script = capsys.readouterr().out
    for name in ALL:
        assert name.split()[-1] in script
    assert "--systems" in script


def test_bash_completes_a_command_and_a_file(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    bash = shutil.which("bash")
    if bash is None:
        pytest.skip("bash is not installed: its completion cannot be tried")
    with pytest.raises(SystemExit):
        main(["--print-completion", "bash"])
    (tmp_path / "completion.bash").write_text(capsys.readouterr().out)
    (tmp_path / "library.yaml").touch()
    words = (
        "source completion.bash; COMP_WORDS=(cleatmark presc); COMP_CWORD=1; _shtab_cleatmark; echo ${COMPREPLY[@]};"
        "COMP_WORDS=(cleatmark review libr); COMP_CWORD=2; _shtab_cleatmark; echo ${COMPREPLY[@]}"
    )
    done = subprocess.run(
        [bash, "-c", words], cwd=tmp_path, capture_output=True, text=True, timeout=60, check=True
    )
    assert done.stdout.split() == ["prescreen", "library.yaml"]


def test_a_shell_that_is_not_known_ends_with_2(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        main(["--print-completion", "nosuch"])
    assert end.value.code == 2
    assert '"nosuch" is not one of the choices; expected bash, zsh or tcsh' in capsys.readouterr().err


def test_a_command_that_prints_no_script_does_not_import_the_library() -> None:
    code = "import sys, cleatmark.cli as c; c.parser(); print('shtab' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True
    )
    assert done.stdout.strip() == "False"
