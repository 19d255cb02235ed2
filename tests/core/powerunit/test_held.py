"""Movement on mounts: balance, mirror image, closed forms, what is left free."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize
from scipy.spatial.transform import Rotation

from core.geometry.frames import Frame
from core.geometry.types import Array
from core.powerunit.bushes import Bush, MountError, across_the_stay
from core.powerunit.held import FreeMotionError, Held, motions_free, moved
from tests.core.powerunit.mounted import NONE, bush, on, square_axes, three

REACH = st.floats(-600.0, 600.0)
SHARE = st.floats(-1.0, 1.0)
FORCES = st.lists(st.floats(-5000.0, 5000.0), min_size=3, max_size=3).map(np.array)


@st.composite
def held_somehow(draw: st.DrawFn) -> Held:
    """Three or four mounts near the corners of a box, with axes turned anyhow."""
    corners = [(300.0, 400.0, 200.0), (300.0, -400.0, 150.0), (-300.0, 50.0, -200.0)]
    corners += [(-250.0, -300.0, 100.0)][: draw(st.integers(0, 1))]
    bushes: list[Bush] = []
    for corner in corners:
        place = np.array(corner) + [draw(st.floats(-80.0, 80.0)) for _ in "xyz"]
        axes = square_axes([draw(SHARE) for _ in range(9)])
        stiffness = np.array([draw(st.floats(50.0, 3000.0)) for _ in "xyz"])
        bushes.append(Bush("some mount", place, axes, stiffness, NONE))
    return Held(np.array([draw(REACH) / 10.0 for _ in "xyz"]), tuple(bushes))


@given(held_somehow(), FORCES, FORCES)
def test_forces_on_the_chassis_balance_the_load(held: Held, force: Array, torque: Array) -> None:
    found = moved(held, force, torque)

    assert found.forces.sum(axis=0) == pytest.approx(force, abs=1e-4)
    arms = np.array([each.place for each in held.bushes]) - held.centre
    about = np.cross(arms, found.forces).sum(axis=0)
    assert about / 1000.0 == pytest.approx(torque, abs=1e-4)


@given(held_somehow(), FORCES, FORCES)
def test_the_rubber_takes_up_half_of_load_times_way(
    held: Held, force: Array, torque: Array
) -> None:
    """Clapeyron's theorem; and the sum of k d^2 / 2 of every spring."""
    found = moved(held, force, torque)

    work = (force @ found.move + 1000.0 * torque @ found.twist[3:]) / 2.0
    springs = sum(
        float(each.stiffness @ own**2) / 2.0
        for each, own in zip(held.bushes, found.own_moves, strict=True)
    )
    assert found.energy == pytest.approx(work, rel=1e-6, abs=1e-6)
    assert found.energy == pytest.approx(springs, rel=1e-6, abs=1e-6)


@given(held_somehow(), FORCES, FORCES)
def test_a_mirrored_car_moves_as_in_a_mirror(held: Held, force: Array, torque: Array) -> None:
    flip = np.array([1.0, -1.0, 1.0])
    bushes = tuple(
        Bush("mirrored", each.place * flip, each.axes * flip[:, None], each.stiffness, NONE)
        for each in held.bushes
    )

    straight = moved(held, force, torque)
    mirrored = moved(Held(held.centre * flip, bushes), force * flip, -torque * flip)

    assert mirrored.move == pytest.approx(straight.move * flip, abs=1e-7)
    assert mirrored.turn_deg == pytest.approx(-straight.turn_deg * flip, abs=1e-7)


@given(held_somehow(), FORCES, FORCES, st.lists(SHARE, min_size=9, max_size=9))
def test_a_turned_car_moves_as_turned(
    held: Held, force: Array, torque: Array, numbers: list[float]
) -> None:
    turn = square_axes(numbers)
    bushes = tuple(
        Bush("turned", turn @ each.place, turn @ each.axes, each.stiffness, NONE)
        for each in held.bushes
    )

    found = moved(Held(turn @ held.centre, bushes), turn @ force, turn @ torque)

    straight = moved(held, force, torque)
    assert found.move == pytest.approx(turn @ straight.move, abs=1e-6)
    assert found.turn_deg == pytest.approx(turn @ straight.turn_deg, abs=1e-6)


