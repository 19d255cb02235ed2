"""Speed of weights as ratios, in the same run: to the bare sums, and to a linear programme."""

from collections.abc import Callable

import numpy as np
from scipy.optimize import linprog

from core.assess.weights import loads_at_design
from core.balance.stands import stand_loads
from core.checks.weights import RULES
from core.document.project import Document
from core.engine.assess import assess
from core.engine.cells import When
from tests.bench.ratios import Bound, ratio
from tests.core.assess.weighed_cars import changed
from tests.core.edits.cars import demo_car

AGAIN = Bound(most=0.35, measured=0.18)
"""The rules on weight after one part got heavier, against the same from nothing."""

BOUNDS = Bound(most=1 / 10, measured=1 / 20)
"""Loads of four stands with their bounds, against eight linear programmes: many times faster."""

STANDS = np.array([[-560.0, 330.0], [-560.0, -330.0], [-1500.0, 520.0], [-1500.0, -520.0]])
AT = np.array([-1396.0, 8.0])


def heavier(document: Document, by: float) -> Document:
    return changed(document, "seats_belts", mass_kg=24.0 + by)


def test_a_heavier_part_costs_less_than_weighing_all_anew(
    record_property: Callable[[str, object], None],
) -> None:
    car = demo_car()
    start = assess(car, {}, None, RULES)
    other = heavier(car, 1.0)

    found = ratio(
        lambda: assess(other, {}, start, RULES), lambda: assess(other, {}, None, RULES), AGAIN
    )

    record_property("measured", str(found))
    assert found.holds, found


def test_bounds_of_stands_cost_less_than_linear_programmes(
    record_property: Callable[[str, object], None],
) -> None:
    rows, wanted = np.vstack([np.ones(4), (STANDS - AT).T]), [874.5, 0.0, 0.0]

    def programmes() -> None:
        for k in range(4):
            for sign in (1.0, -1.0):
                linprog(sign * np.eye(4)[k], A_eq=rows, b_eq=wanted)

    found = ratio(lambda: stand_loads(874.5, AT, STANDS), programmes, BOUNDS)

    record_property("measured", str(found))
    assert found.holds, found


def test_a_drag_step_weighs_nothing() -> None:
    """Weights wait for the hand to let go."""
    car = demo_car()
    start = assess(car, {}, None, RULES, also=(loads_at_design,))

    after = assess(heavier(car, 1.0), {}, start, RULES, When.LIVE, also=(loads_at_design,))

    assert after.ran == ()
    assert {key.cell.name for key in after.behind} >= {"loads_at_design", "weight_at_design"}
