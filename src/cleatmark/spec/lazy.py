"""Patterns that are compiled when they are first used.

Compiling them all takes longer than reading a short specification, which uses two thirds of them.
"""

from __future__ import annotations

import re
from typing import Any, cast


class _Lazy:
    """Becomes the pattern's methods one by one, each at its first use."""

    def __init__(self, written: str, flags: int) -> None:
        self._written, self._flags = written, flags

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_"):
            raise AttributeError(name)
        compiled = self.__dict__.get("_compiled")
        if compiled is None:
            compiled = self._compiled = re.compile(self._written, self._flags)
        found = getattr(compiled, name)
        setattr(self, name, found)
        return found


def lazily(written: str, flags: int = 0) -> re.Pattern[str]:
    """As `re.compile`, for patterns that a module keeps: a mistake in one shows at its first use."""
    return cast("re.Pattern[str]", _Lazy(written, flags))
