"""How far a corner is asked to go, how far its links let it, and which axle it is on."""

import msgspec
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.assess.curves import travel_curves
from core.assess.linkages import linkage
from core.assess.pairs import axle_at, corners_of, is_on_rigid_axle
from core.assess.travels import (
    corner_at,
    ends_of_travel,
    heights,
    over_both,
    over_steer,
    over_travel,
    rack_of,
    used_rack,
)
from core.document.base import Ref
from core.document.running_gear import Axle
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.suspension.solve import solve
from core.suspension.travel import at
from core.suspension.wheel import contact, toe_in_deg
from tests.cars.stored import demo, empty, ref, second
from tests.core.assess.made_corners import ARM, Made, made, made_up_wishbones, swinging_arm


def rack_in(car: Made) -> Ref:
    return Ref(car.document.racks[0].id)


FAR = st.just(0.0) | st.floats(0.1, 200.0)


@given(FAR, FAR, st.integers(1, 20))
def test_a_travel_runs_from_droop_to_bump_with_the_design_among_it(
    droop: float, bump: float, each_way: int
) -> None:
    corner = made_up().document.corners[0]
    found = heights(msgspec.structs.replace(corner, droop=droop, bump=bump), "it", each_way)

    assert (float(found[0]), float(found[-1])) == (-droop, bump)
    assert float(np.abs(found).min()) == 0.0
    assert (np.diff(found) > 0.0).all()
    assert len(found) == 1 + each_way * ((droop > 0.0) + (bump > 0.0))


CAR = made(made_up_wishbones())


def made_up() -> Made:
    return CAR


@pytest.mark.parametrize(("end", "words"), [("droop", "droops"), ("bump", "bumps")])
def test_an_end_of_the_travel_that_is_not_given_is_asked_for(end: str, words: str) -> None:
    less = CAR.changed(CAR.corner, end, None)

    with pytest.raises(NotComputedError, match=f"how far the wheel of corner right {words} is not"):
        compute(less.document, {}, over_travel, CAR.corner.mirrored())


def test_droop_goes_down_and_bump_goes_up() -> None:
    car = CAR.changed(CAR.corner, "droop", 40.0).changed(CAR.corner, "bump", 80.0)

    poses = compute(car.document, {}, over_travel, car.corner)

    assert poses.centre[[0, -1], 2].tolist() == pytest.approx([250.0, 370.0], abs=1e-9)


def test_the_rack_of_a_corner_is_that_of_its_rod() -> None:
    assert compute(CAR.document, {}, rack_of, CAR.corner) == rack_in(CAR)
    assert compute(CAR.document, {}, rack_of, CAR.corner.mirrored()) == rack_in(CAR)
    document = demo().drawn
    assert compute(document, {}, rack_of, ref(document, "rear corner left")) is None


@pytest.mark.parametrize(
    ("used", "total", "wanted"), [(55.0, 150.0, 55.0), (None, 150.0, 75.0), (55.0, None, 55.0)]
)
def test_the_travel_of_a_rack_is_what_is_used_else_half_of_all(
    used: float | None, total: float | None, wanted: float
) -> None:
    car = CAR.changed(rack_in(CAR), "used_each_way", used)
    car = car.changed(rack_in(CAR), "total_travel", total)

    assert compute(car.document, {}, used_rack, CAR.corner) == wanted


def test_a_rack_whose_travel_is_not_given_is_asked_for_it_and_the_bump_goes_on() -> None:
    car = CAR.changed(rack_in(CAR), "used_each_way", None)

    with pytest.raises(NotComputedError, match="how far rack goes each way is not known"):
        compute(car.document, {}, over_steer, CAR.corner)
    assert compute(car.document, {}, over_travel, CAR.corner).is_reached.all()


def test_a_corner_that_nothing_steers_goes_no_way_by_rack() -> None:
    document = demo().drawn
    rear = ref(document, "rear corner right")

    assert compute(document, {}, used_rack, rear) == 0.0
    assert compute(document, {}, over_both, rear).shape == (13, 1)
    steered = compute(document, {}, corner_at, rear, 20.0, 0.0, 50.0)
    straight = compute(document, {}, corner_at, rear, 20.0, 0.0, 0.0)
    assert steered.centre == pytest.approx(straight.centre, abs=1e-12)


def test_the_rack_turns_its_wheel_where_the_car_is_shown_moved() -> None:
    poses = compute(CAR.document, {}, over_steer, CAR.corner)
    alone = compute(CAR.document, {}, corner_at, CAR.corner, 0.0, 0.0, 60.0)

    assert poses.travel.rack[[0, 20, 40]].tolist() == [-60.0, 0.0, 60.0]
    assert toe_in_deg(alone) == pytest.approx(toe_in_deg(poses)[-1], abs=1e-9)
    assert abs(float(toe_in_deg(alone))) > 15.0


