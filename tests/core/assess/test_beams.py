"""Rigid axles of a document: against the room's own axle, and against closed forms.

The room is held against other methods in tests/core/suspension; here, that the document reaches it.
"""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.assess.axles import ground, roll_centre, track
from core.assess.bars import roll_stiffness
from core.assess.beam_motion import over_heave, over_roll, slopes_of, travel_of_axle
from core.assess.beams import held_wheel, rigid_axle
from core.assess.curves import QUANTITIES, travel_curves
from core.assess.dampers import damper_at_design, damper_travel
from core.assess.hanging import hangs
from core.assess.linkages import arms, linkage
from core.assess.pairs import is_on_rigid_axle, is_rigid
from core.assess.spring_lengths import damper_over_travel
from core.assess.springs import rates_in_roll
from core.assess.travels import corner_at, ends_of_travel, over_both, over_steer, over_travel
from core.document.base import Ref, Vec3
from core.document.project import Document
from core.document.running_gear import Axle
from core.engine.assess import compute
from core.engine.cells import Cell, NotComputedError
from core.suspension.constraints import Held
from core.suspension.damper import DamperAtDesign, damper_length
from core.suspension.rigid_axle import RigidAxle
from core.suspension.rigid_axle_read import (
    axle_steer_deg,
    lateral_shift,
    nose_up_deg,
    roll_centre_height,
    roll_steer_slope,
)
from core.suspension.rigid_axle_solve import solve_axle
from core.suspension.rigid_axle_springs import axle_rates
from core.suspension.rigid_axle_travel import axle_on_road, heave_and_roll, wheels_at
from core.suspension.rigid_axle_wheel import AxleWheelPoses
from core.suspension.wheel import camber_to_road_deg, contact, toe_in_deg
from core.workshop.figures import figures
from tests.cars.stored import demo, empty, second
from tests.core.assess.made_axles import EYE, TOP, made_axle
from tests.core.assess.made_corners import Made, made, made_up_wishbones
from tests.core.suspension.axles import (
    BALL,
    LINK,
    PANHARD,
    axle,
    kinds,
    shaken,
    three_parallel,
    triangulated,
)

DRAWN = {name: drawn for name, drawn in kinds().items() if name != "Watt"}
NAMES = tuple(DRAWN)
CARS = {name: made_axle(drawn) for name, drawn in DRAWN.items()}
PARALLEL = "three links and Panhard rod"
SIDES = ("left", "right")


def corner_of(car: Made, side: str) -> Ref:
    return car.corner if side == "left" else car.corner.mirrored()


def seen(car: Made, side: str, cell: Cell[[Ref], object] = over_travel) -> AxleWheelPoses:
    poses = compute(car.document, {}, cell, corner_of(car, side))
    assert isinstance(poses, AxleWheelPoses)
    return poses


@pytest.mark.parametrize("name", NAMES)
def test_the_document_holds_the_axle_as_it_is_drawn(name: str) -> None:
    heaves, rolls = np.array([-50.0, 20.0, 60.0]), np.array([-2.0, 3.0, 1.0])

    found = compute(CARS[name].document, {}, rigid_axle, CARS[name].axle)

    poses, wanted = (
        solve_axle(each, heave_and_roll(each, heaves, rolls)) for each in (found, DRAWN[name])
    )
    assert poses.centre == pytest.approx(wanted.centre, abs=1e-9)
    assert poses.rotation == pytest.approx(wanted.rotation, abs=1e-12)


@pytest.mark.parametrize("name", NAMES)
def test_both_wheels_rise_alike_over_travel(name: str) -> None:
    heights = np.concatenate([np.linspace(-60.0, 0.0, 20, endpoint=False), np.linspace(0, 60, 21)])
    wanted = solve_axle(DRAWN[name], wheels_at(heights, heights))

    for side in ("left", "right"):
        poses = seen(CARS[name], side)
        assert poses.centre == pytest.approx(wanted.wheel(side).centre, abs=1e-9)
        assert poses.others_height == pytest.approx(heights, abs=1e-7)
        assert poses.per_bump.velocity == pytest.approx(wanted.wheel(side).per_bump.velocity)


