"""Every kind of linkage as the document tells it: what it holds, its arms and its steering axis.

Sources: closed forms for the parallel H-arm, the swinging arm and the pillar; the second invented
car's own independent check for the strut (tests/cars); the published corner of tests/reference.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import msgspec
import numpy as np
import pytest
from scipy.optimize import brentq

from core.assess.curves import CornerCurves, at_design, travel_curves
from core.assess.linkages import arms, linkage, role, tyre_radius
from core.assess.pairs import stands_on
from core.assess.travels import corner_at
from core.document.base import Ref, Vec3
from core.document.links import Holder, Linkage, Role
from core.document.project import Document
from core.document.running_gear import Corner
from core.engine.assess import compute
from core.engine.cells import NotComputedError, Reader, When, cell
from core.suspension.constraints import Rod
from core.suspension.holding import holding
from core.suspension.steering import castor_deg
from tests.cars.stored import demo, empty, expected, ref, second
from tests.core.assess.made_corners import (
    ACROSS,
    ARM,
    Made,
    level_h_arm,
    made,
    made_up_trailing_arm,
    made_up_wishbones,
    pillar,
    published_wishbones,
    reference,
    swinging_arm,
)

THOUSANDTH = 5.1e-4


def curves(car: Made) -> CornerCurves:
    return compute(car.document, {}, travel_curves, car.corner)


def why_not(car: Made) -> str:
    with pytest.raises(NotComputedError) as raised:
        compute(car.document, {}, linkage, car.corner)
    return str(raised.value)


def test_a_published_corner_moves_as_its_closed_form_has_it() -> None:
    """Every seventh of its 165 positions, through both arms and the rack."""
    data, car = reference("textbook_double_wishbone"), made(published_wishbones())
    names = data["columns"]

    for row in data["rows"][::7]:
        at = dict(zip(names, row, strict=True))
        poses = compute(
            car.document, {}, corner_at, car.corner, at["wheel_centre_z"], 0.0, at["rack_mm"]
        )
        found = poses.centre - np.array([0.0, 0.0, 285.0])
        wanted = [at[f"wheel_centre_{axis}"] for axis in "xyz"]
        assert found == pytest.approx(wanted, abs=1e-6)
        turned = np.degrees(np.arctan2(-poses.spin[0], poses.spin[1]))
        assert turned == pytest.approx(at["spin_axis_turn_about_plus_z_deg"], abs=1e-6)


@pytest.mark.parametrize("kind", ["semi_trailing_arm", "other"])
def test_an_arm_on_a_hinge_across_the_car_swings_in_a_circle(kind: Linkage) -> None:
    found = curves(made(swinging_arm(kind)))

    behind = ARM - np.sqrt(ARM**2 - found.along**2)
    assert found.of("wheelbase") == pytest.approx(behind, abs=1e-9)
    assert found.of("toe_in") == pytest.approx(0.0, abs=1e-9)
    assert found.of("camber") == pytest.approx(0.0, abs=1e-9)
    assert found.of("outboard") == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("kind", ["upper_link_lower_h_arm", "other"])
def test_an_h_arm_under_a_parallel_link_keeps_the_wheel_upright(kind: Linkage) -> None:
    found = curves(made(level_h_arm(kind)))

    inward = ACROSS - np.sqrt(ACROSS**2 - found.along**2)
    assert found.of("outboard") == pytest.approx(-inward, abs=1e-9)
    assert found.of("toe_in") == pytest.approx(0.0, abs=1e-9)
    assert found.of("camber") == pytest.approx(0.0, abs=1e-9)


def test_a_pillar_on_two_guides_is_steered_by_its_link_alone() -> None:
    """The link of 300 leans as the wheel rises, and its outer end, 100 ahead, is drawn inward."""
    found = curves(made(pillar()))

    def miss(turn: float, height: float) -> float:
        ahead, out = 100.0 * np.cos(turn) - 100.0, 300.0 + 100.0 * np.sin(turn)
        return float(ahead**2 + out**2 + height**2 - 300.0**2)

    turns = [brentq(miss, -0.5, 0.5, args=(height,), xtol=1e-14) for height in found.along]
    assert found.of("toe_in") == pytest.approx(-np.degrees(turns), abs=1e-8)
    assert found.of("camber") == pytest.approx(0.0, abs=1e-9)
    assert found.of("toe_in").max() > 3.0


def as_others(document: Document, corner: Ref) -> Document:
    """The second car with its front strut told as one of the builder's own."""
    thing = next(each for each in document.corners if each.id == corner.id)
    points = {each.role: each.point for each in thing.points}
    strut = (points["strut_lower"], points["strut_top"])
    held = (Holder(name="leg", how="strut", points=strut),)
    own = msgspec.structs.replace(thing, linkage="other", holders=held)
    rest = tuple(own if each.id == own.id else each for each in document.corners)
    return msgspec.structs.replace(document, corners=rest)


