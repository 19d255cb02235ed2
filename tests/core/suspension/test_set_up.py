"""Setting up: what was set is found again, what is lacking is told, against general solvers."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import NonlinearConstraint, minimize

from core.geometry.types import Array
from core.suspension.adjusting import Adjuster, screwed_rod, shims, slot
from core.suspension.changes import points_of
from core.suspension.figures import Figure, figures_with
from core.suspension.linkage import Linkage
from core.suspension.nearest import Want
from core.suspension.set_up import can_be_set, set_up
from core.suspension.travel import at
from tests.core.suspension.corners import of_car, vec
from tests.core.suspension.level import APART, ball_out, level_corner

CAMBER_TOE: tuple[Figure, ...] = ("camber", "toe_in")
TOLERANCES: dict[Figure, float] = {"camber": 0.02, "toe_in": 0.01, "castor": 0.05}


def front() -> tuple[Linkage, tuple[Adjuster, ...]]:
    """Shims behind both brackets of the upper arm, behind the front one, and the track rod."""
    linkage = of_car("demo", "front").linkage
    forward, rear = (
        next(p for p in points_of(linkage) if (f"upper arm, {leg} leg", "inner") in p.ends)
        for leg in ("front", "rear")
    )
    out = vec(0.0, 1.0, 0.0)
    return linkage, (
        shims("both upper", (forward, rear), out, 8.0, 0.5),
        shims("front upper", (forward,), out, 8.0, 0.5),
        screwed_rod("track rod", -6.0, 6.0, 1.5, 0.0),
    )


def reached(
    linkage: Linkage, adjusters: tuple[Adjuster, ...], amounts: Array, figures: tuple[Figure, ...]
) -> Array:
    return figures_with(linkage, tuple(a.change for a in adjusters), at(), figures)(amounts)


def wants(figures: tuple[Figure, ...], values: Array) -> tuple[Want, ...]:
    return tuple(
        Want(figure, value, TOLERANCES[figure])
        for figure, value in zip(figures, values.tolist(), strict=True)
    )


def exactly(
    linkage: Linkage, adjusters: tuple[Adjuster, ...], values: Array
) -> NonlinearConstraint:
    """Camber and toe as wanted, for scipy's general minimiser."""

    def missed(amounts: Array) -> Array:
        return 100.0 * (reached(linkage, adjusters, amounts, CAMBER_TOE) - values)

    return NonlinearConstraint(missed, 0.0, 0.0)


@settings(max_examples=15, deadline=None)
@given(st.floats(0.2, 7.8), st.floats(0.2, 7.8), st.floats(-5.8, 5.8))
def test_amounts_that_gave_the_figures_are_found_again(
    both: float, forward: float, rod: float
) -> None:
    linkage, adjusters = front()
    planted = vec(both, forward, rod)
    figures: tuple[Figure, ...] = ("camber", "toe_in", "castor")

    found = set_up(
        linkage, adjusters, wants(figures, reached(linkage, adjusters, planted, figures))
    )

    assert found.amounts == pytest.approx(planted, abs=1e-4)
    assert found.is_met
    assert (found.runs_out, found.unreachable) == ((), ())


def test_of_many_ways_the_one_that_moves_least_is_taken() -> None:
    """Against scipy's general minimiser with the exact figures as conditions."""
    linkage, adjusters = front()
    now = vec(4.0, 1.0, -0.5)
    values = reached(linkage, adjusters, vec(4.5, 2.5, 1.0), CAMBER_TOE)

    found = set_up(linkage, adjusters, wants(CAMBER_TOE, values), now=now)

    def moved(amounts: Array) -> float:
        return float(np.sum((amounts - now) ** 2))

    least = minimize(
        moved,
        now,
        constraints=[exactly(linkage, adjusters, values)],
        bounds=[(a.least, a.most) for a in adjusters],
        method="SLSQP",
        options={"ftol": 1e-12},
    )
    assert found.amounts == pytest.approx(least.x, abs=1e-3)
    assert found.reached == pytest.approx(values, abs=1e-6)


@pytest.mark.parametrize("beyond", [0.4, 2.5])
@pytest.mark.parametrize("which", [0, 1])
def test_an_adjuster_that_runs_out_is_told_by_how_much(beyond: float, which: int) -> None:
    linkage, (both, _, rod) = front()
    pair = (both, rod)
    planted = vec(3.0, 2.0)
    planted[which] = pair[which].most + beyond
    values = reached(linkage, pair, planted, CAMBER_TOE)

    found = set_up(linkage, pair, wants(CAMBER_TOE, values))

    assert not found.is_met
    assert [out.name for out in found.runs_out] == [pair[which].name]
    assert found.runs_out[0].extra == pytest.approx(beyond, abs=1e-4)
    assert found.amounts[which] == pytest.approx(pair[which].most)


def test_extra_range_is_the_least_that_does_it() -> None:
    """Against scipy's minimiser: square of what is beyond the ranges, figures held."""
    linkage, adjusters = front()
    values = vec(-0.5, 0.1)  # a top further in than without any shim

    found = set_up(linkage, adjusters, wants(CAMBER_TOE, values))

    low, high = vec(0.0, 0.0, -6.0), vec(8.0, 8.0, 6.0)

    def overrun(amounts: Array) -> float:
        return float(np.sum((amounts - np.clip(amounts, low, high)) ** 2))

    least = minimize(
        overrun,
        np.zeros(3),
        constraints=[exactly(linkage, adjusters, values)],
        method="SLSQP",
        options={"ftol": 1e-13},
    )
    beyond = least.x - np.clip(least.x, low, high)
    assert [out.name for out in found.runs_out] == ["both upper", "front upper"]
    assert [out.extra for out in found.runs_out] == pytest.approx(beyond[:2], abs=2e-3)


