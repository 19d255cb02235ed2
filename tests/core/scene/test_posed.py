"""The car shown moved: everything keeps its size, stands where it must, and tells its figures.

Source of both cars' figures: their own independent check in numpy (`reference_results`), printed to
a thousandth of a degree and a tenth or a hundredth of a mm.
"""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.assess.linkages import linkage
from core.assess.width import drive_side
from core.document.base import Ref, Vec3
from core.document.links import Link, Rocker
from core.document.project import Document
from core.document.running_gear import Corner
from core.document.steel import Point
from core.edits.things import make
from core.engine.assess import compute
from core.geometry.types import Array
from core.scene.cells import the_scene
from core.scene.ends import Stop, ends_of_car, stop_words
from core.scene.posed import (
    MovedSolid,
    PosedCar,
    PosedCorner,
    UnknownWheel,
    posed_car,
    posed_corner,
    scene_at,
)
from core.scene.records import RodRecord, Scene
from tests.cars.stored import demo, empty, expected, only_tubes, ref, second
from tests.core.assess.made_corners import (
    Made,
    level_h_arm,
    made,
    made_up_trailing_arm,
    made_up_wishbones,
    swinging_arm,
)

CARS = {"demo-car": demo().drawn, "second-car": second().drawn}
HEIGHTS = [
    (car, end, side, height)
    for car in CARS
    for end in ("front", "rear")
    for side in ("left", "right")
    for height in (-50, -20, 30, 60)
]


def posed(document: Document, bump: float = 0.0, roll: float = 0.0, rack: float = 0.0) -> PosedCar:
    return compute(document, {}, posed_car, bump, roll, rack)


def corner(document: Document, label: str, *place: float) -> PosedCorner:
    return compute(document, {}, posed_corner, ref(document, label), *place)


def known(car: PosedCar) -> dict[str, PosedCorner]:
    return {c.standing.name: c for c in car.corners if isinstance(c, PosedCorner)}


def scene_of(document: Document) -> Scene:
    return compute(document, {}, the_scene)


def length(rod: RodRecord) -> float:
    return float(np.linalg.norm(rod.line[1] - rod.line[0]))


@pytest.mark.parametrize(("car", "end", "side", "height"), HEIGHTS)
def test_figures_at_a_wheel_are_those_of_the_independent_check(
    car: str, end: str, side: str, height: int
) -> None:
    wanted = expected(car)[end]
    at = wanted["bump"].index(height)

    found = corner(CARS[car], f"{end} corner {side}", float(height), 0.0, 0.0)

    assert found.standing.rise == pytest.approx(height, abs=1e-6)
    figures = found.figures
    assert figures.camber_deg == pytest.approx(wanted["camber_deg"][at], abs=6e-4)
    assert figures.toe_in_deg == pytest.approx(wanted["toe_in_deg"][at], abs=6e-4)
    assert figures.damper == pytest.approx(wanted["damper_length"][at], abs=5.1e-2)


def test_a_damper_has_left_what_is_between_it_and_its_own_ends() -> None:
    # Of the independent check: 347.5 long at 60 bump; closed 342 and open 438 as entered.
    found = corner(CARS["demo-car"], "front corner left", 60.0, 0.0, 0.0).figures

    assert found.to_close == pytest.approx(347.5 - 342.0, abs=5.1e-2)
    assert found.to_open == pytest.approx(438.0 - 347.5, abs=5.1e-2)


def test_the_rack_to_the_left_turns_both_wheels_as_the_independent_check_says() -> None:
    wanted = expected("demo-car")["front"]["steer_at_used_rack_travel_deg"]["rack_to_left"]

    found = known(posed(CARS["demo-car"], rack=60.0))

    for side in ("left", "right"):
        turned = found[f"front {side}"].figures.steer_deg
        assert turned == pytest.approx(wanted[f"{side}_wheel"], abs=6e-3)
        assert found[f"rear {side}"].figures.steer_deg is None