def test_two_pairs_of_springs_sink_and_turn_by_hand() -> None:
    """Closed form: springs k in pairs at +-a sink by F / (4 k) and turn by T / (4 k a^2)."""
    corners = [(x, y, 0.0) for x in (-200.0, 200.0) for y in (-300.0, 300.0)]
    held = on(*(bush(corner, (600.0, 300.0, 450.0)) for corner in corners))

    found = moved(held, np.array([0.0, 0.0, -1800.0]), np.array([0.0, 72.0, 0.0]))

    assert found.move == pytest.approx([0.0, 0.0, -1.0])
    assert found.twist[3:] == pytest.approx([0.0, 72e3 / (4.0 * 450.0 * 200.0**2), 0.0])
    # A turn about +y, from z to x, lowers what is ahead.
    assert found.at(np.array([200.0, 0.0, 0.0]))[2] == pytest.approx(-1.0 - 200.0 * 0.001)


def test_true_turns_differ_by_the_second_order_alone() -> None:
    """A minimum of energy with true rotations, found by search, near small and far apart large."""
    held = on(*three())

    def by_search(torque: float) -> Array:
        def energy(q: Array) -> float:
            turned = Rotation.from_rotvec(q[3:] / 400.0).as_matrix()
            stored = sum(
                float(b.stiffness @ (b.axes.T @ (q[:3] + turned @ b.place - b.place)) ** 2) / 2
                for b in held.bushes
            )
            return stored - torque * 1000.0 * float(q[4]) / 400.0

        return np.asarray(minimize(energy, np.zeros(6), method="BFGS", tol=1e-4).x)

    for torque, near in ((-25.0, 2e-3), (-2500.0, 0.15)):
        found = moved(held, np.zeros(3), np.array([0.0, torque, 0.0])).twist[4]
        assert found == pytest.approx(by_search(torque)[4] / 400.0, rel=near)


def test_a_frame_is_carried_by_a_true_rotation_about_the_moved_centre() -> None:
    found = moved(on(*three()), np.array([0.0, 500.0, 0.0]), np.array([0.0, -1500.0, 200.0]))

    carried = found.carried(Frame(np.array([100.0, 50.0, -20.0]), np.eye(3)))

    assert carried.axes.T @ carried.axes == pytest.approx(np.eye(3), abs=1e-12)
    place = np.array([100.0, 50.0, -20.0])
    assert carried.origin - place == pytest.approx(found.at(place), abs=0.1)
    straight = Rotation.from_matrix(carried.axes).as_rotvec(degrees=True)
    assert straight == pytest.approx(found.turn_deg, abs=1e-9)


def test_stops_count_from_rest_either_way() -> None:
    gaps = np.array([2.0, np.inf, 1.0])
    held = on(*(bush(tuple(b.place), tuple(b.stiffness), stop_gap=gaps) for b in three()))

    one = moved(held, np.array([3000.0, 0.0, 0.0]), np.zeros(3))
    other = moved(held, np.array([-3000.0, 0.0, 0.0]), np.zeros(3))

    assert one.stop_left == pytest.approx(other.stop_left)
    assert one.stop_left[:, 0] == pytest.approx(2.0 - np.abs(one.own_moves[:, 0]))
    assert np.isinf(one.stop_left[:, 1]).all()


def test_two_bushes_leave_the_turn_about_the_line_through_both() -> None:
    one, other, _ = three()

    (free,) = motions_free(on(one, other))

    line = other.place - one.place
    assert free.kind == "turn"
    assert np.cross(free.along, line) == pytest.approx(np.zeros(3), abs=1e-6)
    assert np.cross(free.through - one.place, line) == pytest.approx(np.zeros(3), abs=1e-5)
    assert free.through @ line == pytest.approx(0.0, abs=1e-5)  # nearest to the centre of gravity
    assert free.slide_per_turn == pytest.approx(0.0, abs=1e-6)


def test_one_bush_leaves_every_turn_about_it() -> None:
    place = (75.0, -380.0, 185.0)

    free = motions_free(on(bush(place)))

    assert [each.kind for each in free] == ["turn"] * 3
    assert np.array([each.along for each in free]) == pytest.approx(np.eye(3), abs=1e-9)
    for each in free:
        apart = np.array(place) - each.through
        assert np.cross(apart, each.along) == pytest.approx(np.zeros(3), abs=1e-6)


