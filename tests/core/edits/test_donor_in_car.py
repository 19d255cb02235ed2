"""What else stands in the car when a donor's corner is carried over, and what is refused."""

import pytest

from core.checks.rules import RULES
from core.document.base import Ref, Vec3
from core.document.codec import decode_project, encode_project
from core.document.donors import DonorCorner, DonorPoint
from core.document.project import KINDS, Document, Project
from core.document.rules import check_document
from core.document.running_gear import Corner, Tyre
from core.document.steel import Point
from core.edits.donor import CarryOver, HubPlace, Station, carry_over
from core.edits.refusals import EditRefusedError
from core.edits.things import delete, duplicate, make, mirror, rename, thing_of
from core.engine.assess import assess
from tests.core.edits.cars import TubeCar, demo_car, demo_meshes, empty_car, second_car
from tests.core.edits.donors import (
    Builder,
    by_role,
    measured,
)

CARS = {"demo": demo_car, "second": second_car}


def carried(builder: Builder, **changes: object) -> tuple[Document, Corner]:
    after, corner = carry_over(builder.document, builder.asks(**changes))
    assert check_document(after) == []
    return after, corner


def of_name(car: str) -> Document:
    if car in CARS:
        return CARS[car]()
    return TubeCar().document if car == "tubes" else empty_car()


@pytest.mark.parametrize("car", ["empty", "tubes", "demo", "second"])
@pytest.mark.parametrize("end", ["front", "rear"])
def test_all_else_of_a_car_is_left_the_very_same(car: str, end: str) -> None:
    document = of_name(car)
    for corner in document.corners:
        document = delete(document, corner.id, with_dependents=True)
    donor = measured(second_car() if car == "demo" else demo_car(), end)
    builder = Builder(donor, document)

    after, corner = carried(builder, end=end)

    for field in KINDS:
        olds, news = getattr(builder.document, field), getattr(after, field)
        assert all(a is b for a, b in zip(olds, news, strict=False))
        if field not in ("points", "corners", "axles"):
            assert news is olds
    project = Project(drawn=after)
    assert decode_project(encode_project(project)) == project
    findings = assess(after, demo_meshes(), None, RULES).findings()
    assert all(finding.sentence for finding in findings)


def test_a_donor_is_renamed_and_copied_and_what_came_from_it_still_names_it() -> None:
    builder = Builder(measured(demo_car(), "front"))
    after, corner = carried(builder)

    after = rename(rename(after, builder.donor.id, "scrap"), corner.id, "mine")
    after, copy = duplicate(after, builder.donor.id, "second scrap")

    assert thing_of(after, builder.donor.id).name == "scrap"
    assert isinstance(copy, DonorCorner)
    assert thing_of(after, corner.id).facts[0].because[0].ref == builder.donor
    with pytest.raises(EditRefusedError, match="no left and right one"):
        mirror(after, builder.donor.id)


def test_a_donor_that_something_came_from_goes_only_with_what_names_it_let_go() -> None:
    builder = Builder(measured(demo_car(), "front"))
    after, corner = carried(builder)
    with pytest.raises(EditRefusedError, match="parts car is used by new corner"):
        delete(after, builder.donor.id)

    gone = delete(after, builder.donor.id, with_dependents=True)

    assert gone.donor_corners == ()
    assert len(gone.points) == len(after.points)
    assert by_role(gone, corner) == by_role(after, corner)
    assert all(b.ref != builder.donor for p in gone.points for f in p.facts for b in f.because)


def test_a_corner_carried_over_can_be_removed_and_carried_over_again() -> None:
    builder = Builder(measured(demo_car(), "front"))
    after, corner = carried(builder)
    with pytest.raises(EditRefusedError, match="has new corner left there already; remove it"):
        carry_over(after, builder.asks(name="again"))

    bare = delete(after, corner.id, with_dependents=True)
    again, other = carry_over(bare, builder.asks(name="again"))

    assert other.id != corner.id
    assert check_document(again) == []


def test_two_sides_of_one_end_come_from_two_donors() -> None:
    builder = Builder(measured(demo_car(), "front"))
    after, _ = carried(builder, side="left", name="one")

    with pytest.raises(EditRefusedError, match="the front end has one there already"):
        carry_over(after, builder.asks(side="left", name="two"))
    both, other = carry_over(after, builder.asks(side="right", name="two"))

    assert other.upright.hub_face.y == -700.0
    assert check_document(both) == []


def test_a_name_that_is_taken_is_numbered_for_a_point_and_refused_for_a_corner() -> None:
    builder = Builder(measured(demo_car(), "front"))
    builder.document, _ = make(
        builder.document, Point, "new corner lower outer", at=Vec3(1.0, 2.0, 3.0)
    )

    after, corner = carried(builder)

    assert "new corner lower outer 2" in {point.name for point in after.points}
    with pytest.raises(EditRefusedError, match="are called «new corner»"):
        carry_over(after, builder.asks(end="rear"))
    with pytest.raises(EditRefusedError, match="1 to 80 printable"):
        carry_over(builder.document, builder.asks(name="x" * 81))
    assert corner.name == "new corner"


def lacking(builder: Builder, what: str) -> CarryOver:
    """What is asked for, with something lacking."""
    builder.document, tyre = make(builder.document, Tyre, "unmeasured", size="185/60R14")
    changes: dict[str, dict[str, object]] = {
        "tyre": {"tyre": None},
        "radius": {"tyre": Ref(tyre.id)},
        "wheel": {"at": Station(0.0, 700.0)},
        "outboard": {"at": HubPlace(0.0, -700.0)},
        "half track": {"at": Station(0.0, 0.0), "wheel": builder.wheel},
        "donor": {"donor": builder.tyre},
    }
    return builder.asks(**changes.get(what, {}))


REFUSED = [
    ("tyre", {}, "and none is named; make that tyre first"),
    ("radius", {}, "loaded radius of unmeasured is not known; measure it"),
    ("wheel", {}, "no wheel is named whose offset tells how far the hub face is"),
    ("outboard", {}, "counted outboard of the centre plane on either side, so not -700"),
    ("half track", {}, "counted outboard of the centre plane on either side, so not 0"),
    ("donor", {}, "new tyre is not of the kind meant, but a tyre"),
    ("points", {"points": (), "links": ()}, "parts car has no points yet; measure them"),
    ("offset", {"datum": "wheel_centre", "wheel_offset": None}, "offset of its wheel, which"),
    ("axle", {"linkage": "rigid_axle"}, "not carried over by its corners"),
]


@pytest.mark.parametrize(("what", "fields", "words"), REFUSED, ids=[row[0] for row in REFUSED])
def test_what_it_needs_and_has_not_got_is_said(
    what: str, fields: dict[str, object], words: str
) -> None:
    builder = Builder(measured(demo_car(), "front", **fields))
    asked = lacking(builder, what)
    before = builder.document

    with pytest.raises(EditRefusedError, match=words):
        carry_over(before, asked)


def test_a_donor_that_is_only_points_makes_a_corner_without_links() -> None:
    point = DonorPoint(role="lower_outer", at=Vec3(0.0, -40.0, -100.0), on="upright")
    builder = Builder(measured(demo_car(), "front", points=(point,), links=()))

    _, corner = carried(builder)

    assert (corner.links, corner.damper) == ((), None)
    assert [role.role for role in corner.points] == ["lower_outer"]
