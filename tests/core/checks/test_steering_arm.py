"""Steering arms and racks: against a flat four-bar worked out by hand, both cars, and what breaks.

On a steering axis that stands upright the ball of the arm, the rack and its rod move in one level
plane, so the wheel turns as in a four-bar: the ball is where a circle about the axis meets a circle
about the rack's ball (plane trigonometry, derived here).
"""

from dataclasses import replace
from math import atan2, cos, degrees, hypot, radians, sin

import pytest
from scipy.optimize import brentq

from core.assess.linkages import linkage
from core.checks.rules import RULES as ALL_RULES
from core.checks.steering_arm import KEY, LITTLE_RACK, RULES, arm_of
from core.document.base import Ref
from core.document.project import Document
from core.document.records import Limit
from core.edits.things import make as make_thing
from core.edits.values import put_value
from core.engine.address import Address
from core.engine.assess import assess, compute
from core.engine.finding import Finding
from core.study.order import Order
from tests.cars.stored import demo, empty, only_tubes, ref, second
from tests.core.assess.made_corners import WISHBONES, Made, Plan, made, swinging_arm

RACK = 60.0  # of use each way, as `made` gives it
AXIS_Y, LEVEL = 600.0, 300.0


def plan(ball: tuple[float, float], rack: tuple[float, float]) -> Plan:
    """An upright axis at x = 0, y = 600; the ball and the rack's left ball by x and y, level."""
    places = {
        "wheel_centre": (0.0, 700.0, LEVEL),
        "lower_front_inner": (150.0, 300.0, 200.0),
        "lower_rear_inner": (-150.0, 300.0, 200.0),
        "lower_outer": (0.0, AXIS_Y, 200.0),
        "upper_front_inner": (150.0, 350.0, 420.0),
        "upper_rear_inner": (-150.0, 350.0, 420.0),
        "upper_outer": (0.0, AXIS_Y, 420.0),
        "steer_outer": (*ball, LEVEL),
    }
    return Plan(places, WISHBONES, "double_wishbone", rack=(*rack, LEVEL))


def car(ball: tuple[float, float], rack: tuple[float, float]) -> Made:
    return made(plan(ball, rack))


def said(document: Document) -> list[Finding]:
    return assess(document, {}, None, RULES).findings()


def of(document: Document, corner: Ref) -> Finding:
    (found,) = [each for each in said(document) if each.subjects == (corner,)]
    return found


def steer_deg(ball: tuple[float, float], rack: tuple[float, float], travel: float) -> float:
    """Steer of the left wheel to the left, the rack gone so far to the left."""
    x, y = ball[0], ball[1] - AXIS_Y
    size, start = hypot(x, y), atan2(y, x)
    rod = hypot(ball[0] - rack[0], ball[1] - rack[1])

    def miss(turn: float) -> float:
        at = (size * cos(start + turn), AXIS_Y + size * sin(start + turn))
        return hypot(at[0] - rack[0], at[1] - rack[1] - travel) - rod

    far = radians(60.0)
    low, high = (0.0, far) if miss(0.0) * miss(far) < 0.0 else (-far, 0.0)
    return degrees(float(brentq(miss, low, high)))


def inner_more_deg(ball: tuple[float, float], rack: tuple[float, float]) -> float:
    """Steer of the inner wheel beyond the outer: the left is one at one lock, one at the other."""
    both = [steer_deg(ball, rack, travel) for travel in (RACK, -RACK)]
    return max(both) - abs(min(both))


SAME_SIDE = [
    ((120.0, 640.0), (120.0, 330.0)),
    ((120.0, 575.0), (120.0, 330.0)),
    ((-110.0, 640.0), (-110.0, 330.0)),
    ((-110.0, 580.0), (-150.0, 330.0)),
]


