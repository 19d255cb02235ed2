"""Joints that are no ends of links: pivots, hinges and the tops of struts; and arms by holders.

By hand: a pivot keeps its place and turns with the upright; a bolt in a hinge is off its line by an
angle that no travel changes; a strut's top is looked at along the strut.
"""

import msgspec
import numpy as np
import pytest

from core.assess.curves import travel_curves
from core.assess.dampers import damper_travel
from core.assess.hanging import hangs
from core.assess.linkages import arms, linkage
from core.assess.tilts import EndTilt, NoTilt, best_bolt, best_bolts, tilts
from core.assess.travels import over_both, over_travel
from core.document.base import Ref, Vec3
from core.document.project import Document
from core.document.steel import CarriedBy, JointKind, LinkEnd
from core.edits.bolts import turn_bolt
from core.edits.values import put_value
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.geometry.types import Array
from core.suspension.solve import solve
from core.suspension.steering import castor_deg
from core.suspension.travel import at
from tests.cars.stored import ref, second
from tests.core.assess.made_corners import (
    Made,
    level_h_arm,
    made,
    made_up_trailing_arm,
    swinging_arm,
)
from tests.core.assess.test_linkages import as_others

ACROSS = (0.0, 1.0, 0.0)
EYES: tuple[JointKind, ...] = ("bush", "eye")


def joint(
    kind: JointKind,
    direction: tuple[float, float, float],
    by: CarriedBy = "frame",
    cup: Vec3 | None = None,
) -> LinkEnd:
    at = Vec3(*direction)
    return LinkEnd(kind=kind, carried_by=by, direction=at, cup_direction=cup, tilt_limit_deg=9.0)


def at_end(car: Made, point: str) -> EndTilt | NoTilt:
    found = compute(car.document, {}, tilts, car.corner)
    return next(each for each in found if each.end == car.points[point])


def tilt(car: Made, point: str) -> float:
    found = at_end(car, point)
    assert isinstance(found, EndTilt)
    return found.tilt_deg


@pytest.mark.parametrize("kind", ["hinge", "bush", "eye", "rod_end"])
@pytest.mark.parametrize("is_own", [True, False])
@pytest.mark.parametrize("point", ["arm_hinge_inner", "arm_hinge_outer"])
def test_a_bolt_in_a_hinge_tilts_by_what_it_is_off_the_line(
    point: str, kind: JointKind, *, is_own: bool
) -> None:
    """The hinge runs straight across; this bolt is off it by atan(1 / 4), whichever way round."""
    car = made(swinging_arm("other" if is_own else "semi_trailing_arm"))

    for way in (1.0, -1.0):
        off = joint(kind, (way * 0.25, way * 1.0, 0.0))
        assert tilt(car.with_joint(point, off), point) == pytest.approx(14.036243467926479)
    assert tilt(car.with_joint(point, joint(kind, ACROSS)), point) == pytest.approx(0.0, abs=1e-6)


def test_the_best_bolt_in_a_hinge_lies_along_it() -> None:
    point = "arm_hinge_outer"
    car = made(swinging_arm()).with_joint(point, joint("hinge", (0.25, 1.0, 0.0)))

    best = compute(car.document, {}, best_bolt, car.corner, car.points[point], "arm hinge")

    assert abs(best.direction.y) == pytest.approx(1.0)
    turned = turn_bolt(car.document, car.points[point], best.direction)
    (point_thing,) = (each for each in turned.points if each.id == car.points[point].id)
    assert next(f.because for f in point_thing.facts if f.because)[0].ref == car.corner


@pytest.mark.parametrize("kind", ["arm_hinge_inner", "arm_hinge_outer"])
def test_a_ball_in_a_hinge_tilts_by_the_swing_of_the_arm(kind: str) -> None:
    """An arm of 350 swings asin(60 / 350) each way; the stud goes with the arm."""
    car = made(swinging_arm()).with_joint(kind, joint("ball", (0.0, 0.0, 1.0), "upright"))

    assert tilt(car, kind) == pytest.approx(np.degrees(np.arcsin(60.0 / 350.0)), abs=1e-6)


