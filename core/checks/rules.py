"""Every rule there is, in the order in which decisions bind, and how to ask them all."""

from collections.abc import Mapping, Sequence
from typing import Any

from core.checks import brackets, clearance, load_paths, width
from core.checks.accepted import with_acceptances, worst_first
from core.document.project import Document
from core.engine.assess import Assessment, assess
from core.engine.cells import Cell, When
from core.engine.finding import Finding

RULES = (*width.RULES, *clearance.RULES, *load_paths.RULES, *brackets.RULES)

NOT_LOOKED_AT = (
    "wheel travel and steering, links and joint tilt",
    "the engine and gearbox moving on its mounts",
    "strength, stiffness, weight and brakes",
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