@pytest.mark.parametrize("is_own", [False, True])
@pytest.mark.parametrize("side", ["left", "right"])
def test_a_strut_by_role_or_told_as_ones_own_is_that_of_the_second_car(
    side: str, *, is_own: bool
) -> None:
    document, wanted = second().drawn, expected("second-car")["front"]
    corner = ref(document, f"front corner {side}")
    document = as_others(document, corner) if is_own else document

    found = compute(document, {}, travel_curves, corner)

    ends = [0, 20, 40]
    theirs = [0, wanted["bump"].index(0), -1]
    for key in ("toe_in", "camber"):
        printed = [wanted[f"{key}_deg"][at] for at in theirs]
        assert found.of(key)[ends] == pytest.approx(printed, abs=THOUSANDTH)


def test_the_top_of_a_strut_stays_with_the_chassis() -> None:
    """Castor by hand: from the ball of the arm, where the poses put it, to the drawn top."""
    document = second().drawn
    corner = ref(document, "front corner left")
    poses = compute(document, {}, corner_at, corner, 50.0, 0.0, 0.0)
    ball, top = poses.at(np.array([5.0, 560.0, 165.0])), np.array([-25.0, 455.0, 640.0])

    by_hand = np.degrees(np.arctan2(ball[0] - top[0], top[2] - ball[2]))

    assert castor_deg(poses) == pytest.approx(by_hand, abs=1e-9)


def test_links_two_by_two_are_arms_by_the_height_of_their_balls() -> None:
    car = made(made_up_wishbones())

    lower, upper = compute(car.document, {}, arms, car.corner)

    assert (lower.name, lower.links) == ("lower arm", ("lower front", "lower rear"))
    assert (upper.name, upper.links) == ("upper arm", ("upper front", "upper rear"))
    assert lower.arm.front.tolist() == [150.0, 330.0, 165.0]
    assert lower.arm.rear.tolist() == [-160.0, 340.0, 158.0]
    assert lower.arm.outer.tolist() == [8.0, 655.0, 175.0]


def test_arms_are_told_apart_whichever_is_entered_first_and_whichever_leg() -> None:
    plan = made_up_wishbones()
    car = made(replace(plan, links=tuple(reversed(plan.links))))

    found = compute(car.document, {}, arms, car.corner)

    assert [each.name for each in found] == ["lower arm", "upper arm"]
    assert [float(each.arm.front[0]) for each in found] == [150.0, 110.0]


@pytest.mark.parametrize(("height", "name"), [(200.0, "lower arm"), (420.0, "upper arm")])
def test_an_arm_alone_is_named_by_whether_its_ball_is_below_the_wheel_centre(
    height: float, name: str
) -> None:
    car = made(made_up_wishbones())
    thing = next(each for each in car.document.corners)
    lower = car.changed(car.corner, "links", thing.links[:2]).moved("lower_outer", "at.z", height)

    assert [each.name for each in compute(lower.document, {}, arms, car.corner)] == [name]


