"""The gap part of the way out, against the closed form of a box beside a round tube."""

from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.assess.clearance import gap_at_drop, gaps_along, gaps_on_way_out
from core.document.base import Box, Ref, Vec3
from core.document.codec import read_project
from core.document.power import PowerUnit, Solid
from core.document.project import Document, empty_project
from core.document.records import WayOut
from core.document.steel import Material, Point, Section
from core.edits.things import make
from core.edits.tubes import draw_tube
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from tests.app.cars import DEMO

HALF, TUBE_AT, RADIUS = 100.0, (300.0, -150.0), 16.0


def box_beside_tube() -> tuple[Document, Ref]:
    """A cube of 200 round the origin, a tube along x at y 300, z 150 below; the way is down."""
    document, steel = make(empty_project().drawn, Material, "mild steel", density_kg_m3=7850.0)
    document, section = make(
        document, Section, "32x2", outside=2 * RADIUS, wall=2.0, material=Ref(steel.id)
    )
    y, z = TUBE_AT
    document, a = make(document, Point, "A", at=Vec3(-500.0, y, z))
    document, b = make(document, Point, "B", at=Vec3(500.0, y, z))
    document, _ = draw_tube(document, "T1", Ref(section.id), Ref(a.id), Ref(b.id))
    cube = Box(low=Vec3(-HALF, -HALF, -HALF), high=Vec3(HALF, HALF, HALF))
    document, _ = make(
        document,
        PowerUnit,
        "cube",
        origin=Vec3(0.0, 0.0, 0.0),
        solids=(Solid(name="cube", box=cube),),
    )
    document, way = make(document, WayOut, "down", direction=Vec3(0.0, 0.0, -2.0), distance=600.0)
    return document, Ref(way.id)


def gap_in_closed_form(drop: float) -> float:
    """Distance of a point to a rectangle, less the radius; the tube is longer than the box."""
    y, z = TUBE_AT[0], TUBE_AT[1] + drop
    return hypot(max(abs(y) - HALF, 0.0), max(abs(z) - HALF, 0.0)) - RADIUS


@settings(max_examples=25, deadline=None)
@given(st.floats(0.0, 600.0))
def test_the_gap_at_any_drop_is_that_of_a_box_to_a_round_tube(drop: float) -> None:
    document, way = box_beside_tube()

    found = compute(document, {}, gap_at_drop, way, drop)

    assert found.gap == pytest.approx(gap_in_closed_form(drop), abs=1e-6)


def test_places_along_the_way_include_both_its_ends() -> None:
    document, way = box_beside_tube()

    found = compute(document, {}, gaps_along, way, 5)

    expected = [gap_in_closed_form(drop) for drop in (0.0, 150.0, 300.0, 450.0, 600.0)]
    assert [gap.gap for gap in found] == pytest.approx(expected, abs=1e-6)


def test_no_place_along_the_way_is_nearer_than_the_least_of_the_whole_way() -> None:
    document = read_project(DEMO).drawn
    way = Ref(document.ways_out[0].id)

    least = compute(document, {}, gaps_on_way_out, way)[0].gap

    assert min(gap.gap for gap in compute(document, {}, gaps_along, way, 25)) >= least - 1e-6


def test_without_tubes_there_is_no_gap_to_tell() -> None:
    document = empty_project().drawn
    document, _ = make(
        document,
        PowerUnit,
        "cube",
        origin=Vec3(0.0, 0.0, 0.0),
        solids=(Solid(name="c", box=Box(low=Vec3(0, 0, 0), high=Vec3(1, 1, 1))),),
    )
    document, way = make(document, WayOut, "down", direction=Vec3(0.0, 0.0, -1.0), distance=600.0)

    with pytest.raises(NotComputedError, match="no tubes"):
        compute(document, {}, gap_at_drop, Ref(way.id), 10.0)
