"""What a bump-steer board tells: planted errors, against scipy's own fit and repeated readings."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import curve_fit

from core.geometry.types import Array
from core.suspension.board import BoardReadings, Candidate, candidates_of, explain
from core.suspension.changes import AXES, lengthening, moving, points_of
from core.suspension.linkage import Linkage
from core.suspension.made import solve_with
from core.suspension.travel import at
from core.suspension.wheel import toe_in_deg
from tests.core.suspension.corners import made_up, of_car, vec

BUMPS = np.linspace(-60.0, 60.0, 7)
PLANTED = [
    ("demo", "front", "track rod, inner, z"),
    ("demo", "front", "track rod, outer, z"),
    ("demo", "front", "upper arm, rear leg, inner, y"),
    ("demo", "rear", "toe_inner, inner, z"),
    ("demo", "rear", "upper_radius_inner, outer, y"),
    ("second", "front", "strut, top, y"),
    ("second", "rear", "lower_lateral_inner, outer, z"),
]


def candidate(linkage: Linkage, name: str) -> Candidate:
    return next(each for each in candidates_of(linkage) if each.name == name)


def toe(linkage: Linkage, what: Candidate, amounts: Array, bumps: Array = BUMPS) -> Array:
    return toe_in_deg(solve_with(linkage, what.changes, amounts, at(bumps)))


def readings(toe_deg: Array, uncertainty: float = 0.02, bumps: Array = BUMPS) -> BoardReadings:
    return BoardReadings(bumps, toe_deg, np.full(len(bumps), uncertainty))


@pytest.mark.parametrize(("car", "end", "name"), PLANTED)
@pytest.mark.parametrize("size", [3.0, -3.0])
def test_a_planted_error_is_found_and_ranked_first(
    car: str, end: str, name: str, size: float
) -> None:
    linkage = of_car(car, end).linkage
    read = toe(linkage, candidate(linkage, name), vec(size)) + 0.15

    found = explain(linkage, readings(read))

    first = found.fits[0]
    assert first.candidate.name == name
    assert first.amounts == pytest.approx([size], abs=1e-4)
    assert first.correction == pytest.approx([-size], abs=1e-4)
    assert first.offset_deg == pytest.approx(0.15, abs=1e-5)
    assert first.chi_square == pytest.approx(0.0, abs=1e-6)


def test_the_wrong_height_of_a_track_rod_is_told_from_arms_by_a_good_board() -> None:
    linkage = of_car("demo", "front").linkage
    planted = candidate(linkage, "track rod, inner, z")
    read = toe(linkage, planted, vec(3.0)) - 0.3

    coarse = explain(linkage, readings(read, 0.05))
    fine = explain(linkage, readings(read, 0.0005))

    assert coarse.verdict == "several"
    assert len(coarse.not_told_apart) > 5
    assert fine.verdict == "one"
    assert [fit.candidate.name for fit in fine.not_told_apart] == [planted.name]


def test_amount_uncertainty_and_chi_square_are_those_of_scipy() -> None:
    linkage = of_car("demo", "front").linkage
    planted = candidate(linkage, "track rod, outer, z")
    spread = np.linspace(0.01, 0.04, 7)
    numbers = np.random.default_rng(3)
    read = toe(linkage, planted, vec(-2.0)) + 0.1 + spread * numbers.normal(size=7)

    fit = explain(linkage, BoardReadings(BUMPS, read, spread), (planted,)).fits[0]

    def model(bumps: Array, amount: float, offset: float) -> Array:
        return toe(linkage, planted, vec(amount), bumps) + offset

    values, covariance = curve_fit(model, BUMPS, read, [0.1, 0.0], spread, absolute_sigma=True)
    assert fit.amounts[0] == pytest.approx(values[0], abs=1e-4)
    assert fit.offset_deg == pytest.approx(values[1], abs=1e-5)
    assert fit.uncertainty[0] == pytest.approx(np.sqrt(covariance[0, 0]), rel=1e-4)
    left = (read - model(BUMPS, *values)) / spread
    assert fit.chi_square == pytest.approx(np.sum(left**2), rel=1e-6)
    assert fit.freedom == 5


def test_three_coordinates_of_a_point_together_are_those_of_scipy() -> None:
    linkage = of_car("demo", "front").linkage
    rod = next(p for p in points_of(linkage) if ("track rod", "inner") in p.ends)
    whole = Candidate("rod end", tuple(moving(a, (rod,), way) for a, way in AXES.items()))
    numbers, spread = np.random.default_rng(8), np.full(9, 1e-3)
    bumps = np.linspace(-80.0, 80.0, 9)
    read = toe(linkage, whole, vec(1.0, -1.5, 2.0), bumps) + spread * numbers.normal(size=9)

    fit = explain(
        linkage, BoardReadings(bumps, read, spread), (whole,), board_may_be_off=False
    ).fits[0]

    def model(where: Array, *amounts: float) -> Array:
        return toe(linkage, whole, np.array(amounts), where)

    values, covariance = curve_fit(model, bumps, read, [0.1, 0.1, 0.1], spread, absolute_sigma=True)
    # One direction hardly shows: both must agree within a small part of how well it is known.
    spread_mm = np.sqrt(np.diag(covariance))
    assert np.abs(fit.amounts - values).max() < 0.02 * spread_mm.max()
    assert fit.uncertainty == pytest.approx(spread_mm, rel=1e-2)


def test_repeated_readings_scatter_as_the_uncertainty_says() -> None:
    """Sixty sets of readings: two standard uncertainties hold 95 % of them, but for chance."""
    linkage = of_car("demo", "front").linkage
    planted = candidate(linkage, "track rod, inner, z")
    numbers, true = np.random.default_rng(11), toe(linkage, planted, vec(3.0))

    fits = [
        explain(linkage, readings(true + 0.02 * numbers.normal(size=7)), (planted,)).fits[0]
        for _ in range(60)
    ]

    off = np.array([(fit.amounts[0] - 3.0) / fit.uncertainty[0] for fit in fits])
    assert 0.75 < np.std(off) < 1.25
    assert np.mean(np.abs(off) < 2.0) > 0.87
    # Chi-square has its freedom, 5, as its mean and root (2 x 5 / 60) = 0.41 about it.
    assert np.mean([fit.chi_square for fit in fits]) == pytest.approx(5.0, abs=1.3)


def test_the_planted_error_stays_among_those_not_told_apart() -> None:
    linkage = of_car("demo", "rear").linkage
    planted = candidate(linkage, "toe_inner, inner, z")
    numbers, true = np.random.default_rng(12), toe(linkage, planted, vec(3.0))

    kept = [
        planted.name
        in {
            fit.candidate.name
            for fit in explain(
                linkage, readings(true + 0.02 * numbers.normal(size=7))
            ).not_told_apart
        }
        for _ in range(8)
    ]

    assert sum(kept) >= 7


@settings(max_examples=10, deadline=None)
@given(st.floats(-5.0, 5.0), st.floats(-2.0, 2.0))
def test_the_offset_of_the_board_does_not_matter(offset: float, size: float) -> None:
    linkage = of_car("second", "front").linkage
    few = candidates_of(linkage)[-4:]
    read = toe(linkage, few[0], vec(size))

    plain, moved = (explain(linkage, readings(read + by), few) for by in (0.0, offset))

    assert {f.candidate.name: float(f.amounts[0]) for f in moved.fits} == pytest.approx(
        {f.candidate.name: float(f.amounts[0]) for f in plain.fits}, abs=1e-5
    )


def test_a_board_that_is_known_to_be_right_sees_a_wrong_length() -> None:
    linkage = of_car("demo", "front").linkage
    length = candidate(linkage, "track rod, length")
    read = toe(linkage, length, vec(1.0))

    unknown = explain(linkage, readings(read))
    known = explain(linkage, readings(read), board_may_be_off=False)

    assert unknown.verdict == "nothing shown"
    assert known.as_drawn.chance < 1e-6
    same = next(fit for fit in known.fits if fit.candidate.name == length.name)
    assert same.amounts == pytest.approx([1.0], abs=1e-5)
    assert same.uncertainty[0] < 0.1


def test_readings_as_drawn_show_nothing() -> None:
    linkage = of_car("demo", "front").linkage
    read = toe(linkage, candidate(linkage, "track rod, length"), vec(0.0))
    noise = 0.02 * np.random.default_rng(5).normal(size=7)

    assert explain(linkage, readings(read + 0.4 + noise)).verdict == "nothing shown"


def test_two_readings_are_too_few() -> None:
    linkage = of_car("demo", "front").linkage
    bumps = vec(-50.0, 50.0)
    planted = candidate(linkage, "track rod, inner, z")
    read = toe(linkage, planted, vec(3.0), bumps)

    found = explain(linkage, readings(read, bumps=bumps))

    assert found.verdict == "too few readings"
    assert np.isnan(found.fits[0].chance)


def test_readings_that_no_single_error_gives_are_said_to_be_so() -> None:
    linkage = of_car("demo", "front").linkage
    zigzag = 0.3 * np.array([1, -1, 1, -1, 1, -1, 1])

    assert explain(linkage, readings(zigzag)).verdict == "none explains"


def test_errors_that_do_the_same_cannot_be_told_apart() -> None:
    """A leg made longer and the ball of the same link moved along it are one error."""
    linkage = made_up("trailing_arm_two_lateral_links").linkage
    rod = linkage.constraints[1]
    point = next(p for p in points_of(linkage) if (rod.name, "inner") in p.ends)
    along = rod.inner - rod.outer  # type: ignore[union-attr]
    same = Candidate("inner end in", (moving("in", (point,), along),))
    shorter = Candidate("shorter", (lengthening("shorter", rod.name),))
    read = toe(linkage, shorter, vec(-3.0))

    found = explain(linkage, readings(read, 0.005), (same, shorter))

    assert found.verdict == "cannot tell"
    assert len(found.not_told_apart) == 2


def test_an_error_that_toe_does_not_show_has_no_certain_amount() -> None:
    linkage = of_car("demo", "front").linkage
    planted = candidate(linkage, "track rod, inner, z")
    none = Candidate("nothing", (moving("nothing", (), vec(1.0, 0.0, 0.0)),))
    read = toe(linkage, planted, vec(3.0))

    found = explain(linkage, readings(read), (none, planted))

    blind = found.fits[1]
    assert blind.candidate.name == "nothing"
    assert np.isinf(blind.uncertainty).all()
    assert blind.amounts == pytest.approx([0.0])
    assert blind.chi_square == pytest.approx(found.as_drawn.chi_square)


def test_an_error_larger_than_is_believed_is_said_to_be_at_the_limit() -> None:
    linkage = of_car("demo", "front").linkage
    planted = candidate(linkage, "track rod, inner, z")
    read = toe(linkage, planted, vec(8.0))

    found = explain(linkage, readings(read), (planted,), largest=5.0)

    assert found.fits[0].is_at_limit
    assert found.fits[0].amounts == pytest.approx([5.0])
    assert found.verdict == "none explains"


def test_heights_that_are_not_reached_raise_nothing() -> None:
    linkage = of_car("demo", "front").linkage

    found = explain(linkage, readings(np.zeros(7), bumps=BUMPS * 20.0))

    assert found.verdict == "none explains"
    assert np.isinf([fit.chi_square for fit in found.fits]).all()


@pytest.mark.parametrize(
    ("read", "said"),
    [
        (BoardReadings(BUMPS, np.zeros(6), np.ones(7)), "each reading needs"),
        (BoardReadings(BUMPS, np.zeros(7), np.zeros(7)), "without any uncertainty"),
        (BoardReadings(BUMPS, np.full(7, np.nan), np.ones(7)), "must be numbers"),
        (BoardReadings(np.zeros(0), np.zeros(0), np.zeros(0)), "at least one"),
    ],
)
def test_readings_that_are_none_are_refused(read: BoardReadings, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        explain(of_car("demo", "front").linkage, read)


def test_no_candidate_is_refused() -> None:
    with pytest.raises(ValueError, match="nothing that might be off"):
        explain(of_car("demo", "front").linkage, readings(np.zeros(7)), ())
