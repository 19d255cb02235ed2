"""The drawn engine and gearbox: inside its boxes, and touching them where the car is tight.

Expected figures: the reference results in the source file, worked out there on the boxes by
another program.
"""

import numpy as np
import pytest

from core.clearance.bodies import Body
from core.clearance.gaps import Gap, swept_gap
from core.clearance.lifting import RollOut, lift_to_roll_out
from core.clearance.lines import Line, LineGroup, grouped
from core.document.power import PowerUnit
from core.geometry.frames import Frame
from core.geometry.meshes import joined, ply_bytes
from core.geometry.tubes import centre_line
from core.geometry.types import Array
from tests.cars.convert import DEMO, project_of
from tests.cars.convert_frame import node_shape
from tests.cars.neutral import Plain, read_neutral
from tests.cars.unit_mesh import unit_bodies, unit_mesh
from tests.oracles.gaps import least_of_all

ROUNDING = 1e-9
SAME = 0.05
"""mm by which the figures of the mesh may differ from those of the boxes."""


@pytest.fixture(scope="module")
def car() -> Plain:
    return read_neutral(DEMO)


@pytest.fixture(scope="module")
def unit(car: Plain) -> PowerUnit:
    return project_of(car).drawn.power_units[0]


@pytest.fixture(scope="module")
def body(unit: PowerUnit) -> Body:
    names = [solid.name for solid in unit.solids]
    bodies = [(names.index(name), body) for name, group in unit_bodies().items() for body in group]
    mesh, owner = joined([body for _, body in bodies])
    return Body(mesh, np.array([number for number, _ in bodies], dtype=np.int32)[owner])


@pytest.fixture(scope="module")
def place(unit: PowerUnit) -> Frame:
    return Frame(np.array(unit.origin), np.column_stack([unit.axes.x, unit.axes.y, unit.axes.z]))


@pytest.fixture(scope="module")
def tubes(car: Plain) -> tuple[LineGroup, ...]:
    sections = car["frame"]["tube_stock"]
    return grouped(
        [
            Line(centre_line(node_shape(car, m), np.radians(1.0)), sections[m["tube"]]["od"] / 2)
            for m in car["frame"]["members"]
        ]
    )


def limits(unit: PowerUnit, name: str) -> tuple[Array, Array]:
    (box,) = (solid.box for solid in unit.solids if solid.name == name)
    return np.array(box.low), np.array(box.high)


def governing(car: Plain, unit: PowerUnit, gap: Gap | None) -> tuple[str, str]:
    assert gap is not None
    return car["frame"]["members"][gap.line]["id"], unit.solids[gap.part].name


def test_every_body_is_closed_and_right_way_out() -> None:
    for bodies in unit_bodies().values():
        for body in bodies:
            assert body.is_closed()
            assert body.volume() > 0
    assert unit_mesh().is_closed()


def test_every_body_lies_inside_its_box(unit: PowerUnit) -> None:
    assert set(unit_bodies()) == {solid.name for solid in unit.solids}
    for name, bodies in unit_bodies().items():
        low, high = limits(unit, name)
        for body in bodies:
            lowest, highest = body.bounds()
            assert np.all(lowest >= low - ROUNDING), name
            assert np.all(highest <= high + ROUNDING), name


def test_the_mesh_is_as_large_as_the_six_boxes_together(unit: PowerUnit) -> None:
    low = np.min(np.array([solid.box.low for solid in unit.solids]), axis=0)
    high = np.max(np.array([solid.box.high for solid in unit.solids]), axis=0)
    assert unit_mesh().bounds() == pytest.approx(np.array([low, high]), abs=ROUNDING)


def test_the_mesh_fills_less_than_the_boxes_and_has_a_few_thousand_triangles(
    unit: PowerUnit,
) -> None:
    boxes = sum(float(np.prod(np.subtract(s.box.high, s.box.low))) for s in unit.solids)
    assert unit_mesh().volume() < boxes
    assert 2_000 < len(unit_mesh().triangles) < 12_000


def test_drawing_it_twice_gives_the_same_bytes() -> None:
    assert ply_bytes(unit_mesh()) == ply_bytes(unit_mesh())


def test_the_gap_at_rest_is_that_of_the_boxes(
    car: Plain, unit: PowerUnit, body: Body, place: Frame, tubes: tuple[LineGroup, ...]
) -> None:
    found = least_of_all(body, place, tubes)
    gap, tube, solid = car["reference_results"]["power_unit_clearance_min"]
    assert governing(car, unit, found) == (tube, solid)
    assert found is not None
    assert found.gap == pytest.approx(gap, abs=SAME)


def test_the_gap_on_the_way_down_is_that_of_the_boxes(
    car: Plain, unit: PowerUnit, body: Body, place: Frame, tubes: tuple[LineGroup, ...]
) -> None:
    down = (0.0, 0.0, -car["way_out"]["distance"])
    found = min((swept_gap(body, place, group, down) for group in tubes), key=lambda g: g.gap)
    gap, tube, solid = car["reference_results"]["drop_path_clearance_min"]
    assert governing(car, unit, found) == (tube, solid)
    assert found.gap == pytest.approx(gap, abs=SAME)


def test_the_lift_to_roll_it_out_is_that_of_the_boxes(
    car: Plain, unit: PowerUnit, body: Body, place: Frame, tubes: tuple[LineGroup, ...]
) -> None:
    way = RollOut(car["shop"]["dolly_height"], car["shop"]["roll_out_gap"])
    lift = lift_to_roll_out(body, place, tubes, way)
    results = car["reference_results"]
    assert governing(car, unit, lift.governed_by) == tuple(results["lift_governed_by"])
    assert lift.height == pytest.approx(results["lift_needed_to_slide_out_rearwards_mm"], abs=SAME)
