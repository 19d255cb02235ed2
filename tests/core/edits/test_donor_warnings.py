"""What is said of a steering arm is held against the linkage solved with its rack moved."""

from typing import Literal

import numpy as np
import pytest

from core.document.base import Fact, Ref, Vec3
from core.document.donors import DonorPoint
from core.document.running_gear import Axle, Rack
from core.edits.donor import CarryOver, Station, carry_over
from core.edits.donor_places import SteeringArm, steering_arm
from core.edits.donor_warnings import rack_sentences, warnings
from core.edits.refusals import EditRefusedError
from core.edits.things import make
from core.geometry.types import Array
from core.suspension.linkage import WheelAtDesign, mirrored
from core.suspension.makers import Arm, TrackRod, double_wishbone
from core.suspension.solve import solve
from core.suspension.steering import ackermann_share, castor_deg, steer_deg
from core.suspension.travel import at
from core.suspension.wheel import camber_deg, toe_in_deg
from tests.core.edits.cars import demo_car
from tests.core.edits.donors import LOADED, Builder, by_role, measured

STANDS = {"camber_deg": -0.5, "toe_in_deg": 0.2, "loaded_radius": 282.0, "hub_height": 282.0}


def said(builder: Builder, **changes: object) -> str:
    return " | ".join(warnings(builder.document, builder.asks(**changes)))


class Solved:
    """The front of a car on a donor's corners, both sides, solved over rack or bump."""

    def __init__(self, builder: Builder, **changes: object) -> None:
        after, corner = carry_over(builder.document, builder.asks(wheel=builder.wheel, **changes))
        self.places = by_role(after, corner)
        lower, upper = self._arm("lower"), self._arm("upper")
        rod = TrackRod(self._at("tie_inner"), self._at("tie_outer"))
        spin = np.array(corner.upright.spin_axis)
        centre = np.array(corner.upright.hub_face) - 41.0 * spin
        self.left = double_wishbone(lower, upper, rod, WheelAtDesign(centre, spin, LOADED))

    def _at(self, role: str) -> Array:
        return np.array(self.places[role])

    def _arm(self, name: str) -> Arm:
        return Arm(*(self._at(f"{name}_{end}") for end in ("inner_front", "inner_rear", "outer")))

    def steer(self, rack: float) -> tuple[float, float]:
        """How far the left and the right wheel turn to the left."""
        one, other = (solve(each, at(rack=rack)) for each in (self.left, mirrored(self.left)))
        return float(steer_deg(one)), float(steer_deg(other))


def straight(**changes: object) -> Builder:
    """Wheels straight ahead, so that how they steer is the arm's doing alone."""
    fields = {"camber_deg": 0.0, "toe_in_deg": 0.0, **changes}
    return Builder(measured(demo_car(), "front", **fields))


@pytest.mark.parametrize("turned", [False, True])
def test_a_rack_to_the_left_turns_the_wheels_the_way_the_arm_points(*, turned: bool) -> None:
    """An arm ahead goes left with its ball, so the front of the wheel does; one behind, not."""
    corner = Solved(straight(), turned=turned)
    arm = steering_arm(corner.places)
    assert arm is not None

    left, right = corner.steer(20.0)

    assert arm.points == ("behind" if turned else "ahead")
    assert (left > 1.0, right > 1.0) == (not turned, not turned)
    assert (left < -1.0, right < -1.0) == (turned, turned)


def moved_ball(outboard: float) -> tuple[DonorPoint, ...]:
    """The points of the donor with the ball of its arm elsewhere, and the rod straight across."""
    donor = measured(demo_car(), "front")
    ball = next(p.at for p in donor.points if p.role == "tie_outer")
    to = {
        "tie_outer": ball._replace(y=ball.y + outboard),
        "tie_inner": ball._replace(y=ball.y - 300.0, z=ball.z),
    }
    return tuple(DonorPoint(role=p.role, at=to.get(p.role, p.at), on=p.on) for p in donor.points)


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("outboard", [-60.0, 60.0])
def test_the_inner_wheel_steers_as_its_arm_says(*, turned: bool, outboard: float) -> None:
    """By the sign of the Ackermann share of both wheels solved, wheelbase and track as usual."""
    builder = straight(points=moved_ball(outboard))
    corner = Solved(builder, turned=turned)
    arm = steering_arm(corner.places)
    assert arm is not None

    left, right = corner.steer(-15.0 if turned else 15.0)
    share = ackermann_share(np.array(left), np.array(right), 2400.0, 1300.0)

    assert left > 1.0
    assert arm.inner_steers == ("more" if share > 0.0 else "less")
    assert abs(share) > 0.1


def test_turning_reverses_castor_toe_and_ackermann_and_keeps_camber() -> None:
    points = moved_ball(60.0)
    there, here = (
        Solved(straight(points=points, camber_deg=-1.0, toe_in_deg=0.5), turned=turned)
        for turned in (False, True)
    )
    bumps = at(bump=np.linspace(-50.0, 50.0, 11))
    one, other = solve(there.left, bumps), solve(here.left, bumps)

    arms = [steering_arm(each.places) for each in (there, here)]

    assert np.allclose(camber_deg(one), camber_deg(other), atol=1e-9)
    assert np.allclose(toe_in_deg(one), -toe_in_deg(other), atol=1e-9)
    for arm, poses in zip(arms, (one, other), strict=True):
        assert arm is not None
        assert arm.castor_deg == pytest.approx(float(castor_deg(poses)[5]), abs=1e-9)
    assert arms[0] is not None
    assert arms[1] is not None
    assert {arms[0].inner_steers, arms[1].inner_steers} == {"more", "less"}