def test_toe_is_still_right_where_camber_cannot_be_had() -> None:
    linkage, (both, _, rod) = front()

    found = set_up(linkage, (both, rod), wants(CAMBER_TOE, vec(-1.5, 0.1)))

    assert found.amounts[0] == 0.0
    assert found.reached[1] == pytest.approx(0.1, abs=1e-4)
    assert not found.is_met


def test_a_figure_that_nothing_moves_is_told_and_the_others_are_set() -> None:
    linkage, (both, _, rod) = front()
    figures: tuple[Figure, ...] = ("castor", "camber", "toe_in")

    found = set_up(linkage, (both, rod), wants(figures, vec(9.0, 0.8, 0.1)))

    assert found.unreachable == ("castor",)
    assert found.runs_out == ()
    assert found.reached[1:] == pytest.approx(vec(0.8, 0.1), abs=1e-3)


def test_a_track_rod_alone_sets_toe_and_not_camber() -> None:
    linkage, (_, _, rod) = front()

    found = set_up(linkage, (rod,), wants(CAMBER_TOE, vec(-1.0, 0.25)))

    assert found.unreachable == ("camber",)
    assert found.reached[1] == pytest.approx(0.25, abs=1e-4)


def test_what_is_set_by_shims_and_half_turns_is_the_best_of_all_near_by() -> None:
    """Every setting next to the exact amounts is tried."""
    linkage, (both, forward, _) = front()
    rod = screwed_rod("track rod", -6.0, 6.0, 1.5, 0.5)
    adjusters = (both, forward, rod)
    asked = wants(CAMBER_TOE, vec(0.87, 0.13))

    found = set_up(linkage, adjusters, asked)

    steps = vec(0.5, 0.5, 0.75)
    assert found.rounded / steps == pytest.approx(np.round(found.rounded / steps), abs=1e-9)
    near = np.floor(found.amounts / steps) * steps
    ways = np.array(list(product((0.0, 1.0), repeat=3))) * steps + near
    ways = ways[(ways >= vec(0.0, 0.0, -6.0)).all(axis=1)]
    missed = (reached(linkage, adjusters, ways, CAMBER_TOE) - vec(0.87, 0.13)) / vec(0.02, 0.01)
    left = found.left_over / vec(0.02, 0.01)
    assert np.sum(left**2) == pytest.approx(np.sum(missed**2, axis=1).min(), rel=1e-9)
    assert found.left_over == pytest.approx(found.reached_rounded - vec(0.87, 0.13))
    assert found.is_met
    assert not found.is_met_rounded


def test_a_rod_that_turns_freely_makes_good_what_shims_leave_of_toe() -> None:
    linkage, (both, _, rod) = front()

    found = set_up(linkage, (both, rod), wants(CAMBER_TOE, vec(1.0, 0.1)))

    assert found.rounded[0] % 0.5 == pytest.approx(0.0, abs=1e-12)
    assert found.rounded[0] != pytest.approx(found.amounts[0], abs=1e-3)
    assert found.left_over[1] == pytest.approx(0.0, abs=2e-3)
    # Half a shim of camber is the most that can be left over.
    assert abs(found.left_over[0]) < 0.26 * 0.3


def test_level_wishbones_need_what_is_known_by_hand() -> None:
    """Camber c takes the ball distance times its sine; closed form of parallel level arms."""
    adjusters = (
        Adjuster(ball_out("upper arm"), -15.0, 15.0),
        screwed_rod("toe link", -15.0, 15.0, 1.5, 0.0),
    )

    found = set_up(level_corner(), adjusters, wants(CAMBER_TOE, vec(-1.5, 0.0)))

    out = -APART * np.sin(np.radians(1.5))
    assert found.amounts == pytest.approx(vec(out, 0.5 * out), rel=0.01)


def test_a_range_that_stops_one_short_of_reach_does_not_raise() -> None:
    linkage = of_car("demo", "front").linkage
    top = next(p for p in points_of(linkage) if ("upper arm, front leg", "outer") in p.ends)
    wild = slot("wild", (top,), vec(0.0, 0.0, 1.0), -400.0, 400.0)

    found = set_up(linkage, (wild,), wants(("camber",), vec(60.0)))

    assert not found.is_met
    assert np.isfinite(found.amounts).all()


def test_whether_it_can_be_set_agrees_with_what_is_set() -> None:
    linkage, adjusters = front()

    for camber in (-0.5, 0.5, 1.5):
        asked = wants(CAMBER_TOE, vec(camber, 0.0))
        assert can_be_set(linkage, adjusters, asked) == set_up(linkage, adjusters, asked).is_met
    assert can_be_set(linkage, adjusters, wants(CAMBER_TOE, vec(1.0, 0.0)))


def test_nothing_to_set_or_no_tolerance_is_refused() -> None:
    linkage, adjusters = front()

    for which, asked in (
        ((), wants(("toe_in",), vec(0.0))),
        (adjusters, ()),
        (adjusters, (Want("toe_in", 0.0, 0.0),)),
    ):
        with pytest.raises(ValueError, match="setting up needs"):
            set_up(linkage, which, asked)
