"""What a step of an adjuster does: by hand on level wishbones, and by other ways of solving."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.geometry.types import Array
from core.suspension.adjusting import (
    Adjuster,
    eccentric,
    eccentric_deg,
    effects,
    screwed_rod,
    shims,
    slot,
)
from core.suspension.changes import Change, points_of
from core.suspension.constraints import Rod
from core.suspension.figures import READ, Figure
from core.suspension.solve import solve
from core.suspension.steering import castor_deg
from core.suspension.travel import Travel, at
from core.suspension.wheel import camber_deg, toe_in_deg
from tests.core.suspension.corners import of_car, vec
from tests.core.suspension.level import APART, BEHIND, ball_out, level_corner

ENDS = [(car, end) for car in ("demo", "second") for end in ("front", "rear")]


def effect(found: Array, figures: tuple[Figure, ...], figure: Figure) -> Array:
    return np.asarray(found[:, figures.index(figure)])


def test_an_upper_ball_screwed_out_leans_the_wheel_by_its_length_over_the_balls_distance() -> None:
    """Closed form of level parallel arms: camber d / distance between the balls, to first order.

    The toe link is half-way up and keeps its length, so half of what the top goes out is steered.
    """
    adjuster = Adjuster(ball_out("upper arm"), -10.0, 10.0, 2.0, "turn")

    found = effects(level_corner(), (adjuster,))

    camber = np.degrees(1.0 / APART)
    assert effect(found.per_mm, found.figures, "camber") == pytest.approx([camber], rel=1e-6)
    toe = -np.degrees(0.5 / BEHIND)
    assert effect(found.per_mm, found.figures, "toe_in") == pytest.approx([toe], rel=1e-6)
    assert effect(found.per_step, found.figures, "camber") == pytest.approx([2 * camber], rel=1e-2)
    # The lower ball stays, so the contact, 200 mm below it, goes in as far as the upper goes out.
    assert effect(found.per_mm, found.figures, "half_track") == pytest.approx([-1.0], rel=1e-6)


def test_a_toe_link_behind_the_axle_made_longer_turns_the_front_in() -> None:
    """Closed form: about an upright axis through the wheel centre, length over lever."""
    adjuster = screwed_rod("toe link", -5.0, 5.0, 1.5, 0.5)

    found = effects(level_corner(), (adjuster,))

    toe = np.degrees(1.0 / BEHIND)
    assert effect(found.per_mm, found.figures, "toe_in") == pytest.approx([toe], rel=1e-6)
    assert effect(found.per_step, found.figures, "toe_in") == pytest.approx([1.5 * toe], rel=1e-3)
    for figure in ("camber", "castor"):
        assert effect(found.per_mm, found.figures, figure) == pytest.approx([0.0], abs=1e-6)


@pytest.mark.parametrize(("car", "end"), ENDS)
def test_slopes_by_length_are_those_of_the_conditions(car: str, end: str) -> None:
    """The implicit derivative by the inverse of the conditions' slopes, at two heights."""
    linkage = of_car(car, end).linkage
    rods = [held.name for held in linkage.constraints if isinstance(held, Rod)]
    for bump in (0.0, 25.0):
        poses = solve(linkage, at(bump))

        found = effects(linkage, tuple(screwed_rod(r, -5.0, 5.0, 1.0, 0.0) for r in rods), at(bump))

        spin = poses.spin
        for k, name in enumerate(rods):
            motion = poses.per_row(linkage.rows.names.index(name))
            change = motion.of(spin)
            camber = np.degrees(-change[2] / np.sqrt(1.0 - spin[2] ** 2))
            turn = spin[1] * change[0] - spin[0] * change[1]
            toe = np.degrees(turn / (spin[0] ** 2 + spin[1] ** 2))
            by_name = dict(zip(found.figures, found.per_mm[k], strict=True))
            assert by_name["camber"] == pytest.approx(camber, abs=1e-6)
            assert by_name["toe_in"] == pytest.approx(toe, abs=1e-6)
            assert by_name["forward"] == pytest.approx(motion.velocity[0], abs=1e-6)


def test_a_whole_step_is_the_difference_of_two_solved_corners() -> None:
    linkage = of_car("demo", "front").linkage
    longer = np.zeros(5)
    longer[4] = 2.5

    found = effects(linkage, (screwed_rod("track rod", -5.0, 5.0, 1.75, 0.5),), amounts=vec(0.75))

    after, before = (
        solve(linkage, Travel(np.zeros(()), np.zeros(()), lengthened=longer * share))
        for share in (1.0, 0.3)
    )
    for figure, change in zip(found.figures, found.per_step[0], strict=True):
        read = READ[figure]
        assert change == pytest.approx(float(read(after) - read(before)), abs=1e-9), figure


