"""How far joints tilt on the demo car, against its own independent check; and what is not known.

The source of the rows: `link_end_tilt` of `reference_results` in tests/cars/demo-car.json, worked
out in numpy by a search over directions; printed to a tenth of a degree.
"""

from typing import Literal

import numpy as np
import pytest

from core.assess.tilts import BestBolt, EndTilt, NoTilt, best_bolts, tilts
from core.document.base import Ref, Vec3
from core.document.steel import CarriedBy, JointKind, LinkEnd
from core.engine.assess import compute
from core.geometry.types import Array
from tests.cars.stored import demo, expected, ref, second
from tests.core.assess.made_corners import Made, made, made_up_wishbones, swinging_arm

TENTH = 5.1e-2
SIDES: tuple[Literal["left", "right"], ...] = ("left", "right")
ENDS = [(end, side) for end in ("front", "rear") for side in SIDES]
FREE = made_up_wishbones()


def rows(end: str) -> dict[str, list[object]]:
    found: dict[str, list[object]] = expected("demo-car")[end]["link_end_tilt"]["rows"]
    return found


def at(end: str, name: str, side: Literal["left", "right"]) -> Ref:
    """A point of the demo car by its name in the rows; the rack's ball has none of its own."""
    document = demo().drawn
    if (end, name) == ("front", "tie_inner"):
        return Ref(document.racks[0].id, side)
    return ref(document, f"{end}_{name}_{side[0].upper()}")


def by_end(end: str, side: Literal["left", "right"]) -> dict[Ref, EndTilt]:
    document = demo().drawn
    found = compute(document, {}, tilts, ref(document, f"{end} corner {side}"))
    assert all(isinstance(each, EndTilt) for each in found)
    return {each.end: each for each in found if isinstance(each, EndTilt)}


def bests(end: str, side: Literal["left", "right"]) -> dict[Ref, BestBolt]:
    document = demo().drawn
    found = compute(document, {}, best_bolts, ref(document, f"{end} corner {side}"))
    return {each.end: each for each in found}


@pytest.mark.parametrize(("end", "side"), ENDS)
def test_every_joint_of_the_demo_car_tilts_as_worked_out_apart(
    end: str, side: Literal["left", "right"]
) -> None:
    found = by_end(end, side)

    assert len(found) == len(rows(end))
    for name, (kind, drawn, *_) in rows(end).items():
        each = found[at(end, name, side)]
        assert each.kind == kind
        assert each.tilt_deg == pytest.approx(drawn, abs=TENTH), name
        assert each.is_whole


@pytest.mark.parametrize(("end", "side"), ENDS)
def test_the_best_that_each_bolt_could_do(end: str, side: Literal["left", "right"]) -> None:
    """Theirs is a search that may stop a little short of the least; ours is exact."""
    found, drawn = bests(end, side), by_end(end, side)

    for name, (_, _, least, *_) in rows(end).items():
        best = found[at(end, name, side)]
        assert isinstance(least, float)
        assert -TENTH < least - best.tilt_deg < 2.0 * TENTH, name
        assert best.tilt_deg <= drawn[best.end].tilt_deg + 1e-9
        assert np.linalg.norm(best.direction) == pytest.approx(1.0)


def test_on_the_right_the_worst_is_with_the_rack_the_other_way() -> None:
    left, right = (by_end("front", side)[at("front", "tie_outer", side)] for side in SIDES)

    assert left.rack != 0.0
    assert (right.tilt_deg, right.bump) == pytest.approx((left.tilt_deg, left.bump), abs=1e-9)
    assert right.rack == pytest.approx(-left.rack)


def test_joints_of_which_nothing_is_entered_say_so() -> None:
    document = second().drawn

    found = compute(document, {}, tilts, ref(document, "front corner right"))

    assert found
    assert all(isinstance(each, NoTilt) and not each.has_joint for each in found)
    assert compute(document, {}, best_bolts, ref(document, "front corner right")) == ()


def joint(kind: JointKind, by: CarriedBy, direction: tuple[float, float, float]) -> LinkEnd:
    return LinkEnd(kind=kind, carried_by=by, direction=Vec3(*direction), tilt_limit_deg=15.0)


def of_end(car: Made, point: str) -> EndTilt | NoTilt:
    found = compute(car.document, {}, tilts, car.corner)
    return next(each for each in found if each.end == car.points[point])


def damper_and_turned_x() -> tuple[Array, Array]:
    """The damper's line and a direction of the upright, drawn along x, seen from the side (13, 2).

    An arm of 350 turned so that the wheel stands at its height; the eye is 20 above its centre.
    """
    turn = np.arcsin(np.linspace(-60.0, 60.0, 13) / 350.0)
    behind = np.stack([-np.cos(turn), np.sin(turn)], axis=-1)
    over = np.stack([np.sin(turn), np.cos(turn)], axis=-1)
    eye = np.array([350.0, 300.0]) + 350.0 * behind + 20.0 * over
    return np.array([0.0, 620.0]) - eye, -behind


