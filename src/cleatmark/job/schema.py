"""The structure of a job file around its declared fields."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, StringConstraints

Written = Annotated[str, StringConstraints(min_length=1)]
Level = Literal["allowable", "strength"]


class Pressures(BaseModel):
    """One stated set of pressures."""

    model_config = ConfigDict(extra="forbid", defer_build=True)

    source: Written
    dated: Written | None = None
    level: Level | None = None
    roof: Written | None = None
    area: Written | None = None
    zones: dict[str, str]
    inward: dict[str, str] = {}


class ContractDocument(BaseModel):
    """One assembly fact that stands on contract documents."""

    model_config = ConfigDict(extra="forbid", defer_build=True)

    field: Written
    value: Written
    where: Written
    zone: Written | None = None
    roof: Written | None = None


class JobFile(BaseModel):
    """The whole file; keys that are not named here are fields."""

    model_config = ConfigDict(extra="allow", defer_build=True)

    specification: Written | None = None
    rules: list[Written] = []
    addenda: list[Written] = []
    pressures: list[Pressures] = []
    contract_documents: list[ContractDocument] = []
    roofs: dict[str, dict[str, Any]] | None = None