def test_a_drive_shaft_is_drawn_as_long_as_it_is_and_slid_as_the_independent_check_says() -> None:
    document = CARS["demo-car"]
    for side in ("left", "right"):
        shaft = next(
            r
            for r in posed(document, 60.0).rods
            if r.side == side and r.id == document.drive_shafts[0].id
        )
        rows = {row[0]: row for row in expected("demo-car")["shafts"][side]["rows"]}
        drive = compute(document, {}, drive_side, shaft)
        for height in (-40.0, 0.0, 60.0):
            bar = posed(document, height).rods[shaft][0]
            assert length(bar) == pytest.approx(drive.shaft_length, abs=1e-9)
            axis = np.array(drive.slide_axis) / np.linalg.norm(drive.slide_axis)
            slid = bar.line[0] - np.array(drive.inner_joint)
            assert float(np.linalg.norm(np.cross(slid, axis))) < 1e-6
            assert float(slid @ axis) == pytest.approx(rows[height][1], abs=6e-3)


PLACES = st.tuples(st.floats(-60.0, 70.0), st.floats(-3.0, 3.0), st.floats(-50.0, 50.0))


@settings(max_examples=15, deadline=None)
@given(st.sampled_from(sorted(CARS)), PLACES)
def test_nothing_is_stretched_but_dampers(car: str, place: tuple[float, float, float]) -> None:
    scene = scene_of(CARS[car])
    drawn = {(rod.ref, rod.part, at): rod for at, rod in enumerate(scene.rods)}

    shown = scene_at(scene, posed(CARS[car], *place))

    assert len(shown.rods) == len(scene.rods)
    for key, moved in zip(drawn, shown.rods, strict=True):
        assert (moved.ref, moved.part) == key[:2]
        if moved.part not in ("damper", "spring"):
            assert length(moved) == pytest.approx(length(drawn[key]), abs=1e-6)
    for solid, turned in zip(scene.solids, shown.solids, strict=True):
        apart, now = (np.diff(each.vertices, axis=0) for each in (solid, turned))
        sizes = np.linalg.norm(apart, axis=1), np.linalg.norm(now, axis=1)
        np.testing.assert_allclose(sizes[0], sizes[1], atol=1e-6)


@settings(max_examples=15, deadline=None)
@given(st.sampled_from(sorted(CARS)), PLACES)
def test_what_is_on_the_chassis_stands_still(car: str, place: tuple[float, float, float]) -> None:
    scene, document = scene_of(CARS[car]), CARS[car]
    shown = scene_at(scene, posed(document, *place))

    links = {link.name: link for each in document.corners for link in each.links}
    racks = {rack.id for rack in document.racks}
    on_rack = {name for name, link in links.items() if link.inner.id in racks}
    assert on_rack
    for drawn, moved in zip(scene.rods, shown.rods, strict=True):
        step = moved.line - drawn.line
        if drawn.part in on_rack:
            np.testing.assert_allclose(step[0], [0.0, place[2], 0.0], atol=1e-9)
        elif drawn.part in links:
            np.testing.assert_allclose(step[0], 0.0, atol=1e-9)
        elif drawn.part in ("spring", "trailing_arm"):
            held = step[1] if drawn.part == "spring" else step[0]
            np.testing.assert_allclose(held, 0.0, atol=1e-6)
        elif drawn.part == "rack":
            np.testing.assert_allclose(step, [[0.0, place[2], 0.0]] * 2, atol=1e-9)
        elif drawn.part == "housing":
            np.testing.assert_array_equal(step, 0.0)
    assert shown.tubes is scene.tubes
    assert shown.handles is scene.handles


def test_what_does_not_move_is_the_very_same_record() -> None:
    scene = scene_of(CARS["demo-car"])
    shown = scene_at(scene, posed(CARS["demo-car"], 10.0))

    still = {"corner", "drive_shaft", "rack"}
    for drawn, moved in zip(scene.rods, shown.rods, strict=True):
        if drawn.ref.id.rstrip("0123456789") not in still:
            assert moved is drawn
    for solid, turned in zip(scene.solids, shown.solids, strict=True):
        assert isinstance(turned, MovedSolid) == (solid.part in ("tyre", "rim"))
        assert turned is solid or (isinstance(turned, MovedSolid) and turned.drawn is solid)


@pytest.mark.parametrize("car", CARS)
def test_at_design_everything_is_drawn_where_it_is_at_design(car: str) -> None:
    scene = scene_of(CARS[car])
    shown = scene_at(scene, posed(CARS[car]))

    for drawn, moved in zip(scene.rods, shown.rods, strict=True):
        np.testing.assert_allclose(moved.line, drawn.line, atol=1e-6)
    for solid, turned in zip(scene.solids, shown.solids, strict=True):
        np.testing.assert_allclose(turned.vertices, solid.vertices, atol=1e-6)