def test_for_gaps_and_joints_each_wheel_goes_everywhere_while_the_other_does() -> None:
    car = CARS["triangulated"].changed(CARS["triangulated"].corner, "bump", 90.0)

    poses = seen(car, "right", over_both)

    assert poses.shape == (13, 13)
    rise = (poses.centre - poses.linkage.centre)[..., 2]
    assert rise[:, 3] == pytest.approx(rise[:, 9], abs=1e-7)
    assert poses.others_height[3] == pytest.approx(poses.others_height[9], abs=1e-7)
    assert rise[[0, 6, 12], 0] == pytest.approx([-60.0, 0.0, 90.0], abs=1e-7)
    assert poses.others_height[0, [0, 6, 12]] == pytest.approx([-60.0, 0.0, 90.0], abs=1e-7)


@pytest.mark.parametrize("name", NAMES)
def test_in_roll_both_tyres_stand_on_the_one_road(name: str) -> None:
    wanted = solve_axle(DRAWN[name], axle_on_road(2.5, 15.0))

    for side in ("left", "right"):
        at = corner_of(CARS[name], side), 15.0, 2.5, 0.0
        poses = compute(CARS[name].document, {}, corner_at, *at)
        assert poses.centre == pytest.approx(wanted.wheel(side).centre, abs=1e-9)
        assert float(camber_to_road_deg(poses)) == pytest.approx(0.0, abs=1e-9)
        assert float(contact(poses)[2]) != pytest.approx(15.0, abs=5.0)


def test_a_panhard_rod_draws_the_axle_aside_as_the_circle_about_its_end_does() -> None:
    """Three level parallel links and a level rod of 900: with s aside and a ahead, the rod keeps
    900^2 = (900 - s)^2 + h^2 + a^2, and each link 450^2 = (450 - a)^2 + h^2 + s^2."""
    found = compute(CARS[PARALLEL].document, {}, over_heave, CARS[PARALLEL].axle)

    height, aside, ahead = found.along, found.aside, found.ahead
    assert aside == pytest.approx(900.0 - np.sqrt(900.0**2 - height**2 - ahead**2), abs=1e-8)
    assert ahead == pytest.approx(LINK - np.sqrt(LINK**2 - height**2 - aside**2), abs=1e-8)
    assert found.nose_up_deg == pytest.approx(np.zeros(41), abs=1e-9)
    assert found.steer_deg == pytest.approx(np.zeros(41), abs=1e-9)
    assert float(np.abs(aside).max()) > 2.0


def test_the_roll_centre_of_a_panhard_rod_is_where_it_crosses_the_centre_plane() -> None:
    """Common construction, as in W. F. Milliken, D. L. Milliken, Race Car Vehicle Dynamics, SAE
    1995, chapter 17 (from memory); the rod is level, and so are the links."""
    document, ref = CARS[PARALLEL].document, CARS[PARALLEL].axle

    assert compute(document, {}, roll_centre, ref) == pytest.approx((0.0, PANHARD.outer[2]))
    assert compute(document, {}, ground, ref) == pytest.approx(0.0, abs=1e-9)
    assert compute(document, {}, track, ref) == pytest.approx(1400.0)


