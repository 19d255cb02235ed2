"""Many built cars: by hand on level wishbones, one by one, by other lots, by linear programming."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from core.geometry.types import Array
from core.suspension.adjusting import Adjuster, screwed_rod, shims
from core.suspension.built_cars import (
    BuiltCars,
    Tolerance,
    build_cars,
    drawn_lots,
    tolerances_of,
)
from core.suspension.changes import Change, lengthening, moving, points_of
from core.suspension.correctable import correctable, within_reach
from core.suspension.figures import Figure
from core.suspension.linkage import Linkage
from core.suspension.made import solve_with
from core.suspension.nearest import Want
from core.suspension.steering import castor_deg
from core.suspension.travel import at
from core.suspension.wheel import bump_steer_slope, camber_deg, toe_in_deg
from tests.core.suspension.corners import made_up, of_car, vec
from tests.core.suspension.level import APART, BEHIND, ball_out, level_corner

BUMPS = np.array([-40.0, 40.0])
CORNERS: dict[str, Callable[[], Linkage]] = {
    "wishbones": lambda: of_car("demo", "front").linkage,
    "five links": lambda: of_car("demo", "rear").linkage,
    "strut": lambda: of_car("second", "front").linkage,
    "trailing arm": lambda: made_up("trailing_arm_two_lateral_links").linkage,
}


def built(linkage: Linkage, size: float = 0.5, count: int = 4000, seed: int = 1) -> BuiltCars:
    tolerances = tolerances_of(points_of(linkage), size)
    return build_cars(linkage, tolerances, BUMPS, count, np.random.default_rng(seed))


def test_a_toe_link_and_a_ball_off_spread_the_wheel_as_known_by_hand() -> None:
    """Closed form on level parallel arms: size over lever, size over distance of the balls."""
    linkage, size = level_corner(), 0.4
    link = Tolerance(lengthening("toe link", "toe link"), "toe link", size)
    ball = Tolerance(ball_out("upper arm"), "upper arm", size, "uniform")

    cars = build_cars(linkage, (link, ball), BUMPS, 20000, np.random.default_rng(3))

    camber = np.degrees(size / np.sqrt(3.0) / APART)
    toe = np.degrees(np.hypot(size, 0.5 * size / np.sqrt(3.0)) / BEHIND)
    by_slopes = dict(zip(cars.figures, cars.deviation_by_slopes(), strict=True))
    sampled = dict(zip(cars.figures, cars.deviation(), strict=True))
    assert by_slopes["camber"] == pytest.approx(camber, rel=1e-5)
    assert by_slopes["toe_in"] == pytest.approx(toe, rel=1e-5)
    # A standard deviation of n cars is itself right to 1 / sqrt(2 n): half a percent.
    assert sampled["camber"] == pytest.approx(camber, rel=0.02)
    assert sampled["toe_in"] == pytest.approx(toe, rel=0.02)


@pytest.mark.parametrize("kind", CORNERS)
def test_each_car_reads_as_it_does_alone(kind: str) -> None:
    linkage = CORNERS[kind]()
    cars = built(linkage, count=50)
    changes = tuple(held.change for held in cars.tolerances)

    for k in (0, 17, 49):
        poses = solve_with(linkage, changes, cars.amounts[k], at(vec(-40.0, 0.0, 40.0)))
        toe = toe_in_deg(poses)
        expected = {
            "camber": camber_deg(poses)[1],
            "toe_in": toe[1],
            "bump_steer": bump_steer_slope(poses)[1],
            "toe change at -40 mm": toe[0] - toe[1],
            "toe change at +40 mm": toe[2] - toe[1],
        }
        if linkage.steering_axis is not None:
            expected["castor"] = castor_deg(poses)[1]
        found = dict(zip(cars.figures, cars.values[k], strict=True))
        assert found == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("kind", CORNERS)
def test_first_order_and_sampling_agree_on_the_spread(kind: str) -> None:
    cars = built(CORNERS[kind]())

    # 4,000 cars: 1.1 % of sampling error, taken four times.
    assert cars.deviation() == pytest.approx(cars.deviation_by_slopes(), rel=0.045)
    low, high = cars.percentiles()
    # 5 and 95 % of a normal spread are 1.645 deviations off (table of the normal distribution).
    assert high - low == pytest.approx(2.0 * 1.645 * cars.deviation(), rel=0.08)
    assert (low < cars.drawn).all()
    assert (cars.drawn < high).all()


def test_points_rank_as_by_cars_in_which_they_alone_are_off() -> None:
    linkage = of_car("demo", "front").linkage
    cars = built(linkage)
    ranked = cars.ranked()

    by_lots: dict[str, Array] = {}
    for share in ranked:
        alone = tuple(held for held in cars.tolerances if held.point == share.point)
        only = build_cars(linkage, alone, BUMPS, 3000, np.random.default_rng(5))
        by_lots[share.point] = only.deviation() ** 2

    whole = sum(by_lots.values())
    for share in ranked:
        assert share.of_figures == pytest.approx(by_lots[share.point] / whole, abs=0.03)
    means = [float(np.mean(by_lots[share.point] / whole)) for share in ranked]
    assert means == pytest.approx(sorted(means, reverse=True), abs=0.01)
    assert [share.mean for share in ranked] == sorted((s.mean for s in ranked), reverse=True)
    assert sum(share.of_figures for share in ranked) == pytest.approx(np.ones(6))


def test_jigging_the_first_points_well_narrows_the_spread_by_what_they_add() -> None:
    linkage = of_car("demo", "rear").linkage
    cars = built(linkage)
    first = {share.point for share in cars.ranked()[:2]}
    jigged = tuple(
        Tolerance(held.change, held.point, 0.0) if held.point in first else held
        for held in cars.tolerances
    )

    better = build_cars(linkage, jigged, BUMPS, 4000, np.random.default_rng(1))

    added = np.sum([share.of_figures for share in cars.ranked()[:2]], axis=0)
    left = (better.deviation() / cars.deviation()) ** 2
    assert left == pytest.approx(1.0 - added, abs=0.04)
    assert added[1] > 0.4  # of toe-in


def test_the_same_lots_give_the_same_cars() -> None:
    linkage = of_car("second", "rear").linkage

    one, again, other = (built(linkage, count=20, seed=seed) for seed in (7, 7, 8))

    assert (one.values == again.values).all()
    assert (one.values != other.values).any()


@pytest.mark.parametrize(("kind", "deviation"), [("normal", 2.0), ("uniform", 2.0 / 3.0**0.5)])
def test_lots_fall_as_they_are_said_to(kind: str, deviation: float) -> None:
    held = Tolerance(Change("a"), "a", 2.0, "normal" if kind == "normal" else "uniform")

    lots = drawn_lots((held, held), 40000, np.random.default_rng(0))

    assert lots.std(axis=0) == pytest.approx([deviation] * 2, rel=0.02)
    assert held.deviation == pytest.approx(deviation)
    assert abs(np.mean(lots[:, 0] * lots[:, 1])) < 0.02 * deviation**2
    if kind == "uniform":
        assert np.abs(lots).max() <= 2.0


ADJUSTERS = 3


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**6), st.integers(1, 3), st.integers(1, ADJUSTERS))
def test_what_is_within_reach_is_what_linear_programming_can_reach(
    seed: int, figures: int, count: int
) -> None:
    numbers = np.random.default_rng(seed)
    slopes = numbers.normal(size=(figures, count))
    if count > 1 and seed % 3 == 0:
        slopes[:, 1] = slopes[:, 0]  # two adjusters that do the same
    least = -numbers.uniform(0.5, 2.0, count)
    most = numbers.uniform(0.5, 2.0, count)
    adjusters = tuple(
        Adjuster(Change("a"), low, high)
        for low, high in zip(least.tolist(), most.tolist(), strict=True)
    )
    names: tuple[Figure, ...] = ("camber", "toe_in", "castor")
    wants = tuple(Want(name, 0.0, 0.1 + 0.2 * k) for k, name in enumerate(names[:figures]))
    missed = numbers.normal(scale=1.5, size=(25, figures))

    found = within_reach(missed, slopes, adjusters, wants)

    tolerance = np.array([want.tolerance for want in wants])
    for car, is_found in zip(missed, found.tolist(), strict=True):
        can = linprog(
            np.zeros(count),
            np.concatenate([slopes, -slopes]),
            np.concatenate([car + tolerance, tolerance - car]),
            bounds=list(zip(least, most, strict=True)),
        )
        assert is_found == (can.status == 0)


def front_adjusters(reach: float) -> tuple[Adjuster, ...]:
    linkage = of_car("demo", "front").linkage
    inner = tuple(
        next(p for p in points_of(linkage) if (f"upper arm, {leg} leg", "inner") in p.ends)
        for leg in ("front", "rear")
    )
    out = vec(0.0, 1.0, 0.0)
    both = shims("upper", inner, out, 2.0 * reach, 0.5)
    middle = Adjuster(moving("upper", inner, out), -reach, reach)
    assert both.most == middle.most - middle.least
    return middle, screwed_rod("track rod", -reach, reach, 1.5, 0.0)


def test_a_share_of_cars_can_be_set_right_and_exact_set_up_agrees() -> None:
    cars = built(of_car("demo", "front").linkage, size=1.0)
    wants = (Want("camber", 0.0, 0.02), Want("toe_in", 0.0, 0.02))

    some = correctable(cars, front_adjusters(1.5), wants, check=15)
    more = correctable(cars, front_adjusters(6.0), wants, check=15)

    assert 0.3 < some.share < 0.8
    assert more.share > 0.99
    # Both are right only to first order: at the very edge of a range they may differ.
    assert some.agreed >= 14
    assert more.agreed == 15
    assert some.uncertainty == pytest.approx(np.sqrt(some.share * (1 - some.share) / 4000))


def test_the_share_is_the_area_of_a_normal_curve_with_one_adjuster() -> None:
    """Closed form: the link is off by N(0, s), the same link is set by r at most: erf."""
    linkage = level_corner()
    link = Tolerance(lengthening("link", "toe link"), "toe link", 1.0)
    cars = build_cars(linkage, (link,), BUMPS, 20000, np.random.default_rng(2))
    wanted = (Want("toe_in", 0.0, 1e-3),)

    found = correctable(cars, (screwed_rod("toe link", -1.0, 1.0, 1.0, 0.0),), wanted, check=0)

    # 68.27 % within one deviation; three sampling errors of 0.33 %, and 0.1 % for the tolerance.
    assert found.share == pytest.approx(0.6827, abs=0.011)


def test_cars_that_do_not_reach_are_counted_and_cannot_be_set_right() -> None:
    linkage = of_car("demo", "front").linkage
    cars = built(linkage, size=60.0, count=60)
    wants = (Want("toe_in", 0.0, 500.0),)

    found = correctable(cars, front_adjusters(5.0), wants, check=5)

    assert 0 < np.sum(~cars.is_reached) < 60
    assert not found.is_correctable[~cars.is_reached].any()
    assert found.is_correctable[cars.is_reached].all()
    assert found.share == pytest.approx(cars.is_reached.mean())
    assert np.isfinite(cars.deviation()).all()


def test_what_cannot_be_studied_is_refused() -> None:
    linkage = of_car("demo", "front").linkage
    cars = built(linkage, count=5)
    with pytest.raises(ValueError, match="at least one of them"):
        build_cars(linkage, (), BUMPS, 5, np.random.default_rng(0))
    with pytest.raises(ValueError, match="cannot be held"):
        Tolerance(Change("a"), "a", -1.0)
    with pytest.raises(ValueError, match="was not read"):
        correctable(cars, front_adjusters(2.0), (Want("half_track", 0.0, 1.0),))
    with pytest.raises(ValueError, match="tolerances above nought"):
        correctable(cars, front_adjusters(2.0), (Want("toe_in", 0.0, 0.0),))