def test_a_spring_that_none_of_the_mounts_has_is_a_free_slide() -> None:
    held = on(*(bush(tuple(each.place), (600.0, 0.0, 450.0)) for each in three()))

    (free,) = motions_free(held)

    assert free.kind == "slide"
    assert free.along == pytest.approx([0.0, 1.0, 0.0], abs=1e-6)


def test_a_screw_that_nothing_resists_tells_its_slide() -> None:
    """Two pairs of springs square to a screw about z of 50 mm a radian, and one along its rim."""
    screw = np.array([0.0, 0.0, 50.0, 0.0, 0.0, 1.0])
    places = [(100.0, 0.0, 0.0), (0.0, 120.0, 30.0), (-90.0, -40.0, 10.0)]
    bushes: list[Bush] = []
    for place in places:
        bare = bush(place)
        way = on(bare).move_at(bare.place) @ screw
        axes = across_the_stay(np.eye(3), way)
        bushes.append(bush(place, (0.0, 500.0, 700.0), axes))

    (free,) = motions_free(on(*bushes))

    assert free.along == pytest.approx([0.0, 0.0, 1.0], abs=1e-6)
    assert free.slide_per_turn == pytest.approx(50.0, abs=1e-4)


def test_nothing_at_all_leaves_all_six() -> None:
    kinds = [each.kind for each in motions_free(on())]

    assert kinds == ["slide"] * 3 + ["turn"] * 3


@given(held_somehow())
def test_what_is_held_has_no_free_motion_and_loses_none_by_one_more(held: Held) -> None:
    assert motions_free(held) == ()
    assert len(motions_free(held.without(0))) <= 1


def test_a_free_unit_is_not_moved_but_refused() -> None:
    with pytest.raises(FreeMotionError, match="free to move"):
        moved(on(*three()[:2]), np.zeros(3), np.array([0.0, 1.0, 0.0]))


def test_a_free_motion_goes_without_force() -> None:
    """The stiffness times the motion told is nought, whatever is told."""
    for held in (on(three()[0]), on(*three()[:2]), on(*three()[1:])):
        for free in motions_free(held):
            turn = free.along if free.kind == "turn" else np.zeros(3)
            move = np.cross(free.through - held.centre, turn) + free.along * (
                free.slide_per_turn if free.kind == "turn" else 1.0
            )
            push = held.stiffness @ np.concatenate([move, turn])
            assert np.abs(push).max() < 1e-5 * np.abs(held.stiffness).max()


def test_mounts_in_one_place_are_refused() -> None:
    with pytest.raises(MountError, match="in one place: was one entered twice"):
        on(bush((1.0, 2.0, 3.0)), bush((1.0, 2.0, 3.0)))


@pytest.mark.parametrize(
    ("made", "words"),
    [
        (lambda: bush((0.0, 0.0, 0.0), (0.0, 0.0, 0.0)), "it holds nothing"),
        (lambda: bush((0.0, 0.0, 0.0), (1.0, -1.0, 1.0)), "below nought"),
        (lambda: bush((np.nan, 0.0, 0.0)), "not a number"),
        (lambda: bush((0.0, 0.0, 0.0), stop_gap=np.array([1.0, -1.0, 1.0])), "below nought"),
        (lambda: bush((0.0, 0.0, 0.0), axes=np.ones((3, 3))), "not square"),
        (lambda: across_the_stay(np.eye(3), np.zeros(3)), "ends of a stay are in one place"),
        (lambda: across_the_stay(np.eye(3), np.array([0.0, 9.0, 0.0])), "lies along it"),
    ],
)  # fmt: skip
def test_a_mount_that_cannot_be_is_refused(made: object, words: str) -> None:
    assert callable(made)
    with pytest.raises(MountError, match=words):
        made()


def test_a_stay_is_stiff_along_itself_whichever_way_its_axes_were_entered() -> None:
    along = np.array([-88.0, 30.0, -10.0])

    axes = across_the_stay(np.eye(3), along)

    assert axes.T @ axes == pytest.approx(np.eye(3), abs=1e-12)
    assert np.linalg.det(axes) == pytest.approx(1.0)
    stay = bush((0.0, 0.0, 0.0), (1500.0, 0.0, 0.0), axes)
    assert stay.in_car @ along == pytest.approx(1500.0 * along)
    assert stay.in_car @ np.cross(along, [0.0, 0.0, 1.0]) == pytest.approx(np.zeros(3), abs=1e-9)