def test_a_damper_is_drawn_from_eye_to_eye() -> None:
    for label in ("front corner left", "rear corner right"):
        found = corner(CARS["demo-car"], label, 40.0, 0.0, 0.0)
        body, spring = (rod for rod in found.rods if rod.part in ("damper", "spring"))
        np.testing.assert_array_equal(body.line[1], spring.line[0])
        assert length(body) + length(spring) == pytest.approx(found.figures.damper, abs=1e-9)


# --- stops and locks -------------------------------------------------------------------------


def test_each_wheel_stops_at_its_own_stops_and_says_which() -> None:
    # Entered: front 60 droop and 60 bump, rear 50 and 70.
    up, down = known(posed(CARS["demo-car"], 70.0)), known(posed(CARS["demo-car"], -60.0))

    assert up["front left"].standing.rise == pytest.approx(60.0, abs=1e-6)
    assert up["front left"].standing.stopped == "at its bump stop, 60 up"
    assert up["rear left"].standing.rise == pytest.approx(70.0, abs=1e-6)
    assert up["rear left"].standing.stopped == ""
    assert down["rear right"].standing.rise == pytest.approx(-50.0, abs=1e-6)
    assert down["rear right"].standing.stopped == "at its droop stop, 50 down"
    assert down["front right"].standing.stopped == ""


def test_a_rolled_body_has_its_left_wheels_in_droop_and_the_stops_hold_there_too() -> None:
    gentle = known(posed(CARS["demo-car"], 0.0, 1.0))
    steep = known(posed(CARS["demo-car"], 55.0, 2.0))

    for end in ("front", "rear"):
        left, right = (gentle[f"{end} {side}"] for side in ("left", "right"))
        assert left.standing.rise < -8.0
        assert right.standing.rise > 8.0
    assert steep["front left"].standing.stopped == ""
    assert steep["front right"].standing.rise == pytest.approx(60.0, abs=1e-6)
    assert steep["front right"].standing.stopped == "at its bump stop, 60 up"


@settings(max_examples=20, deadline=None)
@given(st.floats(-40.0, 40.0), st.floats(0.05, 1.5), st.sampled_from([-1.0, 1.0]))
def test_both_tyres_of_an_axle_touch_one_road(bump: float, roll: float, way: float) -> None:
    """The lowest place of a thin disc by hand: the road is a plane through what both touch."""
    roll_deg = way * roll
    found = known(posed(CARS["demo-car"], bump, roll_deg))
    up = np.array([0.0, np.sin(np.radians(roll_deg)), np.cos(np.radians(roll_deg))])
    for end in ("front", "rear"):
        for side in ("left", "right"):
            poses = found[f"{end} {side}"].standing.poses
            if found[f"{end} {side}"].standing.stopped:
                continue
            down = -up + float(up @ poses.spin) * poses.spin
            lowest = poses.centre + poses.linkage.wheel.tyre_radius * down / np.linalg.norm(down)
            height = float(lowest @ up)
            design = poses.linkage.centre[2] - poses.linkage.wheel.tyre_radius
            assert height == pytest.approx((bump + design) * up[2], abs=1e-3)


def test_links_that_lock_before_the_stop_hold_the_wheel_and_are_named() -> None:
    """A swinging arm of 350 comes upright 350 above its hinge and can lift the wheel no further."""
    car = made(swinging_arm())
    far = car.changed(car.corner, "bump", 500.0)

    found = known(posed(far.document, 400.0))["front left"].standing

    assert 340.0 < found.rise < 350.0
    assert found.stopped == f"it does not go there, its links lock {found.rise:.0f} up"


def test_a_stop_that_is_not_entered_holds_the_wheel_at_design_and_says_so() -> None:
    car = made(made_up_wishbones())
    open_ = car.changed(car.corner, "droop", None)

    found = known(posed(open_.document, -20.0))["front left"].standing

    assert found.rise == pytest.approx(0.0, abs=1e-6)
    assert found.stopped == "how far it droops is not known, so it is shown at design"
    assert known(posed(open_.document, 20.0))["front left"].standing.stopped == ""


