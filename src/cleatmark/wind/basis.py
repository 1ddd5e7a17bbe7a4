"""From the inputs to what all zones of a roof rest on: the figure, the velocity pressure, the internal pressure."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.wind.coefficient import LOW_SLOPE_ABOVE_60, Basis
from cleatmark.wind.curves import Block, weakest
from cleatmark.wind.edition import edition as edition_of
from cleatmark.wind.library import PARTING_HEIGHT, figure_for
from cleatmark.wind.pressure import WAYS_OUT
from cleatmark.wind.site import Site
from cleatmark.wind.steps import figure
from cleatmark.wind.velocity import velocity_pressure

ALTERNATIVE_HEIGHT = 90.0
"""Below it, with h/width at most 1, the low-rise figures may be used above 60 ft."""


class Refused(Struct, frozen=True):
    """A roof whose pressures are refused as a whole: why, the figure's name and its zones where they are known."""

    why: str
    figure: str = ""
    zones: tuple[str, ...] = ()


def basis_of(site: Site, own: tuple[Block, ...] = ()) -> Basis | Refused:
    """The basis of a roof whose inputs are all stated, or why there is none.

    own  blocks that the user supplies, which go before the figures that ship
    """
    edition = edition_of(site.edition)
    slope, height = site.slope or 0.0, site.height or 0.0
    above_60 = height > PARTING_HEIGHT and not low_rise_by_alternative(site)
    limit, why = "", ""
    steep = above_60 and slope > LOW_SLOPE_ABOVE_60 + 1e-9
    if steep:
        limit = "medium"
        why = "above 60 ft and steeper than 10 degrees the coefficients for h of 60 ft or less are used with qh at h"
    block = figure_for(site.edition, site.shape, slope, above_60=above_60 and not steep, own=own)
    named = f"{site.shape} roof of {figure(slope, 1)} degrees, h {'above' if above_60 else 'up to'} 60 ft"
    if block is None:
        return Refused(f"{site.edition} has no figure on file for a {named}. {WAYS_OUT}")
    if block.name:
        drawn = figure_for(site.edition, site.shape, slope, above_60=above_60 and not steep)
        block = replace(block, layout=drawn.layout if drawn is not None else "not known")
    title = block.name or f"{site.edition}, {block.figure}"
    gcpi = edition.gcpi.get(site.enclosure)
    if gcpi is None:
        known = ", ".join(edition.gcpi)
        text = f'{site.edition} has no enclosure class "{site.enclosure}" ({edition.gcpi_section}): {known}'
        return Refused(f"{text}. Ask the designer which of them holds.", title, block.zones)
    if site.enclosure not in block.enclosures:
        text = f"{title} is for enclosed and partially enclosed buildings. The roof of an open building takes net "
        text += f"coefficients of {edition.free_roofs}, which are not on file. {WAYS_OUT}"
        return Refused(text, title, block.zones)
    if block.h_over_b is not None:
        width = site.least_dimension
        if width is None:
            text = f"{title} has curves by h/B, and length and width of the roof are not both stated"
            return Refused(f"{text}. State them in the job file.", title, block.zones)
        known_to, beyond = block.h_over_b
        if height / width > known_to + 1e-9:
            limit = weakest(limit or "high", beyond)
            why = f"h/B is {figure(height / width)}, and the curves on file are confirmed up to {figure(known_to)}"
    velocity = velocity_pressure(
        edition,
        site.speed or 0.0,
        site.exposure,
        height,
        kzt=site.kzt,
        hill=site.hill,
        elevation=site.elevation,
    )
    return Basis(site, edition, block, velocity, gcpi, above_60, limit, why)


def low_rise_by_alternative(site: Site) -> bool:
    """Whether the low-rise figures are asked for above 60 ft, and may be used: h < 90 ft, h/width at most 1."""
    height, width = site.height or 0.0, site.least_dimension
    fits = PARTING_HEIGHT < height < ALTERNATIVE_HEIGHT and width is not None and height / width <= 1
    return site.low_rise_alternative and fits


def alternative_open(site: Site) -> bool:
    """Whether the alternative could be asked for and is not."""
    return not site.low_rise_alternative and low_rise_by_alternative(replace(site, low_rise_alternative=True))