def test_a_rod_on_the_rack_is_no_leg_of_an_arm() -> None:
    """Its inner end moves: what is carried by such an arm would be where it is not."""
    plan = made_up_wishbones()
    links = (("radius", "lower_front_inner", "steer_outer"), ("tie", "rack", "steer_outer"))
    car = made(replace(plan, links=links, damper=()))

    assert compute(car.document, {}, arms, car.corner) == ()


def test_only_the_rod_on_the_rack_goes_with_it() -> None:
    car = made(made_up_wishbones())

    held = compute(car.document, {}, linkage, car.corner).constraints

    assert {each.name for each in held if isinstance(each, Rod) and each.on_rack} == {"tie"}


@pytest.mark.parametrize(
    "plan", [made_up_wishbones, made_up_trailing_arm, swinging_arm, level_h_arm, pillar]
)
def test_every_kind_is_held_by_five_conditions_on_either_side(plan: Callable[[], Any]) -> None:
    car = made(plan())

    for corner in (car.corner, car.corner.mirrored()):
        assert holding(compute(car.document, {}, linkage, corner)).is_held


def test_a_corner_that_is_no_pair_stands_where_its_hub_is() -> None:
    """A right-hand corner entered alone is the mirror image of the left one, and reads the same."""
    car = made(made_up_wishbones())
    right = mirrored_alone(car)
    left_found = curves(car)

    found = compute(right.document, {}, travel_curves, right.corner)

    for key in ("toe_in", "camber", "castor", "scrub", "outboard", "half_track", "roll_centre"):
        assert found.of(key) == pytest.approx(left_found.of(key), abs=1e-9), key


def mirrored_alone(car: Made) -> Made:
    """The car with the right-hand corner alone, entered as a single thing."""
    thing = car.document.corners[0]
    links = tuple(
        msgspec.structs.replace(each, inner=each.inner.mirrored(), outer=each.outer.mirrored())
        for each in thing.links
    )
    face, spin = thing.upright.hub_face, thing.upright.spin_axis
    upright = msgspec.structs.replace(
        thing.upright,
        hub_face=Vec3(face.x, -face.y, face.z),
        spin_axis=Vec3(spin.x, -spin.y, spin.z),
    )
    alone: Corner = msgspec.structs.replace(
        thing, pair=False, links=links, upright=upright, damper=None
    )
    document = msgspec.structs.replace(car.document, corners=(alone,))
    return Made(document, Ref(thing.id), car.axle, car.points)


def test_the_side_of_each_corner() -> None:
    car = made(made_up_wishbones())
    alone = mirrored_alone(car)
    asked = [
        (car.document, car.corner),
        (car.document, car.corner.mirrored()),
        (alone.document, alone.corner),
    ]

    assert [compute(document, {}, side, of) for document, of in asked] == ["left", "right", "right"]


@cell(When.LIVE)
def side(read: Reader, corner: Ref) -> str:
    return stands_on(read, corner)


def test_a_loaded_radius_that_is_not_given_is_the_height_at_which_the_wheel_is_drawn() -> None:
    car = made(made_up_wishbones())
    given = car.changed(tyre(car), "loaded_radius", 275.0)
    none = car.changed(tyre(car), "loaded_radius", None)
    bare = car.changed(car.corner, "tyre", None)

    asked = [compute(each.document, {}, tyre_radius, car.corner) for each in (given, none, bare)]

    assert asked == [275.0, 290.0, 290.0]


def test_the_loaded_radius_reaches_the_trail() -> None:
    """Castor t and a contact h lower: the axis meets the road h tan t further ahead."""
    car = made(made_up_wishbones())
    low = car.changed(tyre(car), "loaded_radius", 280.0)

    design = [compute(each.document, {}, at_design, car.corner) for each in (car, low)]

    more = design[0]["trail"] - design[1]["trail"]
    castor, toe = np.radians(design[0]["castor"]), np.radians(0.1)
    assert more == pytest.approx(10.0 * np.tan(castor) * np.cos(toe), abs=0.02)


