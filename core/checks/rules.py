"""Every rule there is, in the order in which decisions bind, and how to ask them all."""

from collections.abc import Mapping, Sequence
from typing import Any

from core.checks import (
    brackets,
    braking,
    clearance,
    load_paths,
    mounts,
    moved_unit,
    moving,
    set_up,
    springs,
    steering_arm,
    suspension,
    weights,
    width,
)
from core.checks.accepted import with_acceptances, worst_first
from core.document.project import Document
from core.engine.assess import Assessment, assess
from core.engine.cells import Cell, When
from core.engine.finding import Finding

RULES = (
    *width.RULES,
    *suspension.RULES,
    *steering_arm.RULES,
    *springs.RULES,
    *moving.RULES,
    *set_up.RULES,
    *clearance.RULES,
    *mounts.RULES,
    *moved_unit.RULES,
    *load_paths.RULES,
    *brackets.RULES,
    *weights.RULES,
    *braking.RULES,
)

NOT_LOOKED_AT = (
    "uprights, rigid axles, brakes, rockers near to anything, tyres near the engine and the shell",
    "drive shafts in the travel of their wheels, and as the engine moves on its mounts",
    "strength and stiffness",
    "whether bought parts fit one another",
    "hoses, pipes, exhaust, people, openings and tools",
    "sheets, tanks and other solid things near the engine and gearbox",
)
"""What no rule answers yet; said wherever findings are listed, for silence is not «fine»."""


def assess_all(
    document: Document,
    meshes: Mapping[str, bytes],
    last: Assessment | None = None,
    upto: When = When.ASKED,
    also: Sequence[Cell[[], Any]] = (),
) -> Assessment:
    """Every rule's answer for a document; see `core.engine.assess.assess`."""
    return assess(document, meshes, last, RULES, upto, also)


def to_look_at(assessment: Assessment) -> list[Finding]:
    """Every finding, accepted ones marked, in the order to look at them."""
    return worst_first(with_acceptances(assessment.document, assessment.findings()))