def test_a_corner_that_is_not_held_is_told_of_and_stays_as_it_is_drawn() -> None:
    document = CARS["demo-car"]
    rear = next(c for c in document.corners if c.linkage == "five_links")
    loose = made_loose(document, rear)

    car = posed(loose, 30.0)

    lost = [c for c in car.corners if isinstance(c, UnknownWheel)]
    assert [each.name for each in lost] == ["rear left", "rear right"]
    assert all("not held" in each.why for each in lost)
    scene = scene_of(loose)
    shown = scene_at(scene, car)
    for drawn, moved in zip(scene.rods, shown.rods, strict=True):
        if drawn.ref.id == rear.id:
            assert moved is drawn


def made_loose(document: Document, corner: Corner) -> Document:
    """The same with one link fewer."""
    links = tuple(link for link in corner.links if link.name != "toe")
    return (
        Made(document, Ref(corner.id, "left"), corner.axle, {})
        .changed(Ref(corner.id, "left"), "links", links)
        .document
    )


def test_a_shaft_that_is_too_short_at_a_place_is_not_drawn_there_and_told_of() -> None:
    document = CARS["demo-car"]
    shaft = document.drive_shafts[0]
    car = Made(document, Ref(shaft.id, "left"), shaft.corner, {}).changed(
        Ref(shaft.id, "left"), "length", 20.0
    )

    found = posed(car.document, 60.0)

    assert found.rods[Ref(shaft.id, "left")] == ()
    assert any("too short to reach" in words for words in found.amiss)


# --- other linkages --------------------------------------------------------------------------


@pytest.mark.parametrize("plan", [level_h_arm(), made_up_trailing_arm(), swinging_arm()])
def test_other_linkages_move_without_stretching(plan: Any) -> None:  # noqa: ANN401
    car = made(plan)
    scene = scene_of(car.document)

    shown = scene_at(scene, posed(car.document, 25.0))

    assert scene.rods
    for drawn, moved in zip(scene.rods, shown.rods, strict=True):
        if moved.part not in ("damper", "spring"):
            assert length(moved) == pytest.approx(length(drawn), abs=1e-6)


def test_an_h_arm_is_drawn_from_its_hinge_to_the_upright() -> None:
    car = made(level_h_arm())
    arms = [rod for rod in scene_of(car.document).rods if rod.part.startswith("lower arm")]

    assert len(arms) == 4
    shown = scene_at(scene_of(car.document), posed(car.document, 25.0))
    moved = [rod for rod in shown.rods if rod.part.startswith("lower arm")]
    for drawn, now in zip(arms, moved, strict=True):
        np.testing.assert_array_equal(now.line[0], drawn.line[0])
        assert now.line[1][2] - drawn.line[1][2] == pytest.approx(25.0, abs=0.5)


def with_rocker() -> Made:
    """The swinging arm with a push-rod straight up to a rocker that lies level above it."""
    car = made(swinging_arm())
    document, points = car.document, dict(car.points)
    for name, at in {
        "rod_outer": Vec3(0.0, 560.0, 300.0),
        "rod_inner": Vec3(0.0, 560.0, 600.0),
        "pivot": Vec3(0.0, 460.0, 600.0),
        "rocker_eye": Vec3(0.0, 460.0, 700.0),
    }.items():
        document, thing = make(document, Point, name, at=at, pair=True)
        points[name] = Ref(thing.id, "left")
    rocker = Rocker(
        pivot=points["pivot"],
        pivot_axis=Vec3(1.0, 0.0, 0.0),
        rod_outer=points["rod_outer"],
        rod_on="upright",
        rod_inner=points["rod_inner"],
    )
    made_ = Made(document, car.corner, car.axle, points).changed(car.corner, "rocker", rocker)
    made_ = made_.changed(car.corner, "damper.lower", points["rocker_eye"])
    made_ = made_.changed(car.corner, "damper.lower_on", "rocker")
    document, top = make(made_.document, Point, "far", at=Vec3(0.0, 160.0, 700.0), pair=True)
    return Made(document, car.corner, car.axle, points).changed(
        car.corner, "damper.upper", Ref(top.id, "left")
    )


