"""YAML as text: nothing is converted, and every part knows its place."""

from pathlib import Path

import pytest
import yaml

from cleatmark.problems import Place
from cleatmark.yamlfile import Mapping, Sequence, Text, load, walk


def root_of(text: str) -> Mapping:
    root, problems = load("f.yaml", text=text)
    assert problems == ()
    assert isinstance(root, Mapping)
    return root


@pytest.mark.parametrize(
    "value",
    ["3:12", "no", "yes", "null", "~", "1_000", "0x10", "1e3", ".5", "2024-01-01", "NaN", ".inf", "12:30:45"],
)
def test_scalars_are_text(value: str) -> None:
    node = root_of(f"key: {value}\n").get("key")
    assert isinstance(node, Text)
    assert node.value == value


def test_every_part_has_its_place_and_line() -> None:
    root = root_of("panel:\n  width: '16 in'\n  spans: [one,\n    two]\n")
    panel = root.get("panel")
    assert isinstance(panel, Mapping)
    key, width, spans = panel.key("width"), panel.get("width"), panel.get("spans")
    assert key is not None
    assert isinstance(width, Text)
    assert isinstance(spans, Sequence)
    assert key.place == Place("f.yaml", 2, 3)
    assert width.place == Place("f.yaml", 2, 10)
    assert width.line == "  width: '16 in'"
    assert [item.place for item in spans] == [Place("f.yaml", 3, 11), Place("f.yaml", 4, 5)]


def test_blocks_of_text_and_quotes() -> None:
    root = root_of('a: |\n  one\n  two\nb: >-\n  one\n  two\nc: \'#12\'\nd: "16\\""\n')
    assert [text.value for text in walk(root)] == ["one\ntwo", "one two", "#12", '16"']


def test_a_byte_order_mark_and_windows_line_ends(tmp_path: Path) -> None:
    path = tmp_path / "f.yaml"
    path.write_bytes("\ufeffa: 16 in\r\nb: ¾ in\r\n".encode())
    root, problems = load(path)
    assert problems == ()
    assert [text.value for text in walk(root)] == ["16 in", "¾ in"]
    path.write_bytes("a: 16 in\nb: ¾ in\n".encode("utf-16"))
    assert [text.value for text in walk(load(path)[0])] == ["16 in", "¾ in"]


def test_the_same_tree_without_the_c_library(monkeypatch: pytest.MonkeyPatch) -> None:
    text = "a: 3:12\nb: [no, '#12', {c: }]\nd: |\n  x\n"
    fast = root_of(text)
    monkeypatch.setattr(yaml, "__with_libyaml__", False)
    slow = root_of(text)
    assert [node.value for node in walk(slow)] == [node.value for node in walk(fast)]
    assert [node.place.line for node in walk(slow)] == [node.place.line for node in walk(fast)]
