"""Poses against general solvers, and slopes against differences."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares, root
from scipy.spatial.transform import Rotation

from core.geometry.types import Array
from core.suspension.aim import way_to
from core.suspension.arms import arm_poses
from core.suspension.constraints import Constraint, Guide, HArm, Held, Rod, Slide
from core.suspension.damper import DamperAtDesign, damper_length, damper_per_wheel_travel
from core.suspension.linkage import Linkage, WheelAtDesign, mirrored
from core.suspension.makers import Arm, any_five, five_links, upper_link_lower_h_arm
from core.suspension.slopes import evaluate
from core.suspension.solve import solve
from core.suspension.travel import Travel, at, grid, rolled
from core.suspension.turning import LEVER, turned
from core.suspension.wheel import bump_steer_slope, camber_deg, camber_slope, toe_in_deg
from tests.core.suspension.corners import LEFT, Example, made_up, of_car, vec

CENTRE = vec(0.0, 700.0, 300.0)
WHEEL = WheelAtDesign(CENTRE, vec(0.0, 1.0, 0.0), 300.0)
H_ARM = HArm(
    "lower arm",
    vec(150.0, 330.0, 180.0),
    vec(-150.0, 340.0, 175.0),
    vec(90.0, 640.0, 170.0),
    vec(-95.0, 645.0, 168.0),
)
UPPER = Rod("upper link", vec(-15.0, 380.0, 420.0), vec(5.0, 610.0, 430.0))


def toe_link() -> Rod:
    return Rod("toe link", vec(-120.0, 340.0, 250.0), vec(-130.0, 640.0, 255.0), on_rack=True)


def all_kinds() -> list[Linkage]:
    """Every kind of condition at least once."""
    ball = vec(10.0, 640.0, 170.0)
    legs = (Rod("front", vec(150.0, 330.0, 180.0), ball), Rod("rear", vec(-150, 330, 175), ball))
    guide = Guide("guide", vec(-10.0, 600.0, 420.0), vec(0.05, -0.2, 1.0))
    slide = Slide("strut", vec(0.0, 590.0, 380.0), vec(-20.0, 560.0, 640.0))
    held = Held("pivot", vec(420.0, 600.0, 280.0))
    lower = Rod("lower", vec(-40.0, 330.0, 190.0), vec(-30.0, 640.0, 180.0))
    return [
        any_five((*legs, guide, toe_link()), WHEEL),
        any_five((*legs, slide, toe_link()), WHEEL),
        any_five((held, lower, UPPER), WHEEL),
        upper_link_lower_h_arm(H_ARM, UPPER, WHEEL),
        made_up("double_wishbone_front").linkage,
    ]


def by_distances(example: Example, fixed: tuple[str, ...], rods: list[tuple[str, str]]) -> Array:
    """Wheel centres over bump from distances between points alone, by a general solver.

    The unknowns are the places of the points of the upright: every two of them keep their
    distance, every rod its length; nothing turns, and nothing is linearised here.
    """
    moving = list(example.data["moves_with"]["upright"])
    drawn = np.array([example.points[name] for name in moving])
    one, other = np.triu_indices(len(moving), 1)
    wheel, count = moving.index("wheel_centre"), len(moving)
    ends = [(example.points[a], moving.index(b)) for a, b in rods]

    def lengths(places: Array) -> Array:
        inside = np.linalg.norm(places[one] - places[other], axis=1)
        links = [np.linalg.norm(places[k] - end) for end, k in ends]
        held = [places[moving.index(name)] - example.points[name] for name in fixed]
        return np.asarray(np.concatenate([inside, links, *held]), dtype=np.float64)

    wanted = lengths(drawn)
    bumps = example.data["curves"]["bump"]["bump"]
    up = [k for k, bump in enumerate(bumps) if bump >= 0.0]
    found = np.empty((len(bumps), 3))
    for order in (up, sorted(set(range(len(bumps))) - set(up), reverse=True)):
        places = drawn
        for k in order:
            height = drawn[wheel, 2] + bumps[k]

            def errors(flat: Array, height: float = height) -> Array:
                now = flat.reshape(count, 3)
                return np.append(lengths(now) - wanted, now[wheel, 2] - height)

            solved = least_squares(errors, places.ravel(), xtol=1e-15, ftol=1e-15, gtol=1e-15)
            places = solved.x.reshape(count, 3)
            found[k] = places[wheel]
    return found


def test_wishbones_agree_with_point_distances_in_a_general_solver() -> None:
    example = made_up("double_wishbone_front")
    legs = [(f"{a}_{e}_inner", f"{a}_outer") for a in ("lower", "upper") for e in ("front", "rear")]

    found = by_distances(example, (), [*legs, ("rack_end", "steer_outer")])

    ours = solve(example.linkage, at(np.array(example.data["curves"]["bump"]["bump"]))).centre
    assert ours == pytest.approx(found, abs=1e-6)


def test_a_trailing_arm_with_links_agrees_with_point_distances_in_a_general_solver() -> None:
    example = made_up("trailing_arm_two_lateral_links")
    links = [(f"{a}_inner", f"{a}_outer") for a in ("lower", "upper")]

    found = by_distances(example, ("arm_pivot",), links)

    ours = solve(example.linkage, at(np.array(example.data["curves"]["bump"]["bump"]))).centre
    assert ours == pytest.approx(found, abs=1e-6)


def small_steps(linkage: Linkage, bump: float, steps: int) -> Array:
    """Wheel centre after small steps of a general root finder, each from the one before."""
    rods = [rod for rod in linkage.constraints if isinstance(rod, Rod)]
    inner, outer = (np.array([getattr(rod, end) for rod in rods]) for end in ("inner", "outer"))
    lengths, arms = np.linalg.norm(outer - inner, axis=1), outer - linkage.centre

    def errors(pose: Array, height: float) -> Array:
        moved = arms @ Rotation.from_rotvec(pose[3:] / LEVER).as_matrix().T + pose[:3]
        reach = np.linalg.norm(moved + linkage.centre - inner, axis=1)
        return np.append(reach - lengths, pose[2] - height)

    pose = np.zeros(6)
    for height in np.linspace(0.0, bump, steps + 1)[1:]:
        pose = root(errors, pose, args=(height,), tol=1e-12).x
    return np.asarray(pose[:3] + linkage.centre)


@settings(max_examples=10, deadline=None)
@given(seed=st.integers(0, 10_000), share=st.floats(0.5, 0.97), up=st.booleans())
def test_far_from_design_the_pose_is_the_one_reached_in_small_steps(
    seed: int, share: float, *, up: bool
) -> None:
    """Five links drawn at random about those of the demo car, most of the way to their lock."""
    numbers = np.random.default_rng(seed)
    drawn = of_car("demo", "rear").linkage
    rods = [rod for rod in drawn.constraints if isinstance(rod, Rod)]
    moved = tuple(
        Rod(r.name, r.inner + numbers.uniform(-40, 40, 3), r.outer + numbers.uniform(-25, 25, 3))
        for r in rods
    )
    linkage = five_links(moved, drawn.wheel)
    way = 400.0 if up else -400.0
    bump = way * share * float(solve(linkage, at(way)).share)

    poses = solve(linkage, at(bump))

    assert poses.is_reached
    assert poses.centre == pytest.approx(small_steps(linkage, bump, 120), abs=1e-5)


def test_no_way_from_design_crosses_a_lock_to_another_branch() -> None:
    """On an unbroken way the determinant of the slopes never passes nought, so keeps its sign.

    Two thousand sets of five links, drawn at random and taken very far.
    """
    numbers, count = np.random.default_rng(1), 2000
    drawn = of_car("demo", "rear").linkage
    rods = [rod for rod in drawn.constraints if isinstance(rod, Rod)]
    moved = tuple(
        Rod(
            rod.name,
            rod.inner + numbers.uniform(-60.0, 60.0, (count, 3)),
            rod.outer + numbers.uniform(-40.0, 40.0, (count, 3)),
        )
        for rod in rods
    )
    linkage = five_links(moved, drawn.wheel)

    poses = solve(linkage, at(numbers.uniform(-250.0, 250.0, count)))

    reached = poses.is_reached
    assert 900 < np.sum(reached) < 1500
    now = np.sign(np.linalg.det(poses.inverse[reached]))
    assert (now == np.sign(np.linalg.det(linkage.design.slopes[reached]))).all()


@pytest.mark.parametrize("kind", range(5))
def test_slopes_of_every_condition_are_those_of_differences(kind: int) -> None:
    linkage = all_kinds()[kind]
    travel = at(np.array([20.0]), np.array([5.0]))
    rows = linkage.rows.flat((1,))
    numbers = np.random.default_rng(kind)
    shift = numbers.uniform(-20.0, 20.0, (1, 3))
    rotation = turned(np.eye(3)[None], numbers.uniform(-60.0, 60.0, (1, 3)))

    for where in (travel, rolled(np.array([2.0]))):
        aim = way_to(rows, where, 300.0, (1,)).finish
        slopes = evaluate(rows, aim, shift, rotation)[1][0]
        for column in range(6):
            step = np.zeros((1, 6))
            step[0, column] = 1e-3
            ahead, behind = (
                evaluate(rows, aim, shift + s * step[:, :3], turned(rotation, s * step[:, 3:]))[0]
                for s in (1.0, -1.0)
            )
            change = (ahead - behind)[0] / 2e-3
            assert slopes[:, column] == pytest.approx(change, abs=1e-8)


@pytest.mark.parametrize("kind", range(5))
def test_every_kind_of_condition_is_kept_over_travel(kind: int) -> None:
    linkage = all_kinds()[kind]

    poses = solve(linkage, at(np.linspace(-50.0, 50.0, 11)))

    assert poses.is_reached.all()
    for held in linkage.constraints:
        assert kept(held, poses.at) == pytest.approx(np.zeros(11), abs=1e-9), held.name


def kept(held: Constraint, place: Callable[[Array], Array]) -> Array:
    """How far a condition is from being met, by its plain meaning, mm."""
    match held:
        case Rod(_, inner, outer):
            lengths = np.linalg.norm(place(outer) - inner, axis=-1)
            return np.asarray(lengths - np.linalg.norm(outer - inner))
        case Held(_, pivot):
            return np.asarray(np.linalg.norm(place(pivot) - pivot, axis=-1))
        case Slide(_, lower, top):
            return off_line(top, place(lower), place(top) - place(lower))
        case Guide(_, point, direction):
            return off_line(place(point), point, direction)
        case _:
            return np.zeros(11)


def off_line(point: Array, start: Array, direction: Array) -> Array:
    cross = np.cross(point - start, direction)
    return np.asarray(np.linalg.norm(cross, axis=-1) / np.linalg.norm(direction, axis=-1))


def test_an_h_arm_moves_as_one_stiff_piece() -> None:
    poses = solve(upper_link_lower_h_arm(H_ARM, UPPER, WHEEL), at(np.linspace(-60.0, 60.0, 13)))
    arm = arm_poses(poses, Arm(H_ARM.first_inner, H_ARM.second_inner, H_ARM.first_outer))

    # Both outer points go with the arm, turned about its two inner ones.
    for outer in (H_ARM.first_outer, H_ARM.second_outer):
        assert poses.at(outer) == pytest.approx(arm.at(outer), abs=1e-8)
    assert np.ptp(arm.angle_rad) > 0.2


def test_a_hundred_geometries_at_once_are_a_hundred_geometries_alone() -> None:
    example = of_car("demo", "rear")
    numbers = np.random.default_rng(3)
    rods = [rod for rod in example.linkage.constraints if isinstance(rod, Rod)]
    moved = numbers.uniform(-5.0, 5.0, (20, 1, 5, 3))
    many = five_links(
        tuple(Rod(r.name, r.inner + moved[..., k, :], r.outer) for k, r in enumerate(rods)),
        example.linkage.wheel,
    )
    bumps = np.linspace(-50.0, 70.0, 5)

    together = solve(many, at(bumps))

    assert together.shape == (20, 5)
    for g in range(20):
        one = tuple(Rod(r.name, r.inner + moved[g, 0, k], r.outer) for k, r in enumerate(rods))
        alone = solve(five_links(one, example.linkage.wheel), at(bumps))
        assert together.centre[g] == pytest.approx(alone.centre, abs=1e-9)
        assert toe_in_deg(together)[g] == pytest.approx(toe_in_deg(alone), abs=1e-9)


def test_a_rod_set_longer_is_a_rod_drawn_longer_and_a_shim_a_moved_end() -> None:
    linkage = of_car("demo", "front").linkage
    bumps = np.linspace(-60.0, 60.0, 7)
    longer, moved = np.zeros(5), np.zeros((5, 3))
    longer[4], moved[2] = 3.0, vec(0.0, 6.0, 0.0)

    poses = solve(linkage, Travel(bumps, np.zeros(()), ends_moved=moved, lengthened=longer))

    assert poses.is_reached.all()
    for k, held in enumerate(linkage.constraints):
        assert isinstance(held, Rod)
        reach = np.linalg.norm(poses.at(held.outer) - held.inner - moved[k], axis=-1)
        drawn = np.linalg.norm(held.outer - held.inner)
        assert reach == pytest.approx(np.full(7, drawn + longer[k]), abs=1e-9)


def test_motions_are_those_of_differences() -> None:
    example = made_up("double_wishbone_front")
    step = 0.01
    for linkage in (example.linkage, mirrored(example.linkage)):
        here = solve(linkage, at(20.0, 10.0))
        for motion, (ahead, behind) in (
            (here.per_bump, (at(20.0 + step, 10.0), at(20.0 - step, 10.0))),
            (here.per_rack, (at(20.0, 10.0 + step), at(20.0, 10.0 - step))),
        ):
            one, other = solve(linkage, ahead), solve(linkage, behind)
            rate = (one.centre - other.centre) / (2.0 * step)
            assert motion.velocity == pytest.approx(rate, abs=1e-7)
            change = (one.spin - other.spin) / (2.0 * step)
            assert motion.of(here.spin) == pytest.approx(change, abs=1e-9)


def test_the_motion_of_a_longer_rod_is_that_of_a_difference() -> None:
    linkage = of_car("demo", "rear").linkage
    longer = np.zeros((2, 5))
    longer[:, 4] = 0.01, -0.01

    poses = solve(linkage, Travel(np.array(30.0), np.zeros(()), lengthened=longer))

    motion = solve(linkage, at(30.0)).per_row(4)
    assert motion.velocity == pytest.approx((poses.centre[0] - poses.centre[1]) / 0.02, abs=1e-7)


@pytest.mark.parametrize("car", ["demo", "second"])
@pytest.mark.parametrize("end", ["front", "rear"])
def test_slopes_of_camber_and_toe_are_those_of_differences(car: str, end: str) -> None:
    linkage = of_car(car, end).linkage
    bumps = np.linspace(-40.0, 40.0, 5)

    here, one, other = (solve(linkage, at(bumps + step)) for step in (0.0, 0.01, -0.01))

    for slope, read in ((camber_slope, camber_deg), (bump_steer_slope, toe_in_deg)):
        assert slope(here) == pytest.approx((read(one) - read(other)) / 0.02, abs=1e-8)


@pytest.mark.parametrize("car", ["demo", "second"])
@pytest.mark.parametrize("end", ["front", "rear"])
def test_the_force_at_the_wheel_is_the_slope_of_the_spring_energy(car: str, end: str) -> None:
    example = of_car(car, end)
    rate, free = 20.0, 500.0
    poses = solve(example.linkage, grid(np.array([29.99, 30.0, 30.01]), np.array([0.0])))

    length = damper_length(poses, example.damper)[:, 0]
    energy = 0.5 * rate * (free - length) ** 2

    force = (energy[2] - energy[0]) / 0.02
    ratio = damper_per_wheel_travel(poses, example.damper)[1, 0]
    assert force == pytest.approx(rate * (free - length[1]) * ratio, rel=1e-7)


def test_a_damper_on_an_arm_is_not_one_on_the_upright() -> None:
    example = of_car("demo", "front")
    on_upright = DamperAtDesign(example.damper.lower, example.damper.upper)

    poses = solve(example.linkage, at(60.0))

    apart = damper_length(poses, example.damper) - damper_length(poses, on_upright)
    assert abs(float(apart)) > 0.1


def test_the_rack_moves_the_same_way_on_both_sides_of_the_car() -> None:
    left = of_car("demo", "front").linkage

    for linkage in (left, mirrored(left)):
        poses = solve(linkage, at(0.0, 20.0))
        rod = linkage.constraints[-1]
        assert isinstance(rod, Rod)
        reach = np.linalg.norm(poses.at(rod.outer) - rod.inner - 20.0 * LEFT)
        assert reach == pytest.approx(np.linalg.norm(rod.outer - rod.inner), abs=1e-9)