@pytest.mark.parametrize("is_own", [True, False])
@pytest.mark.parametrize("kind", ["bush", "eye", "ball"])
def test_the_pivot_of_a_trailing_arm_tilts_as_its_bolt_turns_with_the_arm(
    kind: JointKind, *, is_own: bool
) -> None:
    plan = made_up_trailing_arm("other" if is_own else "trailing_arm_two_lateral_links")
    car, bolt = made(plan), np.array([0.2, 0.97, 0.1])
    poses = compute(car.document, {}, over_both, car.corner)
    drawn = bolt / np.linalg.norm(bolt)
    wanted = np.degrees(np.arccos(np.clip(poses.turned(drawn) @ drawn, -1.0, 1.0))).max()

    found = tilt(car.with_joint("arm_pivot", joint(kind, (0.2, 0.97, 0.1), "frame")), "arm_pivot")

    assert found == pytest.approx(wanted, abs=1e-6)
    assert found > 0.2


def test_a_cup_at_a_pivot_is_where_its_stud_is_looked_at_from() -> None:
    """The stud on the arm, its cup on the frame, 10 degrees off it as drawn."""
    car = made(made_up_trailing_arm())
    cup = Vec3(0.0, float(np.cos(np.radians(10.0))), float(np.sin(np.radians(10.0))))
    poses = compute(car.document, {}, over_both, car.corner)
    stud = poses.turned(np.array(ACROSS))

    found = tilt(car.with_joint("arm_pivot", joint("ball", ACROSS, "upright", cup)), "arm_pivot")

    assert found == pytest.approx(np.degrees(np.arccos(stud @ np.array(cup))).max(), abs=1e-6)


def test_how_a_bush_at_a_pivot_would_lie_best_is_not_said() -> None:
    car = made(made_up_trailing_arm()).with_joint("arm_pivot", joint("bush", ACROSS))

    assert car.points["arm_pivot"] not in {
        each.end for each in compute(car.document, {}, best_bolts, car.corner)
    }
    with pytest.raises(NotComputedError, match="how its bolt would lie best is not worked out"):
        compute(car.document, {}, best_bolt, car.corner, car.points["arm_pivot"], "arm pivot")


def test_a_hinge_at_a_pivot_does_not_tilt() -> None:
    car = made(made_up_trailing_arm()).with_joint("arm_pivot", joint("hinge", ACROSS))

    found = at_end(car, "arm_pivot")

    assert isinstance(found, NoTilt)
    assert found.reason == "a hinge joint does not tilt"


@pytest.mark.parametrize("is_own", [True, False])
def test_the_hinges_of_an_h_arm_are_looked_at_by_their_lines(*, is_own: bool) -> None:
    """Both hinges of this arm run along the car; the bolts are off them by atan(1 / 4)."""
    car = made(level_h_arm("other" if is_own else "upper_link_lower_h_arm"))

    for point in ("lower_inner_front", "lower_inner_rear", "lower_outer_front", "lower_outer_rear"):
        off = car.with_joint(point, joint("hinge", (1.0, 0.0, 0.25)))
        assert tilt(off, point) == pytest.approx(14.036243467926479)


def test_a_ball_between_h_arm_and_upright_is_not_worked_out_and_says_so() -> None:
    car = made(level_h_arm()).with_joint("lower_outer_rear", joint("ball", (0.0, 0.0, 1.0)))

    found = at_end(car, "lower_outer_rear")

    assert isinstance(found, NoTilt)
    assert "between lower arm and the upright is not worked out" in found.reason


def strut_car(kind: JointKind, direction: Vec3, *, is_own: bool) -> tuple[Document, Ref, Ref]:
    """The second car with a joint at the top of its left front strut."""
    document = second().drawn
    corner = ref(document, "front corner left")
    document = as_others(document, corner) if is_own else document
    thing = next(each for each in document.corners if each.id == corner.id)
    top = next(each.point for each in thing.points if each.role == "strut_top")
    at = joint(kind, (direction.x, direction.y, direction.z))
    return put_value(document, Address(top, "joint"), at), corner, top


@pytest.mark.parametrize("is_own", [True, False])
def test_the_top_of_a_strut_tilts_by_the_strut(*, is_own: bool) -> None:
    """From the foot, where the poses put it, to the drawn top; the bush lies straight up."""
    document, corner, top = strut_car("bush", Vec3(0.0, 0.0, 1.0), is_own=is_own)
    poses = compute(document, {}, over_both, corner)
    line = np.array([-25.0, 455.0, 640.0]) - poses.at(foot_of(document, corner))
    wanted = np.degrees(np.arccos(line[..., 2] / np.linalg.norm(line, axis=-1))).max()

    found = next(e for e in compute(document, {}, tilts, corner) if e.end == top)

    assert isinstance(found, EndTilt)
    assert found.tilt_deg == pytest.approx(wanted, abs=1e-6)