def test_a_torque_tube_winds_up_and_steers_as_the_line_through_ball_and_rod_says() -> None:
    """It turns about the ball as it rises, and in roll about the line from the ball to where the
    rod crosses the centre plane: T. D. Gillespie, Fundamentals of Vehicle Dynamics, SAE 1992,
    chapter 7 (from memory)."""
    car = CARS["torque tube"]
    found = compute(car.document, {}, slopes_of, car.axle)

    ahead = BALL[0] - PANHARD.outer[0]
    assert found.wind_up == pytest.approx(-np.degrees(1.0 / 900.0), abs=1e-12)
    assert found.roll_steer == pytest.approx((PANHARD.outer[2] - BALL[2]) / ahead, abs=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_motions_of_the_axle_are_those_of_the_room(name: str) -> None:
    car, drawn = CARS[name], DRAWN[name]
    heaved, rolled = (compute(car.document, {}, cell, car.axle) for cell in (over_heave, over_roll))
    slopes = compute(car.document, {}, slopes_of, car.axle)

    rise = solve_axle(drawn, wheels_at(heaved.along, heaved.along))
    assert heaved.nose_up_deg == pytest.approx(nose_up_deg(rise), abs=1e-9)
    assert heaved.aside == pytest.approx(lateral_shift(rise), abs=1e-9)
    roll = solve_axle(drawn, heave_and_roll(drawn, roll_deg=rolled.along))
    assert rolled.steer_deg == pytest.approx(axle_steer_deg(roll), abs=1e-9)
    most = np.degrees(np.arcsin(120.0 / 1400.0))
    assert rolled.along[[0, -1]] == pytest.approx([-most, most])
    at_design = solve_axle(drawn, wheels_at())
    assert slopes.roll_steer == pytest.approx(float(roll_steer_slope(at_design)), abs=1e-12)


def test_curves_of_a_wheel_have_the_roll_centre_of_its_axle_and_no_steering_axis() -> None:
    car, drawn = CARS["triangulated"], DRAWN["triangulated"]

    curves = compute(car.document, {}, travel_curves, car.corner)

    poses = solve_axle(drawn, wheels_at(curves.along, curves.along))
    assert curves.of("roll_centre") == pytest.approx(roll_centre_height(poses), abs=1e-8)
    assert curves.of("camber") == pytest.approx(np.zeros(41), abs=1e-9)
    assert curves.of("damper_ratio")[20] == pytest.approx(1.0, abs=0.05)
    needing = {key for key, each in QUANTITIES.items() if each.needs}
    assert not needing & set(curves.keys)


@given(seed=st.integers(0, 300))
@settings(max_examples=12)
def test_any_four_links_come_through_the_document(seed: int) -> None:
    drawn = RigidAxle(shaken(seed, 25.0).constraints, triangulated().left, triangulated().right)
    car = made_axle(drawn)

    poses = seen(car, "left")

    wanted = solve_axle(drawn, wheels_at(poses.travel.bump, poses.travel.bump)).wheel("left")
    assert np.nan_to_num(poses.centre) == pytest.approx(np.nan_to_num(wanted.centre), abs=1e-9)
    assert toe_in_deg(poses)[20] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("name", ["triangulated", "torque tube"])
def test_a_damper_is_followed_over_every_height_of_both_wheels(name: str) -> None:
    car, damper = CARS[name], DamperAtDesign(np.array(EYE), np.array(TOP))
    heights = np.linspace(-60.0, 60.0, 13)
    poses = solve_axle(DRAWN[name], wheels_at(heights[:, None], heights)).wheel("left")
    lengths = damper_length(poses, damper)

    found = compute(car.document, {}, damper_travel, car.corner)

    low = np.unravel_index(lengths.argmin(), lengths.shape)
    assert found.shortest == pytest.approx(lengths.min(), abs=1e-9)
    assert found.longest == pytest.approx(lengths.max(), abs=1e-9)
    assert (found.shortest_at, found.shortest_other) == pytest.approx(
        (heights[low[0]], heights[low[1]]), abs=1e-7
    )
    assert found.at_design == pytest.approx(350.0)


def test_springs_inboard_of_the_wheels_hold_the_body_up_by_their_own_distance() -> None:
    """Two upright springs s apart give the roll stiffness k s^2 / 2: Gillespie 1992, chapter 6
    (from memory); in heave each is felt whole."""
    car = made_axle(DRAWN[PARALLEL], spring_rate=20.0)
    wanted = 20.0 * 800.0**2 / 2.0 / 1000.0 * np.pi / 180.0

    found = compute(car.document, {}, roll_stiffness, car.axle)

    assert found.whole == pytest.approx(wanted, rel=1e-9)
    rolled = compute(car.document, {}, rates_in_roll, car.corner)
    assert rolled.plain == pytest.approx(20.0 * (400.0 / 700.0) ** 2, rel=1e-9)


def test_rates_in_roll_are_those_of_the_room() -> None:
    car, drawn = made_axle(DRAWN["triangulated"], spring_rate=25.0), DRAWN["triangulated"]
    dampers = [compute(car.document, {}, damper_at_design, corner_of(car, side)) for side in SIDES]
    rates = axle_rates(solve_axle(drawn, wheels_at()), tuple((each, 25.0) for each in dampers))

    found = compute(car.document, {}, rates_in_roll, car.corner)

    assert found.plain == pytest.approx(float(rates.roll), rel=1e-9)
    whole = compute(car.document, {}, roll_stiffness, car.axle).whole
    assert whole == pytest.approx(float(rates.roll_stiffness), rel=1e-9)


def test_lengths_of_a_spring_are_those_with_both_wheels_alike() -> None:
    car = CARS["triangulated"]
    found = compute(car.document, {}, damper_over_travel, car.corner)

    poses, at = seen(car, "left"), compute(car.document, {}, damper_at_design, car.corner)
    lengths = damper_length(poses, at)
    assert (found.bump.length, found.droop.length) == pytest.approx((lengths[-1], lengths[0]))


def test_links_lock_where_they_lie_along_the_way_they_would_have_to_lengthen() -> None:
    """Level links of 450 can fall 450 at the most; the rod of 900 lets them nearly do so."""
    car = CARS[PARALLEL].changed(CARS[PARALLEL].corner, "droop", 420.0)
    ends = compute(car.document, {}, ends_of_travel, car.corner)

    assert ends.droop.is_lock
    assert -450.0 < ends.droop.travel < -400.0
    assert (ends.right, ends.left) == (None, None)


def test_without_its_dampers_the_axle_hangs_on_its_straps() -> None:
    car = CARS["triangulated"].changed(CARS["triangulated"].corner, "strap_droop", 85.0)

    found = compute(car.document, {}, hangs, car.corner)

    assert found.droop == pytest.approx(85.0, abs=1e-6)
    assert len(found.not_known) == 8


def test_two_links_that_meet_are_an_arm_of_the_axle() -> None:
    (found,) = compute(CARS["A-frame"].document, {}, arms, CARS["A-frame"].corner)

    assert found.name == "upper arm"
    assert found.links == ("frame -250.0", "frame 250.0")
    assert found.arm.outer[2] == 460.0


def why_not(car: Made, cell: Cell[[Ref], object], ref: Ref) -> str:
    with pytest.raises(NotComputedError) as raised:
        compute(car.document, {}, cell, ref)
    return str(raised.value)


def without_panhard() -> Made:
    return made_axle(axle(*three_parallel()))


@pytest.mark.parametrize("cell", [over_travel, over_both, ends_of_travel, travel_curves])
def test_an_axle_held_too_little_goes_nowhere_and_says_why(cell: Cell[[Ref], object]) -> None:
    said = why_not(without_panhard(), cell, without_panhard().corner)

    assert "is not held: 3 conditions hold the axle and 4 are needed" in said


Change = Callable[[Made], Made]
WRONG: dict[str, tuple[Change, str]] = {
    "nothing holds it": (lambda car: car.changed(car.axle, "links", ()), "nothing is entered"),
    "a corner of its own kind": (
        lambda car: car.changed(car.corner, "linkage", "five_links"),
        "corner left is on axle, a rigid axle, and has links of its own",
    ),
    "links at the corner too": (
        lambda car: car.changed(car.corner, "links", _links(car)),
        "has links of its own: enter what holds the axle at axle",
    ),
    "its wheels crossed over": (
        lambda car: car.changed(car.corner, "upright.hub_face", Vec3(0.0, -700.0, 300.0)),
        "the left wheel of an axle must stand to the left",
    ),
}


def _links(car: Made) -> tuple[object, ...]:
    return car.document.axles[0].links


@pytest.mark.parametrize("name", [*WRONG])
def test_what_is_entered_wrong_is_told(name: str) -> None:
    change, words = WRONG[name]
    wrong = change(CARS["triangulated"])

    assert words in why_not(wrong, rigid_axle, wrong.axle)
    assert words in why_not(wrong, over_travel, wrong.corner)


def test_a_rack_does_not_steer_a_rigid_axle() -> None:
    car = CARS["triangulated"]

    assert why_not(car, over_steer, car.corner) == "nothing steers corner left"
    assert "on a rigid axle" in why_not(car, linkage, car.corner)


def test_an_end_of_the_travel_that_is_not_given_is_asked_for() -> None:
    car = CARS["triangulated"].changed(CARS["triangulated"].corner, "bump", None)

    assert (
        why_not(car, over_heave, car.axle) == "how far the wheel of corner left bumps is not known"
    )
    assert compute(car.document, {}, slopes_of, car.axle).roll_steer != 0.0


def test_an_axle_goes_as_far_as_the_wheel_that_goes_less() -> None:
    car = CARS["triangulated"].right_only(CARS["triangulated"].corner, "droop", 40.0)

    assert compute(car.document, {}, travel_of_axle, car.axle) == (40.0, 60.0)


def test_a_holder_alone_makes_an_axle_rigid_and_a_corner_of_that_kind_does() -> None:
    ball = made_axle(axle(Held("ball", BALL)))
    free = made(made_up_wishbones())
    by_kind = free.changed(free.corner, "linkage", "rigid_axle")

    found = [compute(each.document, {}, is_rigid, each.axle) for each in (ball, free, by_kind)]

    assert found == [True, False, True]


@pytest.mark.parametrize("document", [empty(), demo().drawn, second().drawn])
def test_cars_without_a_rigid_axle_have_none(document: Document) -> None:
    def run(ref: Ref) -> bool:
        return compute(document, {}, is_rigid, ref)

    assert not any(run(Ref(each.id)) for each in document.axles)


def test_a_wheel_of_its_own_is_held_by_its_own_linkage() -> None:
    car = made(made_up_wishbones())

    held, own = (compute(car.document, {}, cell, car.corner) for cell in (held_wheel, linkage))

    assert [each.name for each in held.constraints] == [each.name for each in own.constraints]
    assert not compute(car.document, {}, is_on_rigid_axle, car.corner)


def test_figures_of_the_axle_say_what_they_are() -> None:
    car = CARS["torque tube"]
    found = {each.what: each for each in compute(car.document, {}, figures)}
    motion = compute(car.document, {}, over_heave, car.axle)

    wound = found["wind-up over travel, axle"]
    assert wound.value == pytest.approx(np.ptp(motion.nose_up_deg))
    assert "nose down at 60 of bump" in wound.note
    assert "nose up at 60 of droop" in wound.note
    assert found["lateral shift over travel, axle"].value == pytest.approx(np.ptp(motion.aside))
    steer = found["roll steer, axle"]
    assert steer.unit == "deg/deg"
    assert steer.value == pytest.approx(-80.0 / 960.0)
    assert "midway between the contacts" in found["roll centre height, axle"].note


def test_figures_of_an_axle_that_is_not_held_say_why() -> None:
    car = without_panhard()
    found = {each.what: each for each in compute(car.document, {}, figures)}

    for what in ("wind-up over travel, axle", "roll steer, axle", "roll centre height, axle"):
        assert found[what].value is None
        assert "axle is not held" in found[what].note


def test_an_axle_by_name_only_is_no_rigid_axle() -> None:
    car = made(made_up_wishbones())

    assert why_not(car, rigid_axle, car.axle) == "axle is no rigid axle"
    assert isinstance(car.document.axles[0], Axle)
