"""Advice on the inputs: claims that a designer should look at again. It raises questions and changes no pressure."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from msgspec import Struct

from cleatmark.facts import Fact
from cleatmark.problems import InputError
from cleatmark.wind.basis import alternative_open
from cleatmark.wind.blocks import EDITIONS
from cleatmark.wind.edition import edition
from cleatmark.wind.library import FOLDER, PARTING_HEIGHT
from cleatmark.wind.reading import Reader
from cleatmark.wind.site import Site, word
from cleatmark.wind.steps import figure
from cleatmark.yamlfile import Mapping as Keys
from cleatmark.yamlfile import load

OPEN_GROUND = "open ground"
OPEN_WATER = "open water"


class WindAdvice(Struct, frozen=True):
    """One question on an input: what was noticed, the fields it is about, whom to ask what."""

    id: str
    message: str
    fields: tuple[str, ...]
    ask: str
    question: str


class Speeds(Struct, frozen=True):
    """Speeds that raise a question, mph: by edition and risk category."""

    nominal: tuple[float, ...]
    least: dict[str, dict[str, float]]
    inland: dict[str, dict[str, float]]


@cache
def speeds() -> Speeds:
    """The speeds that ship. Raises InputError where the file is broken."""
    root, problems = load(FOLDER / "speeds.yaml")
    nominal = root.get("nominal") if isinstance(root, Keys) else None
    if not isinstance(root, Keys) or not isinstance(nominal, Keys):
        raise InputError(problems)
    reader = Reader()
    found = Speeds(
        tuple(float(text) for text in reader.words(nominal.get("speeds"))),
        _by_category(root, "least", reader),
        _by_category(root, "inland", reader),
    )
    if reader.problems:
        raise InputError(reader.problems)
    return found


def _by_category(root: Keys, key: str, reader: Reader) -> dict[str, dict[str, float]]:
    found: dict[str, dict[str, float]] = {}
    node = root.get(key)
    for entry in node.entries if isinstance(node, Keys) else ():
        if isinstance(entry.value, Keys):
            amounts = {
                inner.key.value: reader.number(entry.value, inner.key.value) for inner in entry.value.entries
            }
            found[entry.key.value] = {name: value for name, value in amounts.items() if value is not None}
    return found


def advice_on(site: Site, facts: Mapping[str, Fact]) -> tuple[WindAdvice, ...]:
    """Everything on the inputs that a designer should be asked to look at again."""
    found = [*_surroundings(site), *_doors(site), *_speed(site), *_code(site, word(facts, "job.code"))]
    if site.edition == "ASCE 7-22" and site.risk_category in ("III", "IV"):
        found.append(
            WindAdvice(
                "tornado",
                "ASCE 7-22 adds tornado loads (Chapter 32) for risk categories III and IV in the tornado-prone region. "
                "They are not computed here.",
                ("job.wind.risk_category",),
                "designer",
                "Do tornado loads of Chapter 32 govern the roof?",
            )
        )
    if alternative_open(site):
        found.append(
            WindAdvice(
                "low_rise_alternative",
                f"h is {figure(site.height or 0.0, 1)} ft: below 90 ft, with h no more than the least width, the "
                f"figures for h up to {figure(PARTING_HEIGHT)} ft may be used instead. State "
                "low_rise_alternative: yes where the designer uses them.",
                ("job.roof.mean_height",),
                "designer",
                "Are the low-rise figures used for this roof?",
            )
        )
    return tuple(found)


def _surroundings(site: Site) -> list[WindAdvice]:
    near = site.surroundings
    if site.exposure == "B" and near in (OPEN_GROUND, OPEN_WATER):
        worse = "C" if near == OPEN_GROUND else "D"
        message = f"Exposure B is claimed, and the site is beside {near}. In wind from there Exposure {worse} may hold."
    elif site.exposure == "C" and near == OPEN_WATER:
        message = "Exposure C is claimed, and the site is beside open water. In wind from there Exposure D may hold."
    else:
        return []
    return [
        WindAdvice(
            "exposure",
            message,
            ("job.wind.exposure", "job.wind.surroundings"),
            "designer",
            f"Exposure {site.exposure} is stated for a site beside {near}. For which wind directions was it found, and "
            "how far upwind does the rough ground reach in each?",
        )
    ]


def _doors(site: Site) -> list[WindAdvice]:
    if site.enclosure != "enclosed" or site.large_doors is not True:
        return []
    return [
        WindAdvice(
            "large_doors",
            "The building is claimed to be enclosed and has large doors. A door that is open or gives way can make it "
            "partially enclosed: GCpi 0.55 in place of 0.18.",
            ("job.wind.enclosure", "job.wind.large_doors"),
            "designer",
            "The building is stated to be enclosed and has large doors. Are the doors rated for the design pressure, "
            "and counted as closed in the enclosure class?",
        )
    ]


def _speed(site: Site) -> list[WindAdvice]:
    speed, known = site.speed, speeds()
    if speed is None or not site.edition:
        return []
    category = site.risk_category
    least = known.least.get(site.edition, {}).get(category)
    inland = known.inland.get(site.edition, {})
    older = _of_older_map(site.edition, category, speed, known)
    lower = [other for other, value in inland.items() if value == speed < inland.get(category, 0.0)]
    if speed in known.nominal:
        message = (
            f"{figure(speed)} mph is a speed of the maps before ASCE 7-10, at nominal level. {site.edition} takes a "
            "strength-level speed, which is higher."
        )
    elif least is not None and speed < least:
        message = (
            f"{figure(speed)} mph is below the least speed of the {site.edition} map for risk category {category} "
            f"({figure(least)} mph, from memory). It may be of a lower category, or of a map at nominal level."
        )
    elif lower:
        message = (
            f"{figure(speed)} mph is the inland speed of the {site.edition} map for risk category "
            f"{' and '.join(lower)} (from memory); the job states category {category}."
        )
    elif older:
        message = (
            f"{figure(speed)} mph is the inland speed of the {OLDER} map for risk category {' and '.join(older)} (from "
            f"memory); the job states {site.edition}, whose map was drawn anew, and category {category}."
        )
    else:
        return []
    of = f"risk category {category}" if category else "the building's risk category"
    question = (
        f"The wind speed stated is {figure(speed)} mph. Is it read from the {site.edition} map for {of}, at strength "
        "level?"
    )
    return [WindAdvice("speed", message, ("job.wind.speed", "job.wind.risk_category"), "designer", question)]


OLDER = "ASCE 7-10"
"""Its maps have one speed for most of the mainland, a category; the later maps have contours there."""


def _of_older_map(edition: str, category: str, speed: float, known: Speeds) -> list[str]:
    """The risk categories, the job's or a lower one, whose inland speed on the older map this is. Category I is left
    out unless it is the job's: its speed is a usual one of category II on the later maps."""
    order = ("I", "II", "III", "IV")
    if edition == OLDER or category not in order:
        return []
    upto = order[: order.index(category) + 1]
    inland = known.inland.get(OLDER, {})
    return [one for one in upto if inland.get(one) == speed and (one != "I" or category == "I")]


def _code(site: Site, code: str) -> list[WindAdvice]:
    if not code or not site.edition:
        return []
    named = [
        name for name in EDITIONS if code.casefold() in (known.casefold() for known in edition(name).codes)
    ]
    if not named or site.edition in named:
        return []
    message = f"{code} goes with {named[0]}, and the job states {site.edition}."
    question = f"Which edition of ASCE 7 does the building department require under {code}?"
    return [
        WindAdvice("edition", message, ("job.wind.standard", "job.code"), "building department", question)
    ]
