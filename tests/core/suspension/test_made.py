"""Corners made otherwise than drawn, against a general solver that knows nothing of rows."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from core.geometry.frames import mirror
from core.geometry.types import Array
from core.suspension.changes import (
    AXES,
    Change,
    Point,
    lengthening,
    moving,
    points_of,
    redrawn,
)
from core.suspension.constraints import HArm, Held, Rod, Slide
from core.suspension.linkage import Linkage, mirrored
from core.suspension.made import made, solve_with, travel_with
from core.suspension.makers import semi_trailing_arm, upper_link_lower_h_arm
from core.suspension.solve import solve
from core.suspension.steering import axis_points, castor_deg
from core.suspension.travel import at
from core.suspension.wheel import camber_deg, toe_in_deg
from tests.core.suspension.corners import made_up, of_car, vec
from tests.core.suspension.test_other_methods import H_ARM, UPPER, WHEEL

CORNERS = {
    "wishbones": lambda: of_car("demo", "front").linkage,
    "five links": lambda: of_car("demo", "rear").linkage,
    "strut": lambda: of_car("second", "front").linkage,
    "trailing arm": lambda: made_up("trailing_arm_two_lateral_links").linkage,
}


def point(linkage: Linkage, *ends: tuple[str, str]) -> Point:
    return next(each for each in points_of(linkage) if set(ends) <= set(each.ends))


def every_coordinate(linkage: Linkage) -> tuple[Change, ...]:
    return tuple(
        moving(f"{each.name}, {axis}", (each,), way)
        for each in points_of(linkage)
        for axis, way in AXES.items()
    )


def by_meaning(linkage: Linkage, shifts: dict[tuple[str, str], Array], bump: float) -> Array:
    """Wheel centre and spin axis, (2, 3), from what each part means, by a general solver.

    Rods keep their drawn lengths, balls stay in their cups, the top of a strut on its line; all
    of the upright is carried by one shift and one turn.
    """
    centre, zero = linkage.centre, np.zeros(3)

    def errors(pose: Array) -> Array:
        turn = Rotation.from_rotvec(pose[3:] / 400.0).as_matrix()

        def carried(place: Array) -> Array:
            return np.asarray(turn @ (place - centre) + centre + pose[:3])

        missed: list[float] = [float(pose[2] - bump)]
        for held in linkage.constraints:
            inner, outer, place, lower, top = (
                shifts.get((held.name, end), zero)
                for end in ("inner", "outer", "place", "lower", "top")
            )
            if isinstance(held, Rod):
                reach = carried(held.outer + outer) - held.inner - inner
                drawn = np.linalg.norm(held.outer - held.inner)
                missed.append(float(np.linalg.norm(reach) - drawn))
            elif isinstance(held, Held):
                missed.extend(carried(held.place) - held.place - place)
            elif isinstance(held, Slide):
                foot = carried(held.lower + lower)
                along = turn @ (held.top - held.lower - lower)
                off = np.cross(held.top + top - foot, along) / np.linalg.norm(along)
                missed.extend(off)
        return np.array(missed)

    start = np.array([0.0, 0.0, bump, 0.0, 0.0, 0.0])
    found = least_squares(errors, start, xtol=1e-15, ftol=1e-15, gtol=1e-15)
    assert np.abs(found.fun).max() < 1e-8
    turn = Rotation.from_rotvec(found.x[3:] / 400.0).as_matrix()
    return np.stack([centre + found.x[:3], turn @ linkage.spin])


@pytest.mark.parametrize("kind", CORNERS)
def test_every_point_off_at_once_stands_where_a_general_solver_puts_it(kind: str) -> None:
    linkage = CORNERS[kind]()
    changes = every_coordinate(linkage)
    amounts = np.random.default_rng(2).uniform(-4.0, 4.0, (3, len(changes)))

    poses = solve_with(linkage, changes, amounts, at(vec(-40.0, 0.0, 50.0)))

    assert poses.is_reached.all()
    for k, row in enumerate(amounts):
        shifts: dict[tuple[str, str], Array] = {}
        for change, amount in zip(changes, row, strict=True):
            for end in change.moves:
                shifts[end] = shifts.get(end, np.zeros(3)) + amount * change.direction
        for h, bump in enumerate((-40.0, 0.0, 50.0)):
            centre, spin = by_meaning(linkage, shifts, bump)
            assert poses.centre[k, h] == pytest.approx(centre, abs=1e-6)
            assert poses.spin[k, h] == pytest.approx(spin, abs=1e-8)


@pytest.mark.parametrize("kind", CORNERS)
@settings(max_examples=15, deadline=None)
@given(st.tuples(*[st.floats(-20.0, 20.0)] * 3), st.floats(-40.0, 40.0))
def test_all_of_the_chassis_moved_takes_the_wheel_with_it(
    kind: str, way: tuple[float, float, float], bump: float
) -> None:
    linkage = CORNERS[kind]()
    chassis = tuple(each for each in points_of(linkage) if each.body == "chassis")
    changes = tuple(moving(axis, chassis, along) for axis, along in AXES.items())

    moved = solve_with(linkage, changes, np.array(way), at(bump + way[2]))

    still = solve(linkage, at(bump))
    assert moved.centre == pytest.approx(still.centre + np.array(way), abs=1e-7)
    assert moved.spin == pytest.approx(still.spin, abs=1e-9)


def test_solving_a_made_corner_the_plain_way_gives_the_same() -> None:
    linkage = of_car("second", "front").linkage
    changes = every_coordinate(linkage)
    amounts = np.random.default_rng(4).uniform(-3.0, 3.0, (20, len(changes)))
    bumps = np.linspace(-50.0, 50.0, 3)

    plain = solve(made(linkage, changes, amounts[:, None]), at(bumps))

    poses = solve_with(linkage, changes, amounts, at(bumps))
    assert plain.is_reached.all()
    assert plain.centre == pytest.approx(poses.centre, abs=1e-8)


@settings(max_examples=20, deadline=None)
@given(st.lists(st.floats(-5.0, 5.0), min_size=3, max_size=3), st.floats(-50.0, 50.0))
def test_rods_and_shims_come_to_the_same_by_positions(amounts: list[float], bump: float) -> None:
    linkage = of_car("demo", "front").linkage
    inner = point(linkage, ("upper arm, front leg", "inner"))
    changes = (
        lengthening("track rod", "track rod"),
        lengthening("lower arm", "lower arm, front leg", "lower arm, rear leg"),
        moving("shim", (inner,), vec(0.1, 1.0, 0.2)),
    )

    by_position = solve(linkage, travel_with(linkage, changes, np.array(amounts), at(bump)))

    poses = solve_with(linkage, changes, np.array(amounts), at(bump))
    assert poses.centre == pytest.approx(by_position.centre, abs=1e-8)
    assert poses.spin == pytest.approx(by_position.spin, abs=1e-10)


def test_changes_on_top_of_changes_add_up() -> None:
    linkage = of_car("demo", "rear").linkage
    changes = every_coordinate(linkage)
    amounts = np.random.default_rng(7).uniform(-2.0, 2.0, (4, len(changes)))
    longer = lengthening("toe link", "toe_inner")

    twice = solve_with(made(linkage, changes, amounts), (longer,), vec(1.5), at(20.0))

    together = np.concatenate([amounts, np.full((4, 1), 1.5)], axis=1)
    once = solve_with(linkage, (*changes, longer), together, at(20.0))
    assert twice.centre == pytest.approx(once.centre, abs=1e-12)


@pytest.mark.parametrize("upper", ["wishbones", "strut"])
def test_the_steering_axis_goes_through_the_points_it_is_made_of(upper: str) -> None:
    linkage = CORNERS[upper]()
    assert linkage.steering_axis is not None
    top = ("strut", "top") if upper == "strut" else ("upper arm, rear leg", "outer")
    change = moving("top back", (point(linkage, top),), vec(-1.0, 0.0, 0.0))

    poses = solve_with(linkage, (change,), vec(5.0), at(10.0))

    moved = linkage.steering_axis.upper + vec(-5.0, 0.0, 0.0)
    wanted = moved if upper == "strut" else poses.at(moved)
    assert axis_points(poses)[1] == pytest.approx(wanted, abs=1e-9)
    # A ball that is off on the upright stays where the arms hold it: the upright winds, not the
    # axis. The top of a strut goes along.
    change_deg = castor_deg(poses) - castor_deg(solve(linkage, at(10.0)))
    assert change_deg > 0.4 if upper == "strut" else abs(change_deg) < 0.05


def test_the_mirrored_corner_with_mirrored_changes_reads_the_same() -> None:
    linkage = of_car("demo", "front").linkage
    changes = every_coordinate(linkage)
    other = tuple(Change(c.name, c.longer, c.moves, mirror(c.direction)) for c in changes)
    amounts = np.random.default_rng(9).uniform(-3.0, 3.0, (5, len(changes)))

    left = solve_with(linkage, changes, amounts, at(30.0))
    right = solve_with(mirrored(linkage), other, amounts, at(30.0))

    for read in (camber_deg, toe_in_deg, castor_deg):
        assert read(left) == pytest.approx(read(right), abs=1e-9)


def test_a_corner_drawn_elsewhere_closes_at_design_with_its_wheel_as_drawn() -> None:
    linkage = of_car("demo", "front").linkage
    changes = every_coordinate(linkage)
    amounts = np.random.default_rng(1).uniform(-10.0, 10.0, (6, len(changes)))

    drawn = redrawn(linkage, changes, amounts)

    poses = solve(drawn, at())
    assert poses.spin == pytest.approx(np.tile(linkage.spin, (6, 1)), abs=1e-12)
    axis, ball = drawn.steering_axis, point(linkage, ("lower arm, front leg", "outer"))
    assert axis is not None
    assert axis.lower == pytest.approx(drawn.constraints[0].outer)  # type: ignore[union-attr]
    assert ball.ends == (("lower arm, front leg", "outer"), ("lower arm, rear leg", "outer"))


def test_points_of_a_stiff_arm_can_be_drawn_elsewhere_but_not_made_so() -> None:
    linkage = upper_link_lower_h_arm(H_ARM, UPPER, WHEEL)
    change = moving("arm", (point(linkage, ("lower arm", "second_outer")),), vec(0.0, 0.0, 1.0))

    drawn = redrawn(linkage, (change,), vec(5.0))

    arm = drawn.constraints[0]
    assert isinstance(arm, HArm)
    assert arm.second_outer == pytest.approx(H_ARM.second_outer + vec(0.0, 0.0, 5.0))
    with pytest.raises(ValueError, match="stiff arm"):
        made(linkage, (change,), vec(5.0))


def test_a_hinge_moved_sideways_shifts_the_wheel_and_twisted_turns_it() -> None:
    """A trailing arm on a hinge across the car: exact, a turn of the hinge is one of the wheel."""
    linkage = semi_trailing_arm(vec(350.0, 600.0, 300.0), vec(350.0, 400.0, 300.0), WHEEL)
    ends = points_of(linkage)
    out = moving("both out", ends, vec(0.0, 1.0, 0.0))
    twist = moving("outer end forward", ends[:1], vec(1.0, 0.0, 0.0))

    poses = solve_with(linkage, (out, twist), np.array([[3.0, 0.0], [0.0, 2.0]]), at())

    assert poses.centre[0] - linkage.centre == pytest.approx(vec(0.0, 3.0, 0.0), abs=1e-9)
    assert abs(toe_in_deg(poses)[1]) == pytest.approx(np.degrees(np.arctan(2.0 / 200.0)), abs=1e-9)


WRONG: dict[str, tuple[Callable[[Linkage], object], str]] = {
    "rod": (lambda k: solve_with(k, (lengthening("a", "no rod"),), vec(1.0), at()), "no rod"),
    "end": (
        lambda k: made(k, (Change("a", moves=(("strut", "top"),)),), vec(1.0)),
        "no top end of strut",
    ),
    "length": (lambda k: redrawn(k, (lengthening("a", "track rod"),), vec(1.0)), "on a drawing"),
    "outer": (
        lambda k: travel_with(
            k, (moving("a", (points_of(k)[1],), vec(0.0, 0.0, 1.0)),), vec(1.0), at()
        ),
        "not the chassis end",
    ),
    "many": (
        lambda k: made(
            redrawn(k, every_coordinate(k), np.zeros((2, 24))), every_coordinate(k), np.zeros(24)
        ),
        "one drawing",
    ),
}


@pytest.mark.parametrize("what", WRONG)
def test_what_is_not_there_is_said(what: str) -> None:
    act, said = WRONG[what]

    with pytest.raises(ValueError, match=said):
        act(of_car("demo", "front").linkage)