@pytest.mark.parametrize(("ball", "rack"), SAME_SIDE)
def test_an_arm_on_the_side_of_its_rack_is_fine_and_ackermann_is_told(
    ball: tuple[float, float], rack: tuple[float, float]
) -> None:
    corner = car(ball, rack)

    found = of(corner.document, corner.corner)

    ahead = ball[0] > 0.0
    assert found.verdict == "fine"
    assert f"points {'ahead by' if ahead else 'behind by'} {abs(ball[0]):.0f}" in found.sentence
    assert f"its rack lies {'ahead of' if ahead else 'behind'} the" in found.sentence
    goes = "left" if steer_deg(ball, rack, 1.0) > 0.0 else "right"
    assert (goes == "left") == ahead
    assert f"the rack goes {goes}" in found.sentence
    more = inner_more_deg(ball, rack)
    assert f"At full lock the inner wheel steers {abs(more):.1f} deg" in found.sentence
    assert ("Ackermann is reversed" in found.sentence) == (more < 0.0)


@pytest.mark.parametrize(("ball", "rack"), SAME_SIDE)
def test_how_far_off_square_the_rod_is_by_plane_trigonometry(
    ball: tuple[float, float], rack: tuple[float, float]
) -> None:
    corner = car(ball, rack)
    arm = atan2(ball[1] - AXIS_Y, ball[0])
    rod = atan2(ball[1] - rack[1], ball[0] - rack[0])

    found = of(corner.document, corner.corner)

    off = abs((degrees(arm - rod) % 180.0) - 90.0)
    assert found.measured == pytest.approx(off, abs=1e-9)
    assert (found.limit, found.unit, found.higher_is_worse) == (45.0, "deg", True)


def test_both_sides_say_the_same_and_the_ball_is_the_place() -> None:
    corner = car(*SAME_SIDE[0])

    left, right = said(corner.document)

    assert left.sentence.replace("left", "*") == right.sentence.replace("right", "*").replace(
        "left", "*"
    )
    assert left.place == (120.0, 640.0, LEVEL)
    assert right.place == (120.0, -640.0, LEVEL)


@pytest.mark.parametrize(("rack_x", "verdict"), [(-20.0, "tight"), (-330.0, "no")])
def test_a_rack_on_the_other_side_than_the_arm_is_never_fine(rack_x: float, verdict: str) -> None:
    corner = car((120.0, 600.0), (rack_x, 330.0))

    found = of(corner.document, corner.corner)

    assert found.verdict == verdict
    assert "points ahead by 120, and its rack lies behind the steering axis" in found.sentence
    assert "the track rod crosses the axis" in found.sentence


def test_a_rack_in_line_with_the_axis_is_not_fine() -> None:
    corner = car((60.0, 600.0), (0.2, 330.0))

    assert of(corner.document, corner.corner).verdict == "tight"


@pytest.mark.parametrize(("rack_x", "verdict"), [(250.0, "fine"), (310.0, "tight"), (420.0, "no")])
def test_a_rod_far_from_square_to_its_arm_is_told(rack_x: float, verdict: str) -> None:
    """Off square by atan((rack - arm) / 270): 25.7, 35.2 and 48.0 deg."""
    corner = car((120.0, 600.0), (rack_x, 330.0))

    found = of(corner.document, corner.corner)

    assert found.verdict == verdict
    assert ("deg off square to the arm" in found.sentence) == (verdict != "fine")


def test_this_cars_own_limit_goes_before_the_programs() -> None:
    corner = car((120.0, 600.0), (250.0, 330.0))
    own = {"rule": "rod_off_square", "value": 20.0, "unit": "deg"}
    document, _ = make_thing(corner.document, Limit, "l", **own)

    found = of(document, corner.corner)

    assert (found.verdict, found.limit) == ("no", 20.0)
    assert of(corner.document, corner.corner).verdict == "fine"


def test_an_arm_that_points_straight_across_can_be_turned_by_no_rack() -> None:
    corner = car((0.5, 500.0), (120.0, 330.0))

    found = of(corner.document, corner.corner)

    assert found.verdict == "no"
    assert "points neither ahead nor behind" in found.sentence


def test_wheels_that_steer_against_one_another_are_no_on_both_sides() -> None:
    corner = car((120.0, 600.0), (100.0, 330.0))
    other = corner.right_only(corner.points["steer_outer"], "at.x", -120.0)

    left, right = said(other.document)

    assert {left.verdict, right.verdict} == {"no"}
    for found in (left, right):
        assert "both wheels steer against one another" in found.sentence
    assert "rack lies ahead of the steering axis too" in left.sentence
    assert "the track rod crosses the axis" in right.sentence
    assert "against one another" not in of(corner.document, corner.corner).sentence


