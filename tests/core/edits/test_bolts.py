"""Turning a bolt or cup keeps holds, sides and reasons."""

import math
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.assess.tilts import EndTilt, best_bolt, best_bolts, tilts
from core.document.base import Fact, Ref, Vec3
from core.document.codec import read_project
from core.document.facts import fact_at
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.sides import on_side
from core.document.steel import Point
from core.edits.bolts import WHY, bolt_of, turn_bolt
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.values import hold, set_fact
from core.engine.address import Address
from core.engine.assess import compute

DEMO = Path(__file__).parents[3] / "assets" / "demo-car.jigplate"
CORNER = Ref("corner2", "left")


@pytest.fixture(scope="module")
def demo() -> Document:
    return read_project(DEMO).drawn


def point(document: Document, name: str, side: str = "left") -> Ref:
    found = next(p for p in document.points if p.name.startswith(name))
    return Ref(found.id, "right" if side == "right" else "left")


def joint(document: Document, ref: Ref) -> Point:
    thing = Lookup(document).by_id[ref.id]
    assert isinstance(thing, Point)
    return on_side(thing, ref.side)


def tilt(document: Document, end: Ref) -> float:
    found = compute(document, {}, tilts, CORNER)
    return next(t.tilt_deg for t in found if t.end == end and isinstance(t, EndTilt))


def test_a_bolt_turned_as_it_is_offered_tilts_no_more_than_was_said(demo: Document) -> None:
    end = point(demo, "rear_lower_radius_inner")
    best = compute(demo, {}, best_bolt, CORNER, end, "lower_radius")
    assert tilt(demo, end) > 5.0

    after = turn_bolt(demo, end, best.direction)

    assert tilt(after, end) == pytest.approx(best.tilt_deg, abs=0.01)


def test_one_joint_asked_alone_gives_what_all_together_give(demo: Document) -> None:
    for each in compute(demo, {}, best_bolts, CORNER):
        assert compute(demo, {}, best_bolt, CORNER, each.end, each.link) == each


def test_the_other_side_turns_as_its_mirror_image(demo: Document) -> None:
    end = point(demo, "rear_lower_radius_inner")

    after = turn_bolt(demo, end, Vec3(0.1, 0.9, -0.2))

    left, right = joint(after, end).joint, joint(after, end.mirrored()).joint
    assert left is not None
    assert right is not None
    assert left.direction == (0.1, 0.9, -0.2)
    assert right.direction == (0.1, -0.9, -0.2)


def test_the_corner_is_kept_as_the_reason(demo: Document) -> None:
    end = point(demo, "rear_lower_radius_inner")

    after = turn_bolt(demo, end, Vec3(0.0, 1.0, 0.1))

    fact = fact_at(joint(after, end), "left", "joint.direction")
    assert fact is not None
    assert [(b.ref, b.words) for b in fact.because] == [(CORNER, WHY)]


def test_of_a_ball_the_cup_turns_and_the_stud_stays(demo: Document) -> None:
    end = point(demo, "front_upper_outer")
    before = joint(demo, end).joint
    assert before is not None
    assert bolt_of(demo, end) == Address(end, "joint.cup_direction")

    after = turn_bolt(demo, end, Vec3(0.0, 0.1, 1.0)).points
    now = next(p for p in after if p.id == end.id).joint

    assert now is not None
    assert now.cup_direction == (0.0, 0.1, 1.0)
    assert now.direction == before.direction


def test_what_is_held_or_in_hand_is_not_turned(demo: Document) -> None:
    end = point(demo, "rear_lower_radius_inner")
    held = hold(demo, Address(end, "joint.direction"), "the bracket is welded")
    in_hand = set_fact(demo, Address(end, "joint"), Fact(source="in_hand"))

    for document, why in ((held, "the bracket is welded"), (in_hand, "in hand")):
        with pytest.raises(HeldError, match=why):
            turn_bolt(document, end, Vec3(0.0, 1.0, 0.1))


def test_it_is_refused_where_there_is_no_joint_or_no_direction(demo: Document) -> None:
    bare = next(p for p in demo.points if p.joint is None and p.pair)
    with pytest.raises(EditRefusedError, match="no joint is entered"):
        turn_bolt(demo, Ref(bare.id, "left"), Vec3(1.0, 0.0, 0.0))
    end = point(demo, "rear_lower_radius_inner")
    with pytest.raises(EditRefusedError):
        turn_bolt(demo, end, Vec3(0.0, 0.0, 0.0))


@settings(max_examples=25, deadline=None)
@given(st.tuples(*[st.floats(-1, 1)] * 3).filter(lambda v: math.hypot(*v) > 0.1))
def test_all_else_is_shared(demo: Document, to: tuple[float, float, float]) -> None:
    end = point(demo, "rear_toe_inner")

    after = turn_bolt(demo, end, Vec3(*to))

    assert [p.id for p in after.points if p not in demo.points] in ([end.id], [])
    assert after.corners is demo.corners
    assert after.tubes is demo.tubes
