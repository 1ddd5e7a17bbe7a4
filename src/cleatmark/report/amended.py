"""The specification as its addenda amend it: what each item did, and what could not be placed."""

from __future__ import annotations

from cleatmark.report import words
from cleatmark.report.blocks import Block, Bullets, Heading, Span, Spans
from cleatmark.report.citing import Links, where
from cleatmark.report.clean import clean, shortened
from cleatmark.review.model import Amendment, Review

QUOTE_LIMIT = 160
"""Characters of a clause in the short report."""
_DID = {"revised": "revises", "deleted": "deletes", "added": "adds", "changed": "changes words of"}


def amendments(review: Review, links: Links, full: bool) -> list[Block]:
    """One line for each item of the addenda that is about the section; in full the clauses are quoted whole."""
    if not review.amendments:
        return []
    return [Heading(words.AMENDED), Bullets(tuple(told(item, links, full) for item in review.amendments))]


def told(item: Amendment, links: Links | None, full: bool) -> Spans:
    """One item of an addendum and what it did; its places lead somewhere where there are `links`."""
    name = Span(f"{item.addendum}, item {item.item}", "strong")
    if not item.did:
        spans = [name, Span(f" could not be placed: {item.note}. "), *_quoted("It says", item.quote, full)]
    else:
        spans = [name, Span(f" {_DID.get(item.did, item.did)} {item.clause}. ")]
        spans += _quoted("It read" if item.after else "It read until then", item.before, full)
        spans += _quoted("It reads now" if item.before else "It reads", item.after, full)
        spans += [Span(f"{item.note[:1].upper()}{item.note[1:]}. ")] if item.note else []
    for citation in item.citations:
        place = where(citation, links) if links is not None else Span(f"[{citation.where}]", "where")
        spans += [place, Span(" ")]
    return tuple(spans[:-1])


def _quoted(lead: str, text: str, full: bool) -> list[Span]:
    """A quotation with what leads to it; nothing where there is none."""
    shown = clean(text) if full else shortened(text, QUOTE_LIMIT)
    return [Span(f"{lead} "), Span(f"“{shown}”", "quote"), Span(" ")] if text else []
