"""What a finding offers does what it says: the finding is gone, or nearer to being so."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from core.assess.places import place
from core.checks.rules import assess_all
from core.document.base import Fact, Ref, Vec3
from core.document.facts import fact_at
from core.document.project import Document
from core.document.rules import check_document
from core.document.steel import Bay, Panel, Point
from core.edits.points import move_point
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.remedies import EDITS, apply_remedy
from core.edits.things import make, thing_of
from core.edits.tubes import draw_tube
from core.edits.unit import HELD_BY_SHAFTS, move_unit, settle_width
from core.edits.values import change, set_fact
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.finding import Finding, Remedy
from tests.core.edits.cars import FILES, TubeCar, demo_car, second_car


@pytest.fixture
def car() -> TubeCar:
    return TubeCar()


def findings(document: Document, rule: str) -> list[Finding]:
    every = assess_all(document, {}, None).findings()
    return [f for f in every if f.rule == rule and f.verdict == "no"]


def only(document: Document, rule: str, edit: str) -> tuple[Finding, Remedy]:
    """The first finding of a rule that offers an edit, and that offer."""
    offers = [(f, r) for f in findings(document, rule) for r in f.remedies if r.edit == edit]
    assert offers, f"nothing offers {edit}"
    return offers[0]


def test_every_edit_that_a_rule_can_offer_is_known() -> None:
    offered: set[str] = set()
    for file in Path(FILES / "core" / "checks").glob("*.py"):
        offered |= set(re.findall(r'Remedy\(\s*"(\w+)"', file.read_text(encoding="utf-8")))

    assert offered == set(EDITS)


@pytest.mark.parametrize("car_of", [demo_car, second_car])
def test_moving_the_engine_as_offered_brings_both_shafts_within_stroke(
    car_of: Callable[[], Document],
) -> None:
    unit = Ref(car_of().power_units[0].id)
    shifted = move_unit(car_of(), unit, Vec3(0.0, 20.0, 0.0))
    _, remedy = only(shifted, "wheel_planes", "move_unit")

    mended = apply_remedy(shifted, remedy)

    assert findings(mended, "wheel_planes") == []
    fact = fact_at(thing_of(mended, unit.id), "one", "origin")
    assert fact is not None
    assert {because.ref.id for because in fact.because} == {car_of().drive_shafts[0].id}
    assert check_document(mended) == []


@pytest.mark.parametrize("outward", [25.0, -25.0])
def test_standing_a_wheel_as_offered_brings_its_plane_within_range(outward: float) -> None:
    car = demo_car()
    corner = Ref(car.corners[-1].id, "left")
    wrong = settle_width(car, corner, outward)
    finding, remedy = only(wrong, "wheel_planes", "settle_width")

    mended = apply_remedy(wrong, remedy)

    left = findings(mended, "wheel_planes")
    assert not left or left[0].shortfall < finding.shortfall
    fact = fact_at(thing_of(mended, corner.id), "left", "upright.hub_face.y")
    assert fact is not None
    assert fact.held == HELD_BY_SHAFTS
    assert {b.ref.id for b in fact.because} >= {
        car.drive_shafts[0].id,
        car.power_units[0].id,
    }


def test_a_joint_off_its_tube_follows_it_as_offered(car: TubeCar) -> None:
    document, mark = make(car.document, Point, "M", at=Vec3(-300.0, 303.0, 104.0), pair=True)
    left = Ref(mark.id, "left")
    passed = change(document, Address(car.rail, "through"), (left,))
    _, remedy = only(passed, "joint_apart", "tie_to_tube")

    mended = apply_remedy(passed, remedy)

    assert findings(mended, "joint_apart") == []
    there = compute(mended, {}, place, left)
    assert there == pytest.approx((-300.0, 300.0, 100.0), abs=1e-6), "the nearest place on it"


def test_a_tube_end_that_only_touches_another_tube_follows_it_as_offered(car: TubeCar) -> None:
    document, near = make(car.document, Point, "N", at=Vec3(-100.0, 285.0, 100.0), pair=True)
    left = Ref(near.id, "left")
    document, _ = draw_tube(document, "brace", car.section, left, car.c, pair=True)
    _, remedy = only(document, "touching", "tie_to_tube")

    mended = apply_remedy(document, remedy)

    point = thing_of(mended, near.id)
    assert isinstance(point, Point)
    assert point.along is not None
    assert point.along.tube == car.rail
    assert len(findings(mended, "touching")) < len(findings(document, "touching"))


def test_two_joints_in_one_place_become_one_as_offered(car: TubeCar) -> None:
    document, twin = make(car.document, Point, "C2", at=Vec3(-600.0, 0.0, 700.0))
    document, _ = draw_tube(document, "brace", car.section, car.a, Ref(twin.id), pair=True)
    _, remedy = only(document, "doubled_joint", "merge_points")

    mended = apply_remedy(document, remedy)

    assert findings(mended, "doubled_joint") == []
    assert len(mended.points) == len(document.points) - 1
    assert check_document(mended) == []


def open_bay(car: TubeCar) -> Document:
    outline = (car.a, car.b, car.b.mirrored(), car.a.mirrored())
    return make(car.document, Bay, "floor", outline=outline, why="no room", closed_by="sheet")[0]


def test_an_open_bay_gets_a_sheet_like_the_others_as_offered(car: TubeCar) -> None:
    outline = (car.a, car.b, car.c)
    fields = {"thickness": 1.2, "material": Ref("material1"), "fixing": "rivets"}
    document, _ = make(open_bay(car), Panel, "side", outline=outline, **fields)
    _, remedy = only(document, "open_bay", "make_panel")

    mended = apply_remedy(document, remedy)

    assert findings(mended, "open_bay") == []
    sheet = mended.panels[-1]
    assert (sheet.thickness, sheet.fixing, sheet.material) == (1.2, "rivets", Ref("material1"))
    assert sheet.facts == (), "its thickness is guessed until the builder says otherwise"


def test_a_car_without_a_sheet_says_that_it_does_not_know_what_to_make_one_of(
    car: TubeCar,
) -> None:
    _, remedy = only(open_bay(car), "open_bay", "make_panel")

    with pytest.raises(EditRefusedError, match="make the first by hand"):
        apply_remedy(open_bay(car), remedy)


def test_a_remedy_does_not_change_what_is_held() -> None:
    car = demo_car()
    unit = Ref(car.power_units[0].id)
    shifted = move_unit(car, unit, Vec3(0.0, 20.0, 0.0))
    held = set_fact(shifted, Address(unit, "origin"), Fact(source="measured"))
    _, remedy = only(held, "wheel_planes", "move_unit")

    with pytest.raises(HeldError, match="it is measured"):
        apply_remedy(held, remedy)


def test_a_remedy_that_no_longer_fits_is_refused_in_words(car: TubeCar) -> None:
    for remedy, words in (
        (Remedy("weld_it", (), "weld it"), "«weld it» must be done by hand"),
        (Remedy("move_unit", (), "move it"), "does not say `ref`"),
        (Remedy("merge_points", (("keep", car.a), ("drop", Ref("point99"))), ""), "point99"),
        (
            Remedy("tie_to_tube", (("ref", car.a), ("tube", car.c)), ""),
            "C is not of the kind meant",
        ),
    ):
        with pytest.raises(EditRefusedError, match=words):
            apply_remedy(car.document, remedy)


def test_a_remedy_is_of_the_document_it_was_found_in(car: TubeCar) -> None:
    """Found before the joint moved, it ties the joint where the tube is nearest now."""
    document, mark = make(car.document, Point, "M", at=Vec3(-300.0, 303.0, 104.0), pair=True)
    left = Ref(mark.id, "left")
    remedy = Remedy("tie_to_tube", (("ref", left), ("tube", car.rail)), "")
    moved = move_point(document, left, Vec3(-200.0, 303.0, 104.0))

    point = thing_of(apply_remedy(moved, remedy), mark.id)

    assert isinstance(point, Point)
    assert point.along is not None
    assert point.along.distance == pytest.approx(200.0)
