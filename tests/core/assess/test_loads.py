"""Forces in links and on the chassis, against work done, a multibody library, and balance.

Energy: a link made a little longer, the damper as long as it was, moves the upright as the solver
of the linkage says; what the load does on that way is the force in the link times its lengthening
(principle of virtual work). Nothing of it uses a balance of forces. Forces hold to 0.01 % or 0.5 N.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq

from core.assess.axles import ground, roll_centre, track
from core.assess.bar_loads import bar_share, drop_link_at
from core.assess.bars import bar_at_design, roll_stiffness
from core.assess.corner_statics import corner_statics, statics_at
from core.assess.dampers import damper_at_design
from core.assess.linkages import linkage
from core.assess.load_extremes import extremes, loads_told
from core.assess.loads import (
    CornerLoads,
    applied,
    corner_loads,
    left_out,
    solved_under,
)
from core.assess.pick_ups import tubes_at
from core.assess.places import array, place
from core.assess.springs import rates_in_roll
from core.assess.weights import loads_at_design
from core.assess.wheel_forces import (
    BY_HEIGHT,
    BY_SPRINGS,
    OnWheel,
    load_names,
    on_wheel,
    standing_car,
)
from core.assess.wheels import wheel_centre
from core.balance.masses import GRAVITY
from core.document.base import Ref, Vec3
from core.document.links import AntiRollBar
from core.document.project import Document
from core.document.records import LoadCase
from core.document.steel import Point
from core.edits.things import make
from core.edits.values import put_value
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import Cell, NotComputedError, Reader, When
from core.geometry.frames import mirror
from core.geometry.types import Array
from core.loads.cases import CASES
from core.loads.statics import on_chassis, wrench
from core.suspension.constraints import Rod
from core.suspension.damper import damper_length
from core.suspension.poses import Poses
from core.suspension.solve import solve
from core.suspension.travel import Travel, at
from core.suspension.wheel import contact
from tests.cars.stored import demo, ref, second
from tests.core.assess.made_corners import (
    Made,
    level_h_arm,
    made,
    made_up_trailing_arm,
    made_up_wishbones,
    pillar,
    reference,
    swinging_arm,
)
from tests.core.assess.sprung_cars import (
    KG,
    UNSPRUNG,
    barred,
    level_bar_places,
    on_torsion_bar,
    pushrod,
    sprung,
    wishbone_bar_places,
)
from tests.oracles.multibody_loads import LoadedCorner

CARS = [(car, end) for car in ("demo-car", "second-car") for end in ("front", "rear")]
SIDES = ("left", "right")
WITHIN = 0.5  # N
PART = 1e-4

LOAD = OnWheel("test", "test", np.array([-1700.0, -1300.0, 4100.0]), np.array([60.0, 40.0, -300.0]))


def drawn(car: str) -> Document:
    return (demo if car == "demo-car" else second)().drawn


def corner_of(document: Document, end: str, side: str = "left") -> Ref:
    return ref(document, f"{end} corner {side}")


def found(document: Document, corner: Ref, load: OnWheel = LOAD, bump: float = 0.0) -> Any:  # noqa: ANN401
    """Everything under a load at a wheel height: statics, and what it solved."""

    def run(read: Reader) -> Any:  # noqa: ANN401
        held = statics_at(read, corner, solve(read(linkage, corner), at(bump)))
        return held, solved_under(read, corner, held, load)

    return compute(document, {}, Cell("found", When.RELEASE, run))


def names_of(poses: Poses) -> list[str]:
    return [each.name for each in poses.linkage.constraints if isinstance(each, Rod)]


def work(held: Any, load: OnWheel, before: Poses, after: Poses) -> float:  # noqa: ANN401
    """What the load does from one pose to a near one, N mm; its lever the mean of both."""
    del held
    lever = sum(contact(pose) - pose.centre for pose in (before, after)) / 2.0
    push = np.concatenate([load.contact + load.unsprung, np.cross(lever, load.contact)])
    turn = after.rotation @ before.rotation.T
    spin = np.array([turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1]])
    return float(push[:3] @ (after.centre - before.centre) + push[3:] @ (spin / 2.0))


def by_work(document: Document, corner: Ref, name: str, bump: float) -> float:
    """Pull of a link, N, by lengthening it with the damper as long as it was."""
    held = compute(document, {}, linkage, corner)
    damper = compute(document, {}, damper_at_design, corner)
    statics, _ = found(document, corner, bump=bump)
    length = damper_length(solve(held, at(bump)), damper)
    row, count = names_of(statics.poses).index(name), len(held.rows.rods.lengths)

    def posed(longer: float) -> Poses:
        rods = np.zeros(count)
        rods[row] = longer

        def pose(height: float) -> Poses:
            return solve(held, Travel(np.asarray(height), np.zeros(()), lengthened=rods))

        height = brentq(
            lambda z: float(damper_length(pose(z), damper) - length), bump - 5.0, bump + 5.0,
            xtol=1e-12, rtol=1e-14,
        )  # fmt: skip
        return pose(float(height))

    step = 0.01
    return work(statics, LOAD, posed(-step), posed(step)) / (2.0 * step)


def damper_by_work(document: Document, corner: Ref, bump: float) -> float:
    """Pull of the damper, N, by moving the wheel with every link as long as it was."""
    held = compute(document, {}, linkage, corner)
    damper = compute(document, {}, damper_at_design, corner)
    statics, _ = found(document, corner, bump=bump)
    low, high = (solve(held, at(bump + step)) for step in (-0.05, 0.05))
    longer = float(damper_length(high, damper) - damper_length(low, damper))
    return work(statics, LOAD, low, high) / longer


@pytest.mark.parametrize("bump", [0.0, 35.0, -30.0])
@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize(("car", "end"), CARS)
def test_forces_in_links_and_damper_do_the_work_of_the_load(
    car: str, end: str, side: str, bump: float
) -> None:
    document = drawn(car)
    corner = corner_of(document, end, side)
    held, solved = found(document, corner, bump=bump)
    legs = {leg.name: leg for piece in held.pieces for leg in piece.legs}

    assert solved.size("damper")[0] == pytest.approx(
        damper_by_work(document, corner, bump), rel=PART, abs=WITHIN
    )
    for name in names_of(held.poses):
        if not legs[name].bends:  # the legs of an arm that is bent are no rods
            expected = by_work(document, corner, name, bump)
            assert solved.size(f"link {name}")[0] == pytest.approx(expected, rel=PART, abs=WITHIN)


MADE: tuple[tuple[str, Callable[[], Made]], ...] = (
    ("wishbones, damper on the arm", lambda: made(made_up_wishbones())),
    ("trailing arm", lambda: made(made_up_trailing_arm())),
    ("trailing arm of one's own", lambda: made(made_up_trailing_arm("other"))),
    ("swinging arm", lambda: made(swinging_arm())),
    ("H-arm", lambda: made(level_h_arm())),
    ("push-rod and rocker", pushrod),
)


@pytest.mark.parametrize("bump", [0.0, 20.0])
@pytest.mark.parametrize(("words", "maker"), MADE)
def test_the_damper_of_any_corner_does_the_work_of_the_load(
    words: str, maker: Callable[[], Made], bump: float
) -> None:
    del words
    car = maker()
    _, solved = found(car.document, car.corner, bump=bump)

    expected = damper_by_work(car.document, car.corner, bump)

    assert solved.size("damper")[0] == pytest.approx(expected, rel=PART, abs=WITHIN)


@pytest.mark.parametrize(("words", "maker"), MADE)
def test_the_chassis_of_any_corner_gets_what_comes_in(
    words: str, maker: Callable[[], Made]
) -> None:
    """Sum of forces and of moments on the chassis, couples of the pivot counted."""
    del words
    car = maker()
    held, solved = found(car.document, car.corner)

    total = np.zeros(6)
    for action in {a.key: a for a in held.assembly.actions if a.by == -1}.values():
        total += wrench(on_chassis(solved, [action.key])[0], action.place, held.poses.centre)
        total[3:] -= solved.couple(action.key)[0]

    assert total == pytest.approx(applied(held, LOAD), abs=1e-3)


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize(("car", "end"), CARS)
def test_what_is_told_of_the_chassis_is_all_that_comes_in(car: str, end: str, side: str) -> None:
    """By the places of the document, in every load; and the balls hold the upright."""
    document = drawn(car)
    corner = corner_of(document, end, side)
    told = compute(document, {}, loads_told, corner)
    assert told.unknown == ()

    for name in told.known:
        loads = compute(document, {}, corner_loads, corner, name)
        held = compute(document, {}, corner_statics, corner)
        centre = held.poses.centre
        came = applied(held, loads.on_wheel)
        given = sum(
            wrench(array(each.force), array(compute(document, {}, place, each.at)), centre)
            for each in loads.on_chassis
        )
        assert given == pytest.approx(came, abs=1e-3)
        if car == "demo-car":  # a strut holds the upright where there is no ball on it
            balls = sum(np.array(each.force) for each in loads.at_balls)
            assert balls == pytest.approx(-came[:3], abs=1e-6)


def test_left_and_right_are_mirror_images() -> None:
    """The front of the demo car, the same load mirrored."""
    document = drawn("demo-car")
    other = OnWheel("test", "test", mirror(LOAD.contact), mirror(LOAD.unsprung))

    held, left = found(document, corner_of(document, "front"))
    _, right = found(document, corner_of(document, "front", "right"), other)

    for key in {action.key for action in held.assembly.actions}:
        assert right.force(key)[0] == pytest.approx(mirror(left.force(key)[0]), abs=1e-6)


def test_arms_with_a_damper_bear_as_bodies_and_joints_do() -> None:
    """Both balls, track rod and damper, by the library: it agrees to 1e-6 N."""
    points = {k: np.array(v) for k, v in reference("double_wishbone_front")["points"].items()}
    car = made(made_up_wishbones())
    held, solved = found(car.document, car.corner)
    theirs = LoadedCorner(points["wheel_centre"])
    for arm in ("lower", "upper"):
        front, rear = (points[f"{arm}_{end}_inner"] for end in ("front", "rear"))
        theirs.arm(arm, front, rear, points[f"{arm}_outer"])
    theirs.bar("tie", points["rack_end"], points["steer_outer"])
    eyes = points["spring_on_chassis"], points["spring_on_lower_wishbone"]
    theirs.bar("damper", *eyes, on="lower")
    theirs.load(LOAD.contact, contact(held.poses))

    only = OnWheel("test", "test", LOAD.contact, np.zeros(3))
    _, solved = found(car.document, car.corner, only)
    ball = solved.force("lower arm ball")[0]
    upper = sum(solved.force(f"link upper {end}")[0] for end in ("front", "rear"))

    for ours, name in ((ball, "lower"), (upper, "upper")):
        apart = min(np.abs(ours - s * theirs.at_ball(name)).max() for s in (1.0, -1.0))
        assert apart < 1e-4
    assert abs(solved.size("damper")[0]) == pytest.approx(abs(theirs.in_bar("damper")))
    assert abs(solved.size("link tie")[0]) == pytest.approx(abs(theirs.in_bar("tie")))


def test_a_torsion_bar_bears_what_its_arm_lifts() -> None:
    """Against the work of the load on the turn of the arm."""
    car = on_torsion_bar(sprung(made_up_wishbones()), 100.0)
    held, solved = found(car.document, car.corner)
    arm = next(p for p in held.pieces if any(leg.bends for leg in p.legs))
    poses = [solve(held.poses.linkage, at(step)) for step in (-0.05, 0.05)]
    inner = [leg.inner for leg in arm.legs]
    outer = [each.at(arm.legs[0].outer) for each in poses]
    axis = (inner[0] - inner[1]) / np.linalg.norm(inner[0] - inner[1])
    across = [o - inner[0] - ((o - inner[0]) @ axis) * axis for o in outer]
    turn = np.arcsin(
        np.cross(across[0], across[1]) @ axis
        / (np.linalg.norm(across[0]) * np.linalg.norm(across[1]))
    )  # fmt: skip

    expected = -work(held, LOAD, *poses) / turn

    assert abs(solved.size("torsion bar")[0]) == pytest.approx(abs(expected), rel=PART)


def test_a_pillar_without_a_damper_is_told_so() -> None:
    car = made(pillar())

    with pytest.raises(NotComputedError, match="no damper is entered"):
        compute(car.document, {}, corner_statics, car.corner)


def test_coil_and_torsion_bar_together_are_not_told() -> None:
    car = on_torsion_bar(sprung(made_up_wishbones()), 100.0)
    both = car.changed(car.corner, "damper.spring_rate", 20.0)

    with pytest.raises(NotComputedError, match="coil and torsion bar"):
        compute(both.document, {}, corner_statics, both.corner)


def test_bump_is_three_times_standing_without_what_is_unsprung() -> None:
    """Of one wheel the other three need not be known."""
    car = sprung(made_up_wishbones())

    standing, bump = (
        compute(car.document, {}, on_wheel, car.corner, name) for name in ("standing", "bump")
    )

    assert standing.contact.tolist() == pytest.approx([0.0, 0.0, KG * GRAVITY])
    assert bump.contact == pytest.approx(3.0 * standing.contact)
    assert bump.unsprung.tolist() == pytest.approx([0.0, 0.0, -3.0 * UNSPRUNG * GRAVITY])


def test_what_other_loads_need_is_told() -> None:
    car = sprung(made_up_wishbones())

    told = compute(car.document, {}, loads_told, car.corner)

    assert told.known == ("standing", "bump", "combined")
    assert dict(told.unknown)["braking"]


def test_a_wheel_that_is_pulled_by_its_shaft_has_no_moment_about_its_axis() -> None:
    document = drawn("demo-car")
    corner = corner_of(document, "rear")
    held = compute(document, {}, corner_statics, corner)

    launch, braking = (
        compute(document, {}, on_wheel, corner, name) for name in ("launch", "braking")
    )

    spin, radius = held.poses.spin, held.poses.linkage.wheel.tyre_radius
    assert launch.is_pulled
    assert applied(held, launch)[3:] @ spin == pytest.approx(0.0, abs=1e-6)
    assert not braking.is_pulled
    expected = radius * abs(braking.contact[0])  # camber leaves the lever as it is
    assert abs(applied(held, braking)[3:] @ spin) == pytest.approx(expected, rel=2e-3)


def test_a_wheel_that_is_not_driven_only_gets_less_load_in_a_launch() -> None:
    document = drawn("demo-car")

    front = compute(document, {}, on_wheel, corner_of(document, "front"), "launch")

    assert front.contact[0] == 0.0
    assert not front.is_pulled


def test_springs_and_bars_say_what_moves_across_where_they_are_known() -> None:
    """Both ways the whole car is in balance; without springs each axle has its own weight."""
    document = drawn("demo-car")
    corner = corner_of(document, "front")
    assert compute(document, {}, on_wheel, corner, "outside").how == BY_SPRINGS
    without = document
    for end in ("front", "rear"):
        at_end = Address(corner_of(document, end), "damper.spring_rate")
        without = put_value(without, at_end, None)

    assert compute(without, {}, on_wheel, corner, "outside").how == BY_HEIGHT
    tracks = [
        compute(document, {}, track, ref(document, f"{end} axle")) for end in ("front", "rear")
    ]
    moments = [
        float(compute(each, {}, standing_car, None).car.moved_by_1_g @ np.array(tracks))
        for each in (document, without)
    ]
    car = compute(document, {}, standing_car, None).car
    whole = car.loads.sum() * car.height
    assert moments[1] == pytest.approx(whole)
    assert moments[0] == pytest.approx(whole + lean_moment(document), rel=1e-6)


def lean_moment(document: Document) -> float:
    """What the sprung mass adds at 1 g as it leans out, N mm: weight times its lever times roll.

    Worked out anew: the roll of a body on springs, D. C. Barton and J. D. Fieldhouse, Automotive
    Chassis Engineering, Springer 2018, equation 3.18.
    """
    weights = compute(document, {}, loads_at_design)
    axles = [ref(document, f"{end} axle") for end in ("front", "rear")]
    own = (33.0, 44.0)  # kg, unsprung of each wheel of the demo car
    road = [compute(document, {}, ground, axle) for axle in axles]
    sprung = np.array([weights.front_kg, weights.rear_kg]) - 2.0 * np.array(own)
    centres = [compute(document, {}, roll_centre, axle)[1] for axle in axles]
    wheels = [
        compute(document, {}, wheel_centre, corner_of(document, end)).z for end in ("front", "rear")
    ]
    lifted = weights.mass_kg * (weights.centre.z - np.mean(road))
    lifted -= sum(2.0 * kg * (z - g) for kg, z, g in zip(own, wheels, road, strict=True))
    lever = lifted / sprung.sum() - float(
        sprung @ (np.array(centres) - np.array(road)) / sprung.sum()
    )
    held = sum(np.degrees(compute(document, {}, roll_stiffness, axle).whole) for axle in axles)
    push = sprung.sum() * GRAVITY * lever
    roll = push / (1000.0 * held - push)
    return float(push * roll)


def test_the_kerb_tips_the_car_over_its_own_side() -> None:
    """Moments about the kerb: weight at half the track against the push at its height, by 1.75."""
    document = drawn("demo-car")
    corner = corner_of(document, "rear", "right")
    stands = compute(document, {}, standing_car, None)

    kerb = compute(document, {}, on_wheel, corner, "kerb").contact

    assert kerb[2] == pytest.approx(1.75 * stands.car.loads[2:].sum())
    assert kerb[1] > 0.0  # inward, for a right wheel to the left
    across = compute(document, {}, track, ref(document, "rear axle"))
    assert kerb[1] * stands.car.height == pytest.approx(kerb[2] * across / 2.0)


def test_a_load_case_with_an_acceleration_is_one_more_load() -> None:
    document = drawn("demo-car")
    document, case = make(
        document, LoadCase, "hard stop", acceleration_g=Vec3(-1.75, 0.0, 0.0), source="Pawlowski"
    )
    corner, name = corner_of(document, "front"), Ref(case.id)

    load = compute(document, {}, on_wheel, corner, name)

    assert compute(document, {}, load_names) == (*(each.key for each in CASES), name)
    assert load.source == "Pawlowski"
    assert load.contact[0] / load.contact[2] == pytest.approx(-1.75)


def test_an_unknown_unsprung_mass_is_told() -> None:
    car = sprung(made_up_wishbones())
    car = car.changed(car.corner, "unsprung_mass_kg", None)

    with pytest.raises(NotComputedError, match="the unsprung mass of .* is not known"):
        compute(car.document, {}, on_wheel, car.corner, "bump")


@pytest.mark.parametrize(("car", "end"), CARS)
def test_the_greatest_is_that_of_every_load(car: str, end: str) -> None:
    document = drawn(car)
    corner = corner_of(document, end)
    names = compute(document, {}, load_names)
    every = {name: compute(document, {}, corner_loads, corner, name) for name in names}

    most = compute(document, {}, extremes, corner)

    for k, leg in enumerate(most.legs):
        pulls = {name: loads.legs[k].pull for name, loads in every.items()}
        assert max(*pulls.values(), 0.0) == (leg.pull.value if leg.pull else 0.0)
        assert min(*pulls.values(), 0.0) == (-leg.push.value if leg.push else 0.0)
        if leg.pull:
            assert pulls[leg.pull.load] == leg.pull.value
    for k, (at_, greatest) in enumerate(most.on_chassis):
        assert every[greatest.load].on_chassis[k].at == at_
        assert greatest.value == max(loads.on_chassis[k].size for loads in every.values())


def test_what_is_taken_for_granted_is_told() -> None:
    document = drawn("demo-car")

    front, rear = (
        compute(document, {}, left_out, corner_of(document, end)) for end in ("front", "rear")
    )

    assert "both legs" in front[0]
    assert rear == ()


def test_the_tubes_at_a_pick_up_take_along_themselves_what_geometry_says() -> None:
    """A force along a tube that leads to the joint is taken whole; three in no plane take all."""
    document = drawn("demo-car")
    corner = corner_of(document, "rear")
    loads: CornerLoads = compute(document, {}, corner_loads, corner, "bump")

    there = [compute(document, {}, tubes_at, each.at) for each in loads.on_chassis]

    for each, tubes in zip(loads.on_chassis, there, strict=True):
        assert 0.0 <= tubes.taken_along(each.force) <= 1.0 + 1e-12
        assert tubes.taken_along(tubes.ways[0]) == pytest.approx(1.0)
        ways: Array = np.array(tubes.ways)
        rank = np.linalg.matrix_rank(ways, tol=0.1)
        if rank == 3:
            assert tubes.taken_along(each.force) == pytest.approx(1.0)


CARRIED = 700.0


def barred_wishbones() -> Made:
    car = sprung(made_up_wishbones())
    return barred(car, wishbone_bar_places(), "lower arm", rate_nm_per_deg=12.0)


@pytest.mark.parametrize("side", SIDES)
def test_what_a_bar_carries_is_taken_off_the_damper(side: str) -> None:
    """By work: the bar carries so many N of what the load lifts, the damper the rest."""
    car = barred_wishbones()
    corner = car.corner if side == "left" else car.corner.mirrored()
    load = replace(LOAD, on_bar=CARRIED)
    damper = compute(car.document, {}, damper_at_design, corner)
    held, solved = found(car.document, corner, load)
    low, high = (solve(held.poses.linkage, at(step)) for step in (-0.05, 0.05))
    longer = float(damper_length(high, damper) - damper_length(low, damper))
    rises = float(high.centre[2] - low.centre[2])

    expected = (work(held, load, low, high) - CARRIED * rises) / longer

    assert solved.size("damper")[0] == pytest.approx(expected, rel=PART, abs=WITHIN)


def test_the_drop_link_turns_the_bar_with_what_the_bar_carries() -> None:
    """Its pull at the blade's lever is the torque of the bar, by the turn of the blade a mm."""
    car = barred_wishbones()
    poses = compute(car.document, {}, corner_statics, car.corner).poses
    bar = compute(car.document, {}, bar_at_design, car.axle)

    def link(read: Reader) -> Any:  # noqa: ANN401
        return drop_link_at(read, car.corner, poses)

    found_link = compute(car.document, {}, Cell("link", When.RELEASE, link))

    blade = bar.blade(poses)
    torque = CARRIED / float(blade.per_bump_rad)
    on_blade = -found_link.pull(CARRIED) * found_link.way
    lever = bar.left.on_blade - bar.pivot
    assert np.cross(lever, on_blade) @ blade.axis == pytest.approx(torque, rel=1e-6)


