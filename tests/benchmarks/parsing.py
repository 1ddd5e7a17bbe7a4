"""Parsing rules: new text, and text that is kept from before."""

from __future__ import annotations

import os
import tempfile
import time
from pathlib import Path

from .making import rule_text
from .timing import call, line, title, version


def main() -> None:
    from cleatmark.language import rulebooks
    from cleatmark.language.parse import parse

    text = rule_text(250)
    lines = text.count("\n")
    title(f"Rules of {lines:,} lines (lark {version('lark')})", "ms", "us a line")
    parse(rule_text(1), "warm.rules")
    taken = call(lambda: parse(text, "checks.rules"), 3)
    line("parsed", taken, taken * 1000 / lines)
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_CACHE_HOME"] = folder
        path = Path(folder) / "checks.rules"
        path.write_text(text, encoding="utf-8")
        cache = rulebooks.cache_folder()
        rulebooks.read_file(path, "checks.rules", cache)
        rulebooks._parsed.cache_clear()
        begun = time.perf_counter()
        rulebooks.read_file(path, "checks.rules", cache)
        taken = (time.perf_counter() - begun) * 1000
        line("unchanged, taken from the cache", taken, taken * 1000 / lines)
