"""Patterns that are compiled when they are first used.

Compiling them all takes longer than reading a short specification, which uses two thirds of them.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, cast

_FINDS = frozenset(["search", "match", "fullmatch", "finditer"])


class _Lazy:
    """Becomes the pattern's methods one by one, each at its first use."""

    def __init__(self, written: str, flags: int, needs: tuple[str, ...]) -> None:
        self._written, self._flags, self._needs = written, flags, needs

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_"):
            raise AttributeError(name)
        waits = bool(self._needs) and name in _FINDS and "_compiled" not in self.__dict__
        found = self._waiting(name) if waits else self._method(name)
        setattr(self, name, found)
        return found

    def _waiting(self, name: str) -> Callable[..., Any]:
        """A method that gives nothing for a text without any of the words needed."""
        needs, fold = self._needs, bool(self._flags & re.IGNORECASE)

        def find(text: str, *span: int) -> Any:
            if text.isascii():
                within = text.lower() if fold else text
                for word in needs:
                    if word in within:
                        break
                else:
                    return iter(()) if name == "finditer" else None
            found = self._method(name)
            setattr(self, name, found)
            return found(text, *span)

        return find

    def _method(self, name: str) -> Any:
        compiled = self.__dict__.get("_compiled")
        if compiled is None:
            compiled = self._compiled = re.compile(self._written, self._flags)
        return getattr(compiled, name)


def lazily(written: str, flags: int = 0, needs: str = "") -> re.Pattern[str]:
    """As `re.compile`, for patterns that a module keeps: a mistake in one shows at its first use.

    needs  words parted by "|", one of which stands in all that the pattern matches, in small letters where its case is
           ignored: until a text has one, nothing is compiled. A test takes them from the pattern.
    """
    return cast("re.Pattern[str]", _Lazy(written, flags, tuple(needs.split("|")) if needs else ()))
