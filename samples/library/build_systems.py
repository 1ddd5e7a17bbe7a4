"""Writes systems/, a dozen roof systems that an invented bidder has on file.

    python -m samples.library.build_systems [FOLDER]

A system is what a maker would send for any job: the assembly, and the papers for it. Every maker, product, paper and
figure is invented. The systems begin as that of submittals/a_tested.yaml and differ in what OTHERS says of them.
"""

from __future__ import annotations

import copy
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import yaml

System = dict[str, Any]
HERE = Path(__file__).resolve().parent
PROJECT = ("id", "title", "from", "date", "kind", "contractor_stamp", "scope", "departures")
"""Keys of a submittal that belong to a job."""


def base() -> System:
    """The system of submittals/a_tested.yaml, without what is about the job."""
    text = (HERE / "submittals" / "a_tested.yaml").read_text("utf-8")
    system: System = yaml.load(text, Loader=yaml.BaseLoader)
    return {key: value for key, value in system.items() if key not in PROJECT}


def everywhere(system: System, group: str, key: str, value: str, *, proposed: bool = True) -> None:
    """Sets a property in every specimen and, with `proposed`, in the proposal."""
    places = [document["specimen"] for document in system["documents"] if "specimen" in document]
    for place in [*places, *([system["proposed"]] if proposed else [])]:
        place[group][key] = value


def paper(system: System, kind: str) -> System:
    """The first paper of a kind."""
    found: System = next(document for document in system["documents"] if document["kind"] == kind)
    return found


def without(system: System, kind: str) -> None:
    """Takes away the papers of a kind."""
    system["documents"] = [document for document in system["documents"] if document["kind"] != kind]


def named(system: System, maker: str, profile: str, clip: str) -> None:
    """Gives the system another maker, panel and clip."""
    everywhere(system, "panel", "manufacturer", f"{maker} (invented)")
    everywhere(system, "panel", "profile", f"{profile} standing seam")
    everywhere(system, "clip", "model", clip)
    for number, document in enumerate(system["documents"], 1):
        document["id"] = f"{profile}-{number}"
        document["holder"] = f"{maker} (invented)"
        document["title"] = document["title"].replace("PC-175", profile)
        document["number"] = f"{profile}-{number} (invented)"


def wide(system: System) -> None:
    everywhere(system, "panel", "width", "18 in")


def snap(system: System) -> None:
    everywhere(system, "panel", "seam_type", "snap-lock")


def even_clips(system: System) -> None:
    system["proposed"]["clip"]["spacing"] = "24 in"


def osb_tested(system: System) -> None:
    everywhere(system, "deck", "type", "OSB")


def osb_proposed(system: System) -> None:
    system["proposed"]["deck"]["type"] = "OSB"


def listing_only(system: System) -> None:
    for kind in ("tested report", "insurer approval"):
        without(system, kind)


def class_60(system: System) -> None:
    for run in paper(system, "tested report")["runs"]:
        run["held"] = "75 psf"
        run.pop("failed_at", None)
        if run["standard"] == "UL 580":
            run["class"] = "60"


def aluminum(system: System) -> None:
    everywhere(system, "panel", "material", "aluminum")
    everywhere(system, "panel", "thickness", "0.040 in, nominal")
    everywhere(system, "panel", "coating", "mill finish")
    everywhere(system, "panel", "yield_strength", "22 ksi")


def light(system: System) -> None:
    everywhere(system, "panel", "thickness", "26 ga, nominal")


def no_insurer(system: System) -> None:
    without(system, "insurer approval")


def weak_corner(system: System) -> None:
    for run in paper(system, "tested report")["runs"]:
        if run["standard"] == "UL 1897":
            run["held"], run["failed_at"] = "105 psf", "110 psf"
    approved = paper(system, "insurer approval")["runs"]
    for run, rating in zip(approved, ("1-90", "1-105", "1-105"), strict=True):
        run["rating"] = rating


OTHERS: dict[str, tuple[str, str, str, Callable[[System], None] | None]] = {
    "pell_creek/pc_175": ("Pell Creek Roof Works", "PC-175", "PC-2F", None),
    "pell_creek/pc_175_wide": ("Pell Creek Roof Works", "PC-175W", "PC-2F", wide),
    "pell_creek/ps_150_snap": ("Pell Creek Roof Works", "PS-150", "PC-1S", snap),
    "fen_hollow/fh_200": ("Fen Hollow Metals", "FH-200", "FH-A", even_clips),
    "fen_hollow/fh_200_osb_report": ("Fen Hollow Metals", "FH-210", "FH-A", osb_tested),
    "fen_hollow/fh_200_osb_deck": ("Fen Hollow Metals", "FH-220", "FH-A", osb_proposed),
    "harrow_sheet/hs_listing": ("Harrow Sheet Company", "HS-16", "HS-F", listing_only),
    "harrow_sheet/hs_class_60": ("Harrow Sheet Company", "HS-60", "HS-F", class_60),
    "harrow_sheet/hs_aluminum": ("Harrow Sheet Company", "HS-40A", "HS-F", aluminum),
    "lathe_brook/lb_26": ("Lathe Brook Panels", "LB-26", "LB-2", light),
    "lathe_brook/lb_24_no_insurer": ("Lathe Brook Panels", "LB-24", "LB-2", no_insurer),
    "lathe_brook/lb_24_corner": ("Lathe Brook Panels", "LB-24C", "LB-2", weak_corner),
}
"""Systems by file: maker, panel, clip, and what is not as in submittals/a_tested.yaml."""


def system_of(maker: str, profile: str, clip: str, change: Callable[[System], None] | None) -> System:
    """One system."""
    system = copy.deepcopy(base())
    named(system, maker, profile, clip)
    if change is not None:
        change(system)
    return system


def written(system: System) -> str:
    """A system as YAML."""
    system = {"title": system["proposed"]["panel"]["profile"], **system}
    head = "# Invented: every firm, product, report number and person.\n\n"
    body: str = yaml.dump(system, sort_keys=False, default_flow_style=None, width=110, allow_unicode=True)
    return head + body


def build(folder: Path) -> None:
    """Write the systems under `folder`."""
    for name, parts in OTHERS.items():
        path = folder / f"{name}.yaml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(written(system_of(*parts)), "utf-8")


if __name__ == "__main__":
    build(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE / "systems")