def test_a_steering_arm_that_points_the_other_way_is_said() -> None:
    builder = straight(points=moved_ball(60.0))

    told = said(builder, turned=True)

    assert "steering arm points behind the steering axis, by" in told
    assert "where on the donor it pointed ahead" in told
    assert "the wheels now steer the other way" in told
    assert "its Ackermann is reversed: by its arm the inner wheel steers less" in told
    assert "Ackermann" not in said(builder)
    assert "points behind" not in said(builder)


def test_at_a_rear_that_does_not_steer_a_toe_link_is_meant_and_not_a_rack() -> None:
    told = said(straight(), turned=True, end="rear")

    assert "a toe link there steers the wheel the other way in bump" in told
    assert "Ackermann" not in told
    assert "the wheels now steer" not in told


@pytest.mark.parametrize("rack", ["ahead", "behind"])
@pytest.mark.parametrize("turned", [False, True])
def test_an_arm_that_points_away_from_the_rack_is_said(
    rack: Literal["ahead", "behind"], *, turned: bool
) -> None:
    told = said(straight(), turned=turned, rack=rack)

    points = "behind" if turned else "ahead"
    assert (f"and the rack is to lie {rack}" in told) == (rack != points)


def test_an_arm_in_line_with_its_axis_fits_no_rack() -> None:
    arm = SteeringArm(ahead=0.2, outboard=-80.0, castor_deg=3.0)

    assert arm.inner_steers == "the same"
    assert rack_sentences(arm, "ahead") == rack_sentences(arm, "behind")
    assert "neither ahead nor behind" in rack_sentences(arm, "ahead")[0]


def test_an_arm_whose_points_are_not_there_is_not_known_where_it_steers() -> None:
    donor = measured(demo_car(), "front")
    points = tuple(p for p in donor.points if not p.role.startswith("upper"))
    builder = Builder(measured(demo_car(), "front", points=points, links=()))

    assert "which way the steering arm points is not known" in said(builder)
    assert "which way the steering arm points" not in said(builder, end="rear")
    assert steering_arm({"lower_outer": Vec3(0.0, 0.0, 0.0)}) is None


def test_an_axis_that_lies_flat_is_no_steering_axis() -> None:
    flat = {
        "lower_outer": Vec3(0.0, 0.0, 0.0),
        "upper_outer": Vec3(0.0, 50.0, 0.5),
        "tie_outer": Vec3(100.0, 0.0, 0.0),
    }

    assert steering_arm(flat) is None


def test_what_was_measured_and_how_is_said_where_it_is_not_as_it_should_be() -> None:
    good = Builder(measured(demo_car(), "front", **STANDS))
    assert said(good) == (
        "the donor's right corner is taken for the mirror image of the other | tie inner was on "
        "the donor's rack, and no rack is named for this end: the chassis holds it here, and the "
        "wheel does not steer"
    )

    rows: list[tuple[dict[str, object], str]] = [
        ({"stood": "hanging"}, "so its arms stand at droop"),
        ({"stood": None}, "how the donor stood when it was measured is not known"),
        ({"camber_deg": None}, "camber of the donor as it stood not measured, taken as 0"),
        ({"camber_deg": None, "toe_in_deg": None}, "camber and toe of the donor"),
        ({"hub_height": 290.0}, "its hub stood 8.0 above the loaded radius"),
        ({"hub_height": 270.0}, "its hub stood 12.0 below the loaded radius"),
        ({"facts": ()}, "no source is given for the place of lower inner front"),
        (
            {"facts": (Fact(of="points.tie_outer.at.x", source="measured"),)},
            "lower outer",
        ),
    ]
    for fields, words in rows:
        builder = Builder(measured(demo_car(), "front", **{**STANDS, **fields}))
        assert words in said(builder)
        assert words not in said(good)


HANDS = [
    ("left", "left", False, False),
    ("left", "right", False, True),
    ("left", "right", True, False),
    ("right", "right", True, True),
    ("right", "left", True, False),
]


@pytest.mark.parametrize(("donors_side", "side", "turned", "is_other"), HANDS)
def test_which_of_the_donors_corners_fits_is_said(
    donors_side: str, side: str, *, turned: bool, is_other: bool
) -> None:
    builder = Builder(measured(demo_car(), "front", side=donors_side))

    told = said(builder, side=side, turned=turned)

    other = "right" if donors_side == "left" else "left"
    assert (f"fits the {side} side is the donor's {other} corner" in told) == is_other


def test_both_turned_end_for_end_change_sides() -> None:
    told = said(straight(), turned=True)

    assert "the donor's left corner goes to the right side and its other corner across" in told


def test_how_far_the_rack_of_this_car_is_from_the_donors_is_said() -> None:
    builder = Builder(measured(demo_car(), "front"))
    after, corner = carry_over(builder.document, builder.asks())
    wanted = by_role(after, corner)["tie_inner"]
    ball = Vec3(wanted.x, 0.0, wanted.z + 12.0)
    fields = {"centre": ball, "ball_spacing": 2.0 * wanted.y}
    builder.document, rack = make(builder.document, Rack, "rack", **fields)
    builder.document, _ = make(builder.document, Axle, "front axle", end="front", rack=Ref(rack.id))

    assert "rack, whose ball is 12.0 from tie inner of the donor" in said(builder)


def test_what_cannot_be_carried_over_has_no_warnings_but_a_reason() -> None:
    builder = Builder(measured(demo_car(), "front"))
    asked: CarryOver = builder.asks(at=Station(0.0, 650.0))

    with pytest.raises(EditRefusedError, match="no wheel is named"):
        warnings(builder.document, asked)