def test_where_no_two_points_are_the_axis_it_is_the_line_the_upright_turns_about() -> None:
    """The same corner with the balls of each arm two points at one place, so no arm is told."""
    whole, ends = plan(*SAME_SIDE[0]), ("lower_outer", "upper_outer")
    twice = {f"{name}_again": whole.places[name] for name in ends}
    links = tuple(
        (name, inner, f"{outer}_again" if name.endswith("rear") else outer)
        for name, inner, outer in WISHBONES
    )
    apart = made(replace(whole, places={**whole.places, **twice}, links=links, kind="five_links"))
    assert compute(apart.document, {}, linkage, apart.corner).steering_axis is None

    found = of(apart.document, apart.corner)

    other = of(made(whole).document, made(whole).corner)
    assert (found.verdict, found.sentence) == (other.verdict, other.sentence)
    assert found.measured == pytest.approx(other.measured, abs=1e-6)


def test_without_its_own_travel_a_little_of_the_rack_is_told() -> None:
    corner = car(*SAME_SIDE[0])
    rack = Ref(corner.document.racks[0].id)
    document = put_value(corner.document, Address(rack, "used_each_way"), None)

    found = of(document, corner.corner)

    assert f"At {LITTLE_RACK:.0f} of rack" in found.sentence
    assert found.verdict == "fine"


def test_links_that_lock_before_the_rack_stops_are_not_fine() -> None:
    corner = car((40.0, 600.0), (40.0, 330.0))

    found = of(corner.document, corner.corner)

    assert found.verdict == "unknown"
    assert "do not reach 60 of rack each way" in found.sentence


def test_a_rack_that_no_link_ends_on_is_not_known() -> None:
    corner = car(*SAME_SIDE[0])
    links = corner.document.corners[0].links[:-1]

    found = of(corner.changed(corner.corner, "links", links).document, corner.corner)

    assert found.verdict == "unknown"
    assert "no link of corner left ends on the rack" in found.sentence


def test_an_upright_that_nothing_else_holds_is_not_known() -> None:
    corner = car(*SAME_SIDE[0])
    links = corner.document.corners[0].links[-1:]

    found = of(corner.changed(corner.corner, "links", links).document, corner.corner)

    assert found.verdict == "unknown"
    assert "is not held" in found.sentence


def test_cars_and_ends_that_no_rack_steers_are_told_nothing() -> None:
    assert said(empty()) == []
    assert said(only_tubes()) == []
    assert said(made(swinging_arm()).document) == []


@pytest.mark.parametrize(
    ("document", "ball", "axis", "words"),
    [
        # Coordinates as printed in the neutral files: the ball, and the axis at its height.
        (demo().drawn, (122.0, 628.0), (8.0 - 28.0 * 37.0 / 240.0, 620.0 - 30.0 * 37.0 / 240.0),
         "points ahead by 118"),
        (second().drawn, (-118.0, 566.0), (5.0 - 30.0 * 85.0 / 475.0, 560.0 - 105.0 * 85.0 / 475.0),
         "points behind by 118"),
    ],
)  # fmt: skip
def test_both_cars_have_arms_on_the_side_of_their_racks(
    document: Document, ball: tuple[float, float], axis: tuple[float, float], words: str
) -> None:
    found = said(document)

    assert [each.verdict for each in found] == ["fine", "fine"]
    assert all(words in each.sentence for each in found)
    arm = compute(document, {}, arm_of, ref(document, "front corner left")).arm
    assert arm.ahead == pytest.approx(ball[0] - axis[0], abs=0.01)
    assert arm.outboard == pytest.approx(ball[1] - axis[1], abs=0.01)


def test_it_is_one_of_all_rules_and_stands_where_its_corner_does() -> None:
    assert KEY in {rule.key for rule in ALL_RULES}
    document = demo().drawn
    assert {Order(document).place(each) for each in said(document)} == {("front", None)}
