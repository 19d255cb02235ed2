"""How far wheels hang with their damper off: circles, and joints whose limit is not known."""

import numpy as np
import pytest

from core.assess.hanging import LOCK, REACHES, STRAP, hangs
from core.assess.tilts import EndTilt, tilts
from core.document.base import Vec3
from core.document.records import Limit
from core.document.steel import LinkEnd
from core.edits.things import make
from core.edits.values import change
from core.engine.address import Address
from core.engine.assess import compute
from tests.cars.stored import demo, ref, second
from tests.core.assess.made_corners import (
    ACROSS,
    ARM,
    Made,
    level_h_arm,
    made,
    made_up_wishbones,
    swinging_arm,
)


def joint(limit: float | None) -> LinkEnd:
    """An eye on a bolt along the car, as the lateral link of the level arm has it."""
    return LinkEnd(
        kind="ball", carried_by="frame", direction=Vec3(0.0, 1.0, 0.0), tilt_limit_deg=limit
    )


def level(inner: float | None, outer: float | None = 80.0) -> Made:
    car = made(level_h_arm()).with_joint("upper_inner", joint(inner))
    at_outer = LinkEnd(
        kind="axial_ball",
        carried_by="upright",
        direction=Vec3(0.0, -1.0, 0.0),
        tilt_limit_deg=outer,
    )
    return car.with_joint("upper_outer", at_outer)


def test_a_strap_holds_at_its_droop_on_either_side() -> None:
    car = made(swinging_arm())
    strapped = car.changed(car.corner, "strap_droop", 75.0)

    for corner in (car.corner, car.corner.mirrored()):
        found = compute(strapped.document, {}, hangs, corner)
        assert (found.by, found.joint) == (STRAP, None)
        assert found.droop == pytest.approx(75.0, abs=1e-6)
        assert found.not_known == ()
        assert not found.has_shaft


def test_where_nothing_stops_it_nothing_is_said_to() -> None:
    """The swinging arm goes round its hinge as far as is looked."""
    car = made(swinging_arm())

    found = compute(car.document, {}, hangs, car.corner)

    assert (found.by, found.droop) == (None, REACHES[-1])
    assert REACHES[-1] < ARM


@pytest.mark.parametrize("limit_deg", [9.0, 16.0, 30.0])
def test_a_joint_stops_it_at_the_end_of_its_tilt(limit_deg: float) -> None:
    """The link across turns by the angle whose sine is the height over its length."""
    car = level(limit_deg)

    found = compute(car.document, {}, hangs, car.corner)

    assert found.droop == pytest.approx(ACROSS * np.sin(np.radians(limit_deg)), abs=1e-6)
    assert found.joint == car.points["upper_inner"]
    assert found.by == "upper_inner_L (upper)"
    assert found.not_known == ()


def test_what_is_met_first_stops_it() -> None:
    car = level(20.0)
    before = car.changed(car.corner, "strap_droop", 50.0)
    after = car.changed(car.corner, "strap_droop", 150.0)

    assert compute(before.document, {}, hangs, car.corner).by == STRAP
    assert compute(after.document, {}, hangs, car.corner).by == "upper_inner_L (upper)"


@pytest.mark.parametrize("unknown", ["upper_inner", "upper_outer"])
def test_a_joint_whose_limit_is_not_known_is_named(unknown: str) -> None:
    inner, outer = (None, 80.0) if unknown == "upper_inner" else (80.0, None)
    car = level(inner, outer).changed(made(level_h_arm()).corner, "strap_droop", 60.0)

    found = compute(car.document, {}, hangs, car.corner)

    assert found.by == STRAP
    assert found.not_known == (f"{unknown}_L (upper)",)


def test_a_limit_of_the_cars_own_counts_where_the_part_says_nothing() -> None:
    car = level(None)
    document, _ = make(car.document, Limit, "tilt", rule="link_tilt", value=10.0, unit="deg")

    found = compute(document, {}, hangs, car.corner)

    assert found.droop == pytest.approx(ACROSS * np.sin(np.radians(10.0)), abs=1e-6)


def test_a_corner_of_which_no_joint_is_entered_knows_none_of_them() -> None:
    car = made(made_up_wishbones())

    found = compute(car.document, {}, hangs, car.corner)

    assert found.by in (LOCK, None)
    assert len(found.not_known) == 8  # five links, whose outer ends are three balls


def test_the_demo_cars_joint_is_at_its_limit_where_the_wheel_hangs() -> None:
    """The droop in use laid out to that height: the rule on tilts says the same."""
    document = demo().drawn
    corner = ref(document, "rear corner left")
    found = compute(document, {}, hangs, corner)

    down = change(document, Address(corner, "droop"), found.droop)
    told = {t.end: t for t in compute(down, {}, tilts, corner) if isinstance(t, EndTilt)}

    assert found.joint is not None
    at = told[found.joint]
    limit = at.limit_deg or next(x.value for x in document.limits if x.rule == "link_tilt")
    assert at.tilt_deg == pytest.approx(limit, abs=0.05)
    assert at.bump == pytest.approx(-found.droop, abs=1e-6)
    assert found.has_shaft


def test_a_shaft_is_never_what_stops_a_wheel() -> None:
    document = second().drawn
    for end in ("front", "rear"):
        found = compute(document, {}, hangs, ref(document, f"{end} corner right"))
        assert found.by in (None, LOCK)
        assert found.has_shaft is (end == "front")
