"""Travel left of a damper, where its stops touch, and the bar that stands in for it."""

import numpy as np
import pytest

from core.suspension.damper import DamperAtDesign, damper_length
from core.suspension.damper_over import DamperAt, DamperOver, damper_over, dummy_damper
from core.suspension.damper_travel import stop_touches, travel_left
from core.suspension.solve import solve
from core.suspension.springs import Stop
from core.suspension.travel import at
from tests.core.suspension.corners import of_car, vec
from tests.core.suspension.spring_corners import PIVOT, pushed, trailing, wishbones

CORNERS = [(car, end) for car in ("demo", "second") for end in ("front", "rear")]


@pytest.mark.parametrize(("car", "end"), CORNERS)
def test_what_is_left_of_the_cars_dampers(car: str, end: str) -> None:
    """Lengths by the separate program of the cars' makers, rounded to a tenth."""
    example = of_car(car, end)
    bumps, lengths = (example.data["expected"][name] for name in ("bump", "damper_length"))
    closed, opened = (example.data["damper"][f"{name}_length"] for name in ("closed", "open"))
    poses = solve(example.linkage, at(np.array(bumps, dtype=float)))

    found = travel_left(poses, example.damper, closed, opened)

    assert found.to_closed == pytest.approx(min(lengths) - closed, abs=0.051)
    assert found.to_open == pytest.approx(opened - max(lengths), abs=0.051)
    assert found.shortest_at == pytest.approx(bumps[-1], abs=1e-9)
    assert found.longest_at == pytest.approx(bumps[0], abs=1e-9)


def test_a_damper_that_is_too_short_or_too_long_shows_it() -> None:
    example = of_car("demo", "front")
    poses = solve(example.linkage, at(np.linspace(-60.0, 60.0, 13)))

    found = travel_left(poses, example.damper, 360.0, 420.0)

    assert found.to_closed == pytest.approx(347.5 - 360.0, abs=0.051)
    assert found.to_open == pytest.approx(420.0 - 429.7, abs=0.051)


def test_one_position_without_a_pose_leaves_all_unknown() -> None:
    eye = PIVOT - vec(300.0, 0.0, 0.0)
    damper = DamperAtDesign(eye, eye + vec(0.0, 0.0, 400.0))

    found = travel_left(solve(trailing(), at(vec(0.0, 50.0, 600.0))), damper, 300.0, 500.0)

    assert np.isnan([found.to_closed, found.to_open]).all()


@pytest.mark.parametrize(("height", "is_droop"), [(33.0, False), (-27.5, True)])
def test_a_stop_touches_where_the_damper_has_its_length(height: float, *, is_droop: bool) -> None:
    for damper in (wishbones().damper, pushed(wishbones())):
        linkage = wishbones().linkage
        length = float(damper_length(solve(linkage, at(height)), damper))

        found = stop_touches(linkage, damper, Stop(length, 50.0, is_droop), np.sign(height) * 60.0)

        assert found.bump == pytest.approx(height, abs=1e-6)


def test_a_stop_that_is_not_met_is_known_not_to_be() -> None:
    example = of_car("demo", "front")

    found = stop_touches(example.linkage, example.damper, Stop(300.0, 50.0), 60.0)

    assert (found.bump, found.looked_to) == (None, 60.0)


def test_a_stop_past_what_the_linkage_reaches_is_not_known() -> None:
    eye = PIVOT - vec(300.0, 0.0, 0.0)
    damper = DamperAtDesign(eye, eye + vec(0.0, 0.0, 400.0))

    found = stop_touches(trailing(), damper, Stop(20.0, 50.0), 600.0)

    assert found.bump is None
    assert 495.0 < found.looked_to <= 500.0


def test_the_holes_of_the_bar_are_the_lengths_at_bump_ride_and_droop() -> None:
    example = of_car("demo", "front")

    bar = dummy_damper(damper_over(example.linkage, example.damper, 60.0, 60.0))

    assert bar.full_bump == pytest.approx(347.5, abs=0.051)
    assert bar.ride == pytest.approx(389.7, abs=0.051)
    assert bar.full_droop == pytest.approx(429.7, abs=0.051)
    assert bar.between_holes == pytest.approx((42.2, 40.0), abs=0.11)


def test_crossed_lengths_and_travel_out_of_reach_are_refused() -> None:
    example = of_car("demo", "front")
    poses = solve(example.linkage, at(vec(0.0)))

    with pytest.raises(ValueError, match="400 closed and 400 open"):
        travel_left(poses, example.damper, 400.0, 400.0)
    with pytest.raises(ValueError, match="does not reach 900 up and 60 down"):
        damper_over(example.linkage, example.damper, 900.0, 60.0)
    with pytest.raises(ValueError, match="from bump over design to droop, not 350, 340, 400"):
        DamperOver(DamperAt(350.0, 0.7), DamperAt(340.0, 0.7), DamperAt(400.0, 0.7))