def test_a_rocker_turns_with_its_rod_and_neither_is_stretched() -> None:
    car = with_rocker()
    scene = scene_of(car.document)

    shown = scene_at(scene, posed(car.document, 30.0))

    parts = [rod.part for rod in scene.rods if rod.ref == car.corner]
    assert parts.count("rocker") == 2
    for drawn, moved in zip(scene.rods, shown.rods, strict=True):
        if drawn.part in ("rocker", "rod of rocker"):
            assert length(moved) == pytest.approx(length(drawn), abs=1e-6)
            assert not np.allclose(moved.line, drawn.line, atol=1.0)
    # A bell crank with arms alike: 30 up at the wheel closes the damper by about as much.
    figures = known(posed(car.document, 30.0))["front left"].figures
    at_rest = known(posed(car.document))["front left"].figures
    assert figures.damper is not None
    assert at_rest.damper is not None
    assert at_rest.damper - figures.damper == pytest.approx(30.0, rel=0.25)


def test_a_rocker_that_the_rod_does_not_reach_is_not_drawn_and_the_damper_not_known() -> None:
    car = with_rocker()
    far = car.changed(car.corner, "bump", 330.0)

    found = known(posed(far.document, 320.0))["front left"]

    assert found.figures.damper is None
    assert found.figures.no_damper
    assert not any(rod.part in ("rocker", "damper", "spring") for rod in found.rods)
    assert all(np.isfinite(rod.line).all() for rod in found.rods)


def test_a_tube_in_one_piece_with_the_upright_is_drawn_once() -> None:
    scene = scene_of(CARS["second-car"])
    rear = ref(CARS["second-car"], "rear corner left")
    arms = [rod for rod in scene.rods if rod.ref == rear and rod.part == "trailing_arm"]

    (arm,) = arms
    assert isinstance(CARS["second-car"].corners[1].arms[0], Link)
    assert length(arm) > 100.0


# --- empty and half-entered cars -------------------------------------------------------------


def test_an_empty_car_and_one_of_tubes_have_nothing_that_moves() -> None:
    for document in (empty(), only_tubes()):
        car = posed(document, 20.0, 1.0, 5.0)
        scene = scene_of(document)

        assert (car.corners, car.amiss) == ((), ())
        assert scene_at(scene, car).rods == scene.rods


def test_the_ends_are_those_entered_and_tell_which_end_of_the_car_they_are_of() -> None:
    ends = compute(CARS["demo-car"], {}, ends_of_car)

    assert ends.droops == (Stop(-60.0, ("front",)), Stop(-50.0, ("rear",)))
    assert ends.bumps == (Stop(70.0, ("rear",)), Stop(60.0, ("front",)))
    assert (ends.low, ends.high, ends.rack) == (-60.0, 70.0, 60.0)
    assert stop_words("bump", ends.bumps) == "bump +70 rear, +60 front"
    assert stop_words("droop", (Stop(-50.0, ()),)) == "droop stop \u221250"


def test_what_is_not_known_of_the_ends_is_said() -> None:
    car = made(made_up_wishbones())
    rack = Ref(car.document.racks[0].id)
    bare = car.changed(rack, "used_each_way", None)
    loose = made(swinging_arm())

    ends = compute(bare.document, {}, ends_of_car)
    assert ends.rack is None
    assert "not known" in ends.no_rack
    assert "nothing is entered" in compute(loose.document, {}, ends_of_car).no_rack
    nothing = compute(empty(), {}, ends_of_car)
    assert (nothing.low, nothing.high, stop_words("bump", ())) == (
        0.0,
        0.0,
        "bump stop not entered",
    )


def test_a_wheel_goes_round_its_own_centre_when_shown() -> None:
    """A tyre is a ring: the mean of its places is the wheel centre, wherever it stands."""
    document = CARS["demo-car"]
    shown = scene_at(scene_of(document), posed(document, 35.0, 1.0, 20.0))
    for solid in shown.solids:
        if solid.part == "tyre":
            held = compute(document, {}, linkage, solid.ref)
            middle: Array = solid.vertices.mean(axis=0)
            stands = corner_of(document, solid.ref)
            np.testing.assert_allclose(middle, stands, atol=1e-6)
            assert not np.allclose(middle, held.centre, atol=1.0)


def corner_of(document: Document, corner: Ref) -> Array:
    found = compute(document, {}, posed_corner, corner, 35.0, 1.0, 20.0)
    return found.standing.poses.centre
