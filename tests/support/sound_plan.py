"""A sound plan as its tables, and ways to spoil it."""

import tomllib
from copy import deepcopy
from decimal import Decimal
from pathlib import Path
from typing import Any

from salebook.base.errors import FaultyPlanError
from salebook.plan.load import plan_from_mapping
from salebook.plan.model import Plan

WORKED_PLAN = Path(__file__).parent.parent / "worked-plan.toml"
SOUND: dict[str, Any] = tomllib.loads(WORKED_PLAN.read_text(encoding="utf-8"), parse_float=Decimal)

GONE = object()
"""Put in the place of a key, it takes the key away."""

Place = tuple[str | int, ...]


def changed(*changes: tuple[Place, object]) -> dict[str, Any]:
    """Return the sound plan with other values at some places, or without what stands there."""
    tables = deepcopy(SOUND)
    for place, value in changes:
        *way, last = place
        inside: Any = tables
        for key in way:
            inside = inside[key]
        if value is GONE:
            del inside[last]
        else:
            inside[last] = value
    return tables


def plan_with(*changes: tuple[Place, object]) -> Plan:
    """Return the sound plan with some changes that leave it sound."""
    return plan_from_mapping(changed(*changes), file="plan.toml")


def faults_in(tables: dict[str, Any]) -> list[str]:
    """Return the faults of a plan as a person reads them, without the file's name."""
    try:
        plan_from_mapping(tables, file="plan.toml")
    except FaultyPlanError as faulty:
        return [str(fault).removeprefix("plan.toml: ") for fault in faulty.faults]
    return []


def faults_with(*changes: tuple[Place, object]) -> list[str]:
    """Return the faults of the sound plan with some changes."""
    return faults_in(changed(*changes))