def worst_from_square(lines: Array, bolts: Array) -> float:
    sine = np.abs(np.sum(lines * bolts, axis=-1)) / np.linalg.norm(lines, axis=-1)
    return float(np.degrees(np.arcsin(sine)).max())


def tilt_of_eye(point: str, by: CarriedBy, direction: tuple[float, float, float]) -> float:
    car = made(swinging_arm()).with_joint(point, joint("eye", by, direction))
    found = of_end(car, point)
    assert isinstance(found, EndTilt)
    return found.tilt_deg


def test_an_eye_whose_bolt_lies_along_the_hinge_needs_no_tilt() -> None:
    """The damper moves in a plane square to the hinge, and so to the bolt."""
    assert tilt_of_eye("top", "frame", (0.0, 1.0, 0.0)) == pytest.approx(0.0, abs=1e-9)
    assert tilt_of_eye("eye", "upright", (0.0, 1.0, 0.0)) == pytest.approx(0.0, abs=1e-9)


def test_an_eye_whose_bolt_lies_across_the_hinge_takes_all_of_the_swing() -> None:
    line, turned = damper_and_turned_x()
    frame = worst_from_square(line, np.array([1.0, 0.0]))
    upright = worst_from_square(line, turned)

    assert tilt_of_eye("top", "frame", (1.0, 0.0, 0.0)) == pytest.approx(frame, abs=1e-6)
    assert tilt_of_eye("eye", "upright", (1.0, 0.0, 0.0)) == pytest.approx(upright, abs=1e-6)
    assert abs(frame - upright) > 5.0


def test_an_unreached_part_of_the_travel_is_told() -> None:
    car = made(swinging_arm()).with_joint("top", joint("eye", "frame", (0.0, 1.0, 0.0)))
    far = car.changed(car.corner, "bump", 400.0)

    found = of_end(far, "top")

    assert isinstance(found, EndTilt)
    assert not found.is_whole


@pytest.mark.parametrize("kind", ["hinge", "fixed"])
def test_a_joint_that_does_not_tilt_says_so_and_not_that_it_is_missing(kind: JointKind) -> None:
    car = made(FREE).with_joint("upper_outer", joint(kind, "upright", (0.0, 0.0, 1.0)))

    found = of_end(car, "upper_outer")

    assert isinstance(found, NoTilt)
    assert found.has_joint
    assert found.reason == f"a {kind} joint does not tilt"


def test_a_bolt_on_an_arm_that_is_not_there_is_not_taken_for_one_on_the_frame() -> None:
    car = made(swinging_arm()).with_joint("eye", joint("eye", "lower arm", (0.0, 1.0, 0.0)))

    found = of_end(car, "eye")

    assert isinstance(found, NoTilt)
    assert "has no lower arm" in found.reason


def test_a_ball_at_the_inner_end_of_an_arm_tilts_by_its_leg() -> None:
    """The leg swings 60 up and down about a hinge along the car; the ball's stud lies along the
    hinge, so the leg keeps its angle to it: the angle as drawn, whatever the travel."""
    car = made(FREE)
    hinge = np.array([150.0 + 160.0, 330.0 - 340.0, 165.0 - 158.0])
    leg = np.array([8.0 - 150.0, 655.0 - 330.0, 175.0 - 165.0])
    wanted = np.degrees(np.arccos(abs(hinge @ leg) / np.linalg.norm(hinge) / np.linalg.norm(leg)))
    stud = joint("ball", "frame", (float(hinge[0]), float(hinge[1]), float(hinge[2])))

    found = of_end(car.with_joint("lower_front_inner", stud), "lower_front_inner")

    assert isinstance(found, EndTilt)
    assert found.tilt_deg == pytest.approx(wanted, abs=1e-6)


def test_the_ball_that_two_legs_share_is_told_once() -> None:
    found = by_end("front", "left")
    document = demo().drawn
    corner = ref(document, "front corner left")

    assert len(compute(document, {}, tilts, corner)) == len(found)
    assert ref(document, "front_lower_outer_L") in found


def test_a_slanted_joint_of_a_rack_slants_the_other_way_at_its_right_ball() -> None:
    car = made(FREE)
    rack = Ref(car.document.racks[0].id)
    slanted = car.changed(rack, "joint", joint("axial_ball", "rack", (0.3, 0.9, 0.2)))

    left, right = (
        next(
            each.tilt_deg
            for each in compute(slanted.document, {}, tilts, Ref(car.corner.id, side))
            if isinstance(each, EndTilt)
        )
        for side in SIDES
    )

    assert right == pytest.approx(left, abs=1e-9)
    assert left > 10.0


def test_the_joint_at_the_right_ball_of_a_rack_has_the_same_limit() -> None:
    left, right = (by_end("front", side)[at("front", "tie_inner", side)] for side in SIDES)

    assert left.limit_deg == right.limit_deg == 28.0
    assert right.tilt_deg == pytest.approx(left.tilt_deg, abs=1e-9)
