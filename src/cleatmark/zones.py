"""Roof zone names: as written, the everyday name, and how the older and the newer families answer to each other."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

EVERYDAY = {
    "field": "field",
    "interior": "field",
    "general": "field",
    "perimeter": "perimeter",
    "edge": "perimeter",
    "edge strip": "perimeter",
    "eave": "perimeter",
    "rake": "perimeter",
    "ridge": "perimeter",
    "end": "perimeter",
    "corner": "corner",
    "all": "whole roof",
    "all roof": "whole roof",
}
FAMILY = {"1": "field", "1'": "field", "2": "perimeter", "3": "corner"}


@lru_cache(maxsize=4096)
def zone_key(name: str) -> str:
    """The name folded: "Zone 2" and "2" are one, "corners" and "corner", "1 prime" and "1'"."""
    text = re.sub(r"\s+", " ", name.replace("′", "'").replace("’", "'")).strip().casefold()
    text = re.sub(r"^(roof )?zones? ?|^z-?(?=\d)|^p\(?(?=\d)|(?<=\d)\)$", "", text)
    text = re.sub(r" ?prime$", "'", text)
    text = re.sub(r" (zone|area|strip)s?$", "", text) if text not in EVERYDAY else text
    singular = text[:-1] if text.endswith("s") else text
    return EVERYDAY.get(text, EVERYDAY.get(singular, text))


def family(name: str) -> str:
    """field, perimeter or corner for a zone of any family ("2e" is perimeter); "" where it is none of them."""
    key = zone_key(name)
    if key in ("field", "perimeter", "corner"):
        return key
    return FAMILY.get(key, FAMILY.get(key[:1], ""))


def same_zone(a: str, b: str) -> bool:
    """Whether two names mean one zone: the same name, or an everyday name and a zone of its family."""
    key_a, key_b = zone_key(a), zone_key(b)
    if key_a == key_b:
        return True
    everyday = {"field", "perimeter", "corner"}
    if (key_a in everyday) == (key_b in everyday):
        return False
    return family(a) == family(b) != ""


def answering(name: str, zones: Iterable[str]) -> tuple[str, ...]:
    """The zones of a roof that a name is for: the zone of that name, or all of its family ("field": 1' and 1).

    Where several answer, the worst of them governs.
    """
    known = tuple(zones)
    exact = tuple(zone for zone in known if zone_key(zone) == zone_key(name))
    return exact or tuple(zone for zone in known if same_zone(name, zone))
