import math

import pytest

from core.document.base import Fact, Ref
from core.document.donors import DonorCorner
from core.document.project import Document
from core.edits.donor import HubPlace, Station, carry_over
from core.edits.refusals import EditRefusedError
from core.edits.things import make
from core.workshop.donor_table import on_same_axes, points_table, standing_table
from tests.core.edits.cars import demo_car, empty_car, second_car
from tests.core.edits.donors import Builder, by_role, measured


def put(document: Document, name: str, donor: DonorCorner) -> tuple[Document, Ref]:
    fields = {f: getattr(donor, f) for f in donor.__struct_fields__ if f not in ("id", "name")}
    document, made = make(document, DonorCorner, name, **fields)
    return document, Ref(made.id)


def test_two_donors_measured_from_hub_and_from_wheel_stand_on_the_same_axes() -> None:
    """One and the same corner, measured from either place, is found in the same place."""
    document = empty_car()
    refs: list[Ref] = []
    for datum in ("hub_face", "wheel_centre"):
        corner = measured(demo_car(), "front", datum=datum, camber_deg=-1.5)
        document, ref = put(document, datum, corner)
        refs.append(ref)
    # Camber was told otherwise than it was, so the wheel centre is not where it was measured from.
    shift = math.sin(math.radians(1.5)) * 30.0

    one, other = on_same_axes(document, refs)

    assert one.donor.name == "hub_face"
    for here, there in zip(one.points, other.points, strict=True):
        assert here.at is not None
        assert there.at is not None
        assert here.role == there.role
        assert here.at.z == pytest.approx(there.at.z + shift, abs=1e-9)
        assert here.above_ground == pytest.approx(there.above_ground, abs=1e-9)
        assert here.uncertainty == there.uncertainty == 1.0


def test_heights_are_above_the_ground_that_each_donor_stood_on() -> None:
    """By hand: the demo's hub face stands 282 high, with its lower ball at 185."""
    document, demo = put(empty_car(), "demo", measured(demo_car(), "front", ride_height=150.0))
    second = measured(
        second_car(), "front", hub_height=None, loaded_radius=264.0, tyre_size="165/65R14"
    )
    document, other = put(document, "second", second)

    first, last = on_same_axes(document, [demo, other])

    balls = {point.role: point for point in first.points}
    assert (first.hub_face_height, balls["lower_outer"].above_ground) == (282.0, 185.0)
    assert first.ride_above_hub == pytest.approx(150.0 - 282.0)
    assert last.hub_face_height == 264.0
    # 165 x 0.65 = 107.25, rounded 107; 14 x 25.4 = 355.6 (rule of the size, UN Regulation 30)
    assert (last.rim_diameter, last.free_diameter) == pytest.approx((355.6, 569.6))
    assert (first.rim_diameter, first.free_diameter) == (None, None)


@pytest.mark.parametrize("camber", [-2.0, 0.0, 1.0])
def test_the_lateral_place_of_a_donor_is_that_at_which_it_would_be_carried_over(
    camber: float,
) -> None:
    donor = measured(
        demo_car(), "front", camber_deg=camber, toe_in_deg=0.0, track=1400.0, wheel_offset=41.0,
        hub_height=300.0 + 41.0 * -math.sin(math.radians(camber)),
    )  # fmt: skip
    builder = Builder(donor)
    asked = builder.asks(at=Station(0.0, 700.0), wheel=builder.wheel)
    _, corner = carry_over(builder.document, asked)

    (figures,) = on_same_axes(builder.document, [builder.donor])

    assert figures.hub_face_outboard == pytest.approx(corner.upright.hub_face.y, abs=1e-9)


def test_points_from_the_hub_are_those_that_are_carried_over() -> None:
    builder = Builder(measured(second_car(), "rear"))
    after, corner = carry_over(builder.document, builder.asks(at=HubPlace(-1800.0, 620.0)))

    (figures,) = on_same_axes(builder.document, [builder.donor])

    found = by_role(after, corner)
    for point in figures.points:
        assert point.at is not None
        face = corner.upright.hub_face
        apart = tuple(a - b for a, b in zip(found[point.role], face, strict=True))
        assert apart == pytest.approx(point.at, abs=1e-9)


def test_what_is_not_known_is_left_blank() -> None:
    unknown = measured(
        demo_car(),
        "front",
        datum="wheel_centre",
        wheel_offset=None,
        hub_height=None,
        stood=None,
        facts=(),
    )
    document, ref = put(empty_car(), "half known", unknown)

    figures = on_same_axes(document, [ref])

    (each,) = figures
    assert (each.hub_face_height, each.hub_face_outboard, each.ride_above_hub) == (None,) * 3
    assert all((p.at, p.above_ground, p.uncertainty) == (None,) * 3 for p in each.points)
    (row,) = standing_table(figures).rows
    assert row[:4] == ("half known", "front", "left", "double wishbone")
    assert row[-1] is None
    assert all(cell is None for line in points_table(figures).rows for cell in line[2:])


def test_a_place_of_which_one_number_is_unsure_has_no_stated_error() -> None:
    facts = (
        Fact(of="points.lower_outer.at", source="measured", uncertainty=0.5),
        Fact(of="points.lower_outer.at.z", source="measured", uncertainty=3.0),
        Fact(of="points.upper_outer.at.x", source="measured", uncertainty=0.5),
    )
    document, ref = put(empty_car(), "donor", measured(demo_car(), "front", facts=facts))

    (figures,) = on_same_axes(document, [ref])

    found = {point.role: point.uncertainty for point in figures.points}
    assert (found["lower_outer"], found["upper_outer"]) == (3.0, None)


def test_the_tables_have_a_line_for_each_donor_and_for_each_point_of_each() -> None:
    document, one = put(empty_car(), "one", measured(demo_car(), "front"))
    document, two = put(document, "two", measured(second_car(), "front"))

    figures = on_same_axes(document, [one, two])
    standing, points = standing_table(figures), points_table(figures)

    assert [row[0] for row in standing.rows] == ["one", "two"]
    assert len(points.rows) == sum(len(each.points) for each in figures)
    assert [row[:2] for row in points.rows[:2]] == [
        ("lower inner front", "one"),
        ("lower inner front", "two"),
    ]
    with pytest.raises(EditRefusedError, match="not of the kind meant"):
        on_same_axes(demo_car(), [Ref(demo_car().tyres[0].id)])