def test_the_damper_of_a_strut_has_its_joint_at_the_top_alone() -> None:
    document, corner, top = strut_car("bush", Vec3(0.0, 0.0, 1.0), is_own=False)

    ends = [each for each in compute(document, {}, tilts, corner) if each.end == top]

    assert [each.link for each in ends] == ["strut"]


def test_a_bush_across_a_strut_is_an_eye() -> None:
    tilts_of = [
        next(e for e in compute(document, {}, tilts, corner) if e.end == top)
        for document, corner, top in (
            strut_car(kind, Vec3(1.0, 0.0, 0.0), is_own=False) for kind in EYES
        )
    ]

    one, other = (each.tilt_deg for each in tilts_of if isinstance(each, EndTilt))
    assert one == other


def test_the_eye_of_a_strut_tilts_by_what_the_strut_is_off_square_to_its_bolt() -> None:
    document, corner, top = strut_car("eye", Vec3(1.0, 0.0, 0.0), is_own=False)
    poses = compute(document, {}, over_both, corner)
    line = np.array([-25.0, 455.0, 640.0]) - poses.at(foot_of(document, corner))
    wanted = np.degrees(np.arcsin(np.abs(line[..., 0]) / np.linalg.norm(line, axis=-1))).max()

    found = next(e for e in compute(document, {}, tilts, corner) if e.end == top)

    assert isinstance(found, EndTilt)
    assert found.tilt_deg == pytest.approx(wanted, abs=1e-6)


def foot_of(document: Document, corner: Ref) -> Array:
    thing = next(each for each in document.corners if each.id == corner.id)
    foot = next(each.point for each in thing.points if each.role == "strut_lower")
    at = next(each.at for each in document.points if each.id == foot.id)
    return np.array(at)


def test_a_pivot_whose_tilt_ends_stops_a_hanging_wheel() -> None:
    """The stud is along the car; 10 degrees allowed: the arm hangs where it is 10 off as drawn."""
    end = LinkEnd(
        kind="ball", carried_by="upright", direction=Vec3(1.0, 0.0, 0.0), tilt_limit_deg=10.0
    )
    car = made(made_up_trailing_arm()).with_joint("arm_pivot", end)

    found = compute(car.document, {}, hangs, car.corner)

    assert found.joint == car.points["arm_pivot"]
    hanging = solve(compute(car.document, {}, linkage, car.corner), at(-found.droop))
    assert np.degrees(np.arccos(float(hanging.turned(np.array([1.0, 0.0, 0.0]))[0]))) == (
        pytest.approx(10.0, abs=1e-4)
    )


def test_an_h_arm_of_ones_own_carries_the_damper_as_one_by_role_does() -> None:
    by_role = made(level_h_arm())
    own = made(level_h_arm("other"))
    damper = by_role.document.corners[0].damper
    assert damper is not None
    moved = msgspec.structs.replace(damper, lower=own.points["eye"], upper=own.points["top"])
    own = own.changed(own.corner, "damper", moved)

    one, other = (compute(car.document, {}, damper_travel, car.corner) for car in (by_role, own))

    (arm,) = compute(own.document, {}, arms, own.corner)
    assert arm.name == "lower arm"
    assert (other.shortest, other.longest) == pytest.approx((one.shortest, one.longest), abs=1e-9)
    assert other.longest - other.shortest > 20.0


def test_a_strut_of_ones_own_has_the_castor_of_one_by_role() -> None:
    document = second().drawn
    corner = ref(document, "front corner left")

    one, other = (
        compute(each, {}, over_travel, corner) for each in (document, as_others(document, corner))
    )

    assert castor_deg(other) == pytest.approx(castor_deg(one), abs=1e-9)
    assert "castor" in compute(as_others(document, corner), {}, travel_curves, corner).keys
    assert (
        "castor"
        not in compute(
            made(level_h_arm("other")).document,
            {},
            travel_curves,
            made(level_h_arm("other")).corner,
        ).keys
    )