def test_travel_and_steer_together_meet_both_curves_in_the_middle() -> None:
    both = compute(CAR.document, {}, over_both, CAR.corner)
    travel = compute(CAR.document, {}, over_travel, CAR.corner)
    steer = compute(CAR.document, {}, over_steer, CAR.corner)

    assert both.shape == (13, 9)
    ends = [0, 20, 40]
    assert both.centre[[0, 6, 12], 4] == pytest.approx(travel.centre[ends], abs=1e-9)
    assert both.centre[6, [0, 4, 8]] == pytest.approx(steer.centre[ends], abs=1e-9)


@pytest.mark.parametrize("roll", [-2.0, 1.5])
def test_a_rolled_body_keeps_both_tyres_on_the_road(roll: float) -> None:
    """The road turns under the body about the place of the ground on the centre plane."""
    away = []
    for corner in (CAR.corner, CAR.corner.mirrored()):
        design = contact(compute(CAR.document, {}, corner_at, corner, 0.0, 0.0, 0.0))
        poses = compute(CAR.document, {}, corner_at, corner, 0.0, roll, 0.0)
        up = np.array([0.0, np.sin(np.radians(roll)), np.cos(np.radians(roll))])
        spin = poses.spin - (poses.spin @ up) * up
        down = -up + (poses.spin @ up) * poses.spin
        lowest = poses.centre + 290.0 * down / np.linalg.norm(down)
        assert np.linalg.norm(spin) > 0.9
        away.append(float((lowest - np.array([0.0, 0.0, design[2]])) @ up))

    assert away == pytest.approx([0.0, 0.0], abs=1e-9)


def test_an_arm_locks_where_it_points_straight_up_and_down() -> None:
    car = made(swinging_arm()).changed(made(swinging_arm()).corner, "bump", 330.0)

    ends = compute(car.document, {}, ends_of_travel, car.corner)

    assert (ends.droop.is_lock, ends.bump.is_lock) == (True, True)
    assert ends.droop.travel == pytest.approx(-ARM, abs=2e-3)
    assert ends.bump.travel == pytest.approx(ARM, abs=2e-3)
    assert (ends.right, ends.left) == (None, None)


def test_ends_are_looked_for_beyond_what_is_used_and_no_further() -> None:
    ends = compute(CAR.document, {}, ends_of_travel, CAR.corner)

    assert ends.right is not None
    assert ends.left is not None
    assert (ends.droop.travel, ends.bump.travel) == (-100.0, 100.0)
    assert not ends.bump.is_lock
    assert ends.right.travel < -60.0
    assert ends.left.travel > 60.0


def test_a_corner_that_is_not_held_has_no_ends_and_says_why() -> None:
    car = CAR.changed(CAR.corner, "links", CAR.document.corners[0].links[:4])

    for asked in (ends_of_travel, over_travel, over_both, travel_curves):
        with pytest.raises(NotComputedError, match="corner left is not held: 4 conditions hold"):
            compute(car.document, {}, asked, CAR.corner)


def test_a_corner_of_an_axle_with_links_is_on_a_rigid_axle() -> None:
    rigid = CAR.changed(CAR.axle, "links", CAR.document.corners[0].links[:1])
    by_kind = CAR.changed(CAR.corner, "linkage", "rigid_axle")

    asked = [
        compute(each.document, {}, is_on_rigid_axle, CAR.corner) for each in (CAR, rigid, by_kind)
    ]

    assert asked == [False, True, True]


def test_corners_of_an_axle_left_before_right() -> None:
    document = second().drawn

    found = compute(document, {}, corners_of, ref(document, "rear axle"))

    assert found == tuple(ref(document, f"rear corner {side}") for side in ("left", "right"))


def test_the_axle_at_an_end_is_the_only_one_there() -> None:
    assert compute(CAR.document, {}, axle_at, "front") == CAR.axle
    with pytest.raises(NotComputedError, match="there is no rear axle"):
        compute(CAR.document, {}, axle_at, "rear")
    with pytest.raises(NotComputedError, match="there is no front axle"):
        compute(empty(), {}, axle_at, "front")
    twice = msgspec.structs.replace(
        CAR.document, axles=(*CAR.document.axles, Axle(id="axle99", name="another", end="front"))
    )
    with pytest.raises(NotComputedError, match="there are several front axles"):
        compute(twice, {}, axle_at, "front")


def test_poses_are_those_of_the_room_for_the_same_heights() -> None:
    poses = compute(CAR.document, {}, over_travel, CAR.corner)
    held = compute(CAR.document, {}, linkage, CAR.corner)

    assert poses.centre == pytest.approx(solve(held, at(poses.travel.bump)).centre, abs=1e-12)