def test_a_wheel_drawn_below_the_ground_says_that_its_height_is_not_known() -> None:
    car = made(made_up_wishbones())
    none = car.changed(tyre(car), "loaded_radius", None)
    low = none.changed(car.corner, "upright.hub_face.z", -1.0)

    with pytest.raises(NotComputedError, match="how high the wheel of corner left stands"):
        compute(low.document, {}, tyre_radius, car.corner)


def tyre(car: Made) -> Ref:
    return Ref(car.document.tyres[0].id)


@pytest.mark.parametrize(
    ("plan", "missing"),
    [
        (made_up_trailing_arm, "arm pivot"),
        (swinging_arm, "arm hinge inner"),
        (level_h_arm, "lower inner front"),
    ],
)
def test_a_role_that_no_point_has_is_asked_for(plan: Callable[[], Any], missing: str) -> None:
    car = made(plan())
    bare = car.changed(car.corner, "points", ())

    assert why_not(bare) == f"corner left has no point in the role {missing}"


def test_a_strut_without_its_top_asks_for_it() -> None:
    document = second().drawn
    corner = ref(document, "front corner right")
    thing = next(each for each in document.corners if each.id == corner.id)
    rest = tuple(each for each in thing.points if each.role != "strut_top")
    less = msgspec.structs.replace(thing, points=rest)
    corners = tuple(less if each.id == less.id else each for each in document.corners)

    with pytest.raises(NotComputedError, match="has no point in the role strut top"):
        compute(msgspec.structs.replace(document, corners=corners), {}, linkage, corner)


def test_a_point_is_found_by_its_role_on_either_side() -> None:
    car = made(swinging_arm())

    places = [
        compute(car.document, {}, place_of_role, each, "arm_hinge_inner").tolist()
        for each in (car.corner, car.corner.mirrored())
    ]

    assert places == [[350.0, 400.0, 300.0], [350.0, -400.0, 300.0]]


@cell(When.LIVE)
def place_of_role(read: Reader, corner: Ref, name: str) -> Any:  # noqa: ANN401
    return role(read, corner, name)


def test_a_corner_that_nothing_holds_says_so() -> None:
    car = made(made_up_wishbones())
    bare = car.changed(car.corner, "links", ())

    assert why_not(bare) == "nothing is entered that holds the upright of corner left"


def test_a_corner_without_a_wheel_asks_for_it() -> None:
    car = made(made_up_wishbones())

    assert why_not(car.changed(car.corner, "wheel", None)) == "no wheel is named for corner left"


@pytest.mark.parametrize("is_by_kind", [True, False])
def test_a_corner_on_a_rigid_axle_has_no_linkage_of_its_own(*, is_by_kind: bool) -> None:
    car = made(made_up_wishbones())
    links = car.document.corners[0].links
    rigid = (
        car.changed(car.corner, "linkage", "rigid_axle")
        if is_by_kind
        else car.changed(car.axle, "links", links[:1])
    )

    assert why_not(rigid) == (
        "corner left is on a rigid axle, whose wheels are not held one by one"
    )


def test_roles_that_a_kind_does_not_use_hold_nothing() -> None:
    """The demo car's wishbones have a role for every point, and five links all the same."""
    document = demo().drawn

    held = compute(document, {}, linkage, ref(document, "front corner left")).constraints

    assert len(held) == 5
    assert all(isinstance(each, Rod) for each in held)
    assert empty().corners == ()


def test_roles_are_kept_apart_from_one_another() -> None:
    with pytest.raises(ValueError, match="points"):
        msgspec.structs.replace(
            demo().drawn.corners[0],
            points=(Role(role="a", point=Ref("point1")), Role(role="a", point=Ref("point2"))),
        )