def test_the_bar_has_its_part_of_what_both_carry_in_roll() -> None:
    """Level blades turn with level arms of 350: 2 k / 350^2 beside the spring at the wheel."""
    car = barred(sprung(swinging_arm()), level_bar_places(), "upright", rate_nm_per_deg=12.0)
    rate = 2.0 * 12.0 * 1000.0 * np.degrees(1.0) / 350.0**2
    spring = compute(car.document, {}, rates_in_roll, car.corner).rate

    share = compute(car.document, {}, bar_share, car.corner)

    assert share == pytest.approx(rate / (rate + spring), rel=1e-6)


def demo_with_bar() -> Document:
    """The demo car with a bar on its front lower arms."""
    document = drawn("demo-car")
    at_ = {"bar bearing": (-150.0, 330.0, 330.0), "blade": (20.0, 400.0, 330.0)}
    places = {**at_, "link foot": (20.0, 420.0, 190.0)}
    points: dict[str, Ref] = {}
    for name, where in places.items():
        document, point = make(document, Point, name, at=Vec3(*where), pair=True)
        points[name] = Ref(point.id, "left")
    bar = AntiRollBar(
        bearing=points["bar bearing"],
        arm_end=points["blade"],
        link_lower=points["link foot"],
        rate_nm_per_deg=20.0,
    )
    return put_value(document, Address(ref(document, "front axle"), "bar"), bar)


@pytest.mark.parametrize("side", SIDES)
def test_outside_the_bar_pushes_its_wheel_down_and_inside_it_lifts(side: str) -> None:
    document = demo_with_bar()
    corner = corner_of(document, "front", side)

    outside, inside, bump = (
        compute(document, {}, corner_loads, corner, name) for name in ("outside", "inside", "bump")
    )

    assert outside.on_wheel.on_bar > 50.0
    assert inside.on_wheel.on_bar == pytest.approx(-outside.on_wheel.on_bar, rel=1e-9)
    assert bump.on_wheel.on_bar == 0.0
    for loads in (outside, inside, bump):
        given = sum(np.array(each.force) for each in loads.on_chassis)
        came = loads.on_wheel.contact + loads.on_wheel.unsprung
        assert given == pytest.approx(came, abs=1e-6)
    plain = compute(drawn("demo-car"), {}, corner_loads, corner_of(document, "front", side), "bump")
    assert [leg.pull for leg in bump.legs[:-1]] == pytest.approx([leg.pull for leg in plain.legs])
    assert "anti-roll bar" in compute(document, {}, left_out, corner)[1]