def test_bump_steer_follows_a_shim_as_toe_at_two_heights_does() -> None:
    linkage = of_car("demo", "front").linkage
    inner = points_of(linkage)[6]
    assert inner.ends == (("track rod", "inner"),)
    adjuster = shims("rack shims", (inner,), vec(0.0, 0.0, 1.0), 10.0, 0.5)
    moved = np.zeros((2, 1, 5, 3))
    moved[0, :, 4, 2] = 1.0

    found = effects(linkage, (adjuster,))

    toe = toe_in_deg(solve(linkage, Travel(vec(-1.0, 1.0), np.zeros(()), ends_moved=moved)))
    slope = (toe[:, 1] - toe[:, 0]) / 2.0
    change = effect(found.per_step, found.figures, "bump_steer")
    assert change == pytest.approx([slope[0] - slope[1]], abs=1e-7)
    assert abs(change[0]) > 1e-3


def test_the_top_of_a_strut_moved_in_leans_the_wheel_in_and_moved_back_gives_castor() -> None:
    linkage = of_car("second", "front").linkage
    top = next(each for each in points_of(linkage) if ("strut", "top") in each.ends)
    inward = slot("camber plate", (top,), vec(0.0, -1.0, 0.0), -6.0, 6.0)
    back = slot("castor plate", (top,), vec(-1.0, 0.0, 0.0), -6.0, 6.0)

    found = effects(linkage, (inward, back))

    axis = linkage.steering_axis
    assert axis is not None
    height = axis.upper[2] - axis.lower[2]
    camber = effect(found.per_mm, found.figures, "camber")
    castor = effect(found.per_mm, found.figures, "castor")
    # Top over the height of the axis; what the lower ball goes by itself is the rest.
    assert camber[0] == pytest.approx(-np.degrees(1.0 / height), rel=0.1)
    assert castor[1] == pytest.approx(np.degrees(1.0 / height), rel=0.1)


def test_a_corner_without_a_steering_axis_has_no_castor() -> None:
    linkage = of_car("demo", "rear").linkage

    found = effects(linkage, (screwed_rod("toe_inner", -5.0, 5.0, 1.0, 0.0),))

    assert "castor" not in found.figures
    with pytest.raises(ValueError, match="steering axis"):
        castor_deg(solve(linkage, at()))


@given(st.floats(-90.0, 90.0), st.floats(0.5, 10.0))
def test_an_eccentric_turned_is_that_far_along_its_slot(turn: float, throw: float) -> None:
    """Its centre goes round a circle: throw times the sine."""
    amount = np.array(throw * np.sin(np.radians(turn)))

    assert eccentric_deg(amount, throw) == pytest.approx(turn, abs=1e-4)


def test_an_eccentric_reaches_its_throw_either_way_and_a_shim_only_one() -> None:
    points = points_of(level_corner())[:1]
    bolt = eccentric("camber bolt", points, vec(0.0, 2.0, 0.0), 4.0)
    pack = shims("shims", points, vec(0.0, 1.0, 0.0), 6.0, 0.5)

    assert (bolt.least, bolt.most) == (-4.0, 4.0)
    assert bolt.change.direction == pytest.approx(vec(0.0, 1.0, 0.0))
    assert eccentric_deg(vec(4.0), 4.0) == pytest.approx([90.0])
    assert (pack.least, pack.most, pack.smallest) == (0.0, 6.0, 0.5)
    assert screwed_rod("rod", -5.0, 5.0, 1.75, 0.5).units(3.5) == pytest.approx(2.0)


def test_an_adjuster_without_range_or_step_is_refused() -> None:
    change = Change("rod", (("rod", 1.0),))

    for least, most, step in ((1.0, 1.0, 1.0), (2.0, -2.0, 1.0), (-1.0, 1.0, 0.0)):
        with pytest.raises(ValueError, match="rod"):
            Adjuster(change, least, most, step)


def test_a_wheel_leans_as_far_for_a_turn_whichever_way_it_is_asked() -> None:
    """A turn out and then a turn back ends where it began."""
    adjuster = screwed_rod("upper arm, front leg", -9.0, 9.0, 2.0, 0.0)
    linkage = of_car("demo", "front").linkage

    out = effects(linkage, (adjuster,), amounts=vec(1.0)).per_step
    back = effects(
        linkage,
        (Adjuster(Change("back", (("upper arm, front leg", -1.0),)), -9.0, 9.0, 2.0),),
        amounts=vec(-3.0),
    ).per_step

    assert out == pytest.approx(-back, abs=1e-9)
    assert np.abs(out[0, 0]) > 0.1
    assert camber_deg(solve(linkage, at())) == pytest.approx(0.0, abs=1e-9)
