"""Speed of loads as ratios, in the same run; and that a drag works none of them out."""

from collections.abc import Callable

from core.assess.corner_statics import corner_statics
from core.assess.load_extremes import extremes
from core.assess.load_report import LoadReport, load_report
from core.assess.travels import ends_of_travel
from core.document.base import Ref
from core.document.project import Document
from core.engine.assess import assess, compute
from core.engine.cells import Cell, Reader, When
from tests.bench.ratios import Bound, ratio
from tests.core.assess.weighed_cars import changed
from tests.core.edits.cars import demo_car

CORNER = Ref("corner2", "left")

AGAIN = Bound(most=0.3, measured=0.095)
"""All loads of a corner after one part got heavier, against the same from nothing."""

STATICS = Bound(most=2.0, measured=1.0)
"""Bodies and forces of a corner from nothing, against the search for the ends of its travel."""


def _report(read: Reader) -> LoadReport:
    return read(load_report, CORNER)


REPORT: Cell[[], LoadReport] = Cell("report", When.RELEASE, _report)


def heavier(document: Document, by: float) -> Document:
    return changed(document, "seats_belts", mass_kg=24.0 + by)


def test_a_heavier_part_costs_less_than_all_loads_anew(
    record_property: Callable[[str, object], None],
) -> None:
    car = demo_car()
    start, other = assess(car, {}, None, (), also=(REPORT,)), heavier(car, 1.0)
    assert start.value(REPORT).loads

    found = ratio(
        lambda: assess(other, {}, start, (), also=(REPORT,)),
        lambda: assess(other, {}, None, (), also=(REPORT,)),
        AGAIN,
    )

    record_property("measured", str(found))
    assert found.holds, found


def test_the_bodies_of_a_corner_cost_no_more_than_twice_its_ends_of_travel(
    record_property: Callable[[str, object], None],
) -> None:
    car = demo_car()

    found = ratio(
        lambda: compute(car, {}, corner_statics, CORNER),
        lambda: compute(car, {}, ends_of_travel, CORNER),
        STATICS,
    )

    record_property("measured", str(found))
    assert found.holds, found


def test_a_drag_step_works_out_no_loads() -> None:
    """They wait for the hand to let go."""
    car = demo_car()
    start = assess(car, {}, None, (), also=(REPORT,))

    after = assess(heavier(car, 1.0), {}, start, (), When.LIVE, also=(REPORT,))

    assert after.ran == ()
    assert extremes.name in {key.cell.name for key in after.behind}
