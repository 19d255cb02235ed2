"""Speed of the engine on its mounts as ratios in the same run, and what a drag of a mount runs."""

from collections.abc import Callable

import msgspec
import numpy as np

from core.checks import mounts, moved_unit
from core.document.project import Document
from core.engine.assess import assess
from core.engine.cells import When
from core.powerunit.held import moved
from tests.bench.ratios import Bound, ratio
from tests.core.edits.cars import demo_car
from tests.core.powerunit.mounted import on, three

RULES = (*mounts.RULES, *moved_unit.RULES)

SOLVE = Bound(most=14.0, measured=4.6)
"""A movement on mounts with its check for free motions, against a bare solve of six equations."""

AGAIN = Bound(most=0.35, measured=0.19)
"""The rules on mounts, all loads and gaps, after one mount was moved, against the same from
nothing."""


def higher(document: Document, by: float) -> Document:
    first, *rest = document.mounts
    place = first.place._replace(z=first.place.z + by)
    return msgspec.structs.replace(
        document, mounts=(msgspec.structs.replace(first, place=place), *rest)
    )


def test_a_movement_costs_a_few_bare_solves(
    record_property: Callable[[str, object], None],
) -> None:
    held, force, torque = on(*three()), np.zeros(3), np.array([0.0, -2500.0, 0.0])
    load = np.concatenate([force, torque * 1000.0])

    found = ratio(
        lambda: moved(held, force, torque), lambda: np.linalg.solve(held.stiffness, load), SOLVE
    )

    record_property("measured", str(found))
    assert found.holds, found


def test_a_moved_mount_costs_less_than_all_anew(
    record_property: Callable[[str, object], None],
) -> None:
    start = assess(demo_car(), {}, None, RULES)
    other = higher(demo_car(), 1.0)

    found = ratio(
        lambda: assess(other, {}, start, RULES), lambda: assess(other, {}, None, RULES), AGAIN
    )

    record_property("measured", str(found))
    assert found.holds, found


def test_a_drag_of_a_mount_measures_no_gap_and_weighs_nothing() -> None:
    start = assess(demo_car(), {}, None, RULES)

    after = assess(higher(demo_car(), 1.0), {}, start, RULES, When.LIVE)

    ran = {key.cell.name for key in after.ran}
    assert {"unit_on_mounts", "free_motions", "unit_shakes", "held"} <= ran
    assert not ran & {"gaps_moved", "case_moved", "gaps_at_rest", "weighed_things"}
    assert {key.cell.name for key in after.behind} >= {"case_moved", "stops", "gap_moved"}
