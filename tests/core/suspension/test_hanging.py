"""How far a wheel hangs: closed forms of a trailing arm, and which of several ends it."""

import math

import numpy as np
import pytest

from core.geometry.types import Array
from core.suspension.damper import damper_length
from core.suspension.ends import bump_ends
from core.suspension.hanging import LOCK, Limit, hanging, strap
from core.suspension.poses import Poses
from core.suspension.solve import solve
from core.suspension.tilt import tilt_from_axis_deg
from core.suspension.travel import at
from core.suspension.until import first_past
from tests.core.suspension.corners import made_up, published, vec
from tests.core.suspension.spring_corners import CENTRE, LONG, PIVOT, trailing

EYE = PIVOT - vec(300.0, 0.0, 0.0)
ABOVE = PIVOT + vec(0.0, 0.0, 200.0)


def ball() -> Limit:
    """A ball whose stud leans as the arm does."""
    stud = vec(0.0, 0.0, 1.0)

    def tilt(poses: Poses) -> Array:
        return tilt_from_axis_deg(poses.turned(stud), stud)

    return Limit("ball", tilt, 20.0)


def taut_at(turn_deg: float) -> float:
    """Length of a strap from above the pivot to the eye with the arm turned down, by cosines."""
    turn = math.radians(turn_deg)
    return math.sqrt(300.0**2 + 200.0**2 + 2.0 * 300.0 * 200.0 * math.sin(turn))


def test_nothing_but_the_linkage_ends_at_its_lock() -> None:
    linkage, _ = published()

    found = hanging(linkage)

    assert found.governed_by == LOCK
    assert found.bump == bump_ends(linkage)[0].travel
    assert (found.ends, found.not_known) == ({}, ())


def test_where_nothing_was_met_nothing_is_said_to_govern() -> None:
    found = hanging(trailing(), (strap("strap", ABOVE, EYE, 600.0),), reach=200.0)

    assert (found.bump, found.governed_by) == (-200.0, None)
    assert found.ends == {"strap": None}
    assert found.not_known == ()


def test_a_ball_ends_it_at_its_tilt() -> None:
    """Closed form: the arm leans 20 degrees at a height of -L sin 20."""
    found = hanging(trailing(), (ball(),))

    assert found.governed_by == "ball"
    assert found.bump == pytest.approx(-LONG * math.sin(math.radians(20.0)), abs=1e-6)


@pytest.mark.parametrize(("turn_deg", "governs"), [(15.0, "strap"), (25.0, "ball")])
def test_what_is_met_first_governs(turn_deg: float, governs: str) -> None:
    limits = (ball(), strap("strap", ABOVE, EYE, taut_at(turn_deg)))

    found = hanging(trailing(), limits)

    assert found.governed_by == governs
    assert found.ends["strap"] == pytest.approx(-LONG * math.sin(math.radians(turn_deg)), abs=1e-6)
    assert found.bump == max(value for value in found.ends.values() if value is not None)


def test_a_limit_nobody_knows_is_named_and_not_taken_for_none() -> None:
    limits = (ball(), strap("strap", ABOVE, EYE, None))

    found = hanging(trailing(), limits)

    assert found.governed_by == "ball"
    assert found.not_known == ("strap",)


def test_a_limit_that_is_lost_on_the_way_is_not_known_from_there() -> None:
    def lost(poses: Poses) -> Array:
        low = poses.centre[..., 2] < CENTRE[2] - 50.0
        return np.asarray(np.where(low, np.nan, 0.0))

    found = hanging(trailing(), (ball(), Limit("boot", lost, 1.0)))

    assert found.not_known == ("boot",)


def test_what_is_past_its_limit_at_design_leaves_no_travel() -> None:
    found = hanging(trailing(), (strap("strap", ABOVE, EYE, taut_at(0.0) - 5.0),))

    assert (found.bump, found.governed_by) == (0.0, "strap")


def test_a_limit_is_known_to_the_lock_itself() -> None:
    example = made_up("double_wishbone_front")
    assert example.lower is not None
    top, bottom = example.points["spring_on_chassis"], example.points["spring_on_lower_wishbone"]

    found = hanging(example.linkage, (strap("strap", top, bottom, 2000.0, example.lower),))

    assert found.governed_by == LOCK
    assert found.not_known == ()
    low = solve(example.linkage, at(found.bump + 0.01))
    assert float(damper_length(low, example.damper)) < 2000.0


def test_a_strap_on_an_arm_is_measured_on_the_arm() -> None:
    example = made_up("double_wishbone_front")
    assert example.lower is not None
    top, bottom = example.points["spring_on_chassis"], example.points["spring_on_lower_wishbone"]
    wanted = float(damper_length(solve(example.linkage, at(-43.0)), example.damper))

    found = hanging(example.linkage, (strap("strap", top, bottom, wanted, example.lower),))

    assert found.bump == pytest.approx(-43.0, abs=1e-6)


def test_names_must_differ() -> None:
    with pytest.raises(ValueError, match="a name of its own"):
        hanging(trailing(), (ball(), ball()))
    with pytest.raises(ValueError, match="a name of its own"):
        hanging(trailing(), (strap(LOCK, ABOVE, EYE, 400.0),))


def test_the_first_of_two_crossings_counts() -> None:
    """Past the limit from 10 to 12 mm down and again from 40."""

    def excess(poses: Poses) -> Array:
        down = CENTRE[2] - poses.centre[..., 2]
        return np.asarray(np.where(down < 30.0, 1.0 - np.abs(down - 11.0), down - 40.0))

    found = first_past(trailing(), excess, -100.0)

    assert found.bump == pytest.approx(-10.0, abs=1e-6)
