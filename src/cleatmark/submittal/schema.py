"""The structure of a submittal file around its declared fields."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, StringConstraints

Written = Annotated[str, StringConstraints(min_length=1)]
Assembly = dict[str, Any]
_FIELDS_AROUND = ConfigDict(extra="allow", defer_build=True)


class DeclaredDeparture(BaseModel):
    """A departure that the submitter declares."""

    model_config = ConfigDict(extra="forbid", defer_build=True)

    text: Written
    field: Written | None = None


class RunBlock(BaseModel):
    """One run of a document; other keys are run fields."""

    model_config = _FIELDS_AROUND

    specimen: Assembly = {}


class ConditionBlock(BaseModel):
    """One condition of a listing; other keys are condition fields."""

    model_config = _FIELDS_AROUND

    text: Written


class DocumentBlock(BaseModel):
    """One document; other keys are document fields."""

    model_config = _FIELDS_AROUND

    id: Written
    specimen: Assembly = {}
    runs: list[RunBlock] = []
    conditions: list[ConditionBlock] = []
    claims: list[Written] = []


class SubmittalFile(BaseModel):
    """The whole file; other keys are submittal fields."""

    model_config = _FIELDS_AROUND

    proposed: Assembly
    installed: Assembly = {}
    departures: list[DeclaredDeparture] = []
    documents: list[DocumentBlock] = []
