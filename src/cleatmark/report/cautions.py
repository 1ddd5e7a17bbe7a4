"""What a report cautions about."""

from __future__ import annotations

from cleatmark.review.model import STANDING_CAUTIONS, Review


def cautions(review: Review) -> tuple[str, ...]:
    """What every report cautions about, then what this review adds."""
    return (*STANDING_CAUTIONS, *(own for own in review.cautions if own not in STANDING_CAUTIONS))
