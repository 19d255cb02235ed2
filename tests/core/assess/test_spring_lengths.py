"""Lengths of springs and dampers over the travel: sums of what is entered, and a circle.

The damper of the swinging arm stands 300 long as drawn; how it goes is told by a circle of 350 (see
`made_corners`). All else is length by length, added up here.
"""

from collections.abc import Callable

import pytest

from core.assess.dampers import damper_travel
from core.assess.spring_lengths import (
    coil_lengths,
    damper_over_travel,
    dummy,
    left_to_bind,
    ordered,
    pressed_at_droop,
    rate_wanted,
    stop_met,
)
from core.assess.spring_parts import tyre_rate
from core.assess.springs import rates_at_design, ride
from core.document.base import Ref
from core.document.links import BumpStop
from core.document.project import Project
from core.engine.assess import compute
from core.engine.cells import Cell, NotComputedError
from tests.cars.stored import demo, ref, second
from tests.core.assess.made_corners import Made, made_up_wishbones, swinging_arm
from tests.core.assess.sprung_cars import RATE, SPRUNG, sprung
from tests.core.assess.sprung_cars import swung_length as length

LENGTHS = {"closed_length": 200.0, "open_length": 400.0}
WHOLE = LENGTHS | {"spring_seats": 90.0, "spring_free_length": 280.0, "spring_block_length": 120.0}


def both(car: Made) -> tuple[Ref, Ref]:
    return car.corner, car.corner.mirrored()


def test_the_room_between_the_seats_is_what_the_damper_leaves() -> None:
    car = sprung(swinging_arm(), **WHOLE)

    for corner in both(car):
        found = compute(car.document, {}, coil_lengths, corner)
        wanted = [length(bump) - 90.0 for bump in (60.0, 0.0, -60.0)]
        assert [found.bump, found.design, found.droop] == pytest.approx(wanted, abs=1e-6)
        assert found.by == "seats"
        assert compute(car.document, {}, left_to_bind, corner) == pytest.approx(wanted[0] - 120.0)
        pressed = compute(car.document, {}, pressed_at_droop, corner)
        assert pressed == pytest.approx(280.0 - wanted[2])


def test_without_its_seats_the_load_and_the_free_length_say_the_room() -> None:
    """The eye rises with the wheel as drawn, so the spring carries the load itself."""
    car = sprung(swinging_arm(), spring_free_length=280.0, spring_block_length=120.0)
    pressed = SPRUNG / RATE

    found = compute(car.document, {}, coil_lengths, car.corner)

    assert found.by == "load"
    assert found.design == pytest.approx(280.0 - pressed)
    assert found.bump == pytest.approx(280.0 - pressed - (length(0.0) - length(60.0)), abs=1e-6)


def test_looseness_needs_no_lengths_of_the_spring_where_the_load_is_known() -> None:
    stiff = sprung(swinging_arm(), spring_rate=60.0)

    found = compute(stiff.document, {}, pressed_at_droop, stiff.corner)

    assert found == pytest.approx(SPRUNG / 60.0 - (length(-60.0) - length(0.0)), abs=1e-6)
    assert found < 0.0


@pytest.mark.parametrize(("stop", "is_met"), [(30.0, False), (60.0, True)])
def test_a_bump_stop_is_met_where_the_damper_is_so_short(stop: float, is_met: bool) -> None:  # noqa: FBT001
    car = sprung(swinging_arm(), **LENGTHS)
    car = car.changed(car.corner, "damper.bump_stop", BumpStop(length=stop))

    found = compute(car.document, {}, stop_met, car.corner)

    assert (found.at is not None) is is_met
    assert found.left == pytest.approx(length(60.0) - 200.0, abs=1e-6)
    if found.at is not None:
        assert length(found.at) == pytest.approx(200.0 + stop, abs=1e-6)


def test_holes_of_a_dummy_damper_are_the_lengths_of_the_damper() -> None:
    car = sprung(swinging_arm())

    found = compute(car.document, {}, dummy, car.corner)

    wanted = [length(bump) for bump in (60.0, 0.0, -60.0)]
    assert [found.full_bump, found.ride, found.full_droop] == pytest.approx(wanted, abs=1e-6)


@pytest.mark.parametrize("end", ["front", "rear"])
@pytest.mark.parametrize("car", [demo, second])
def test_both_cars_dampers_over_travel_are_those_that_their_rule_looks_at(
    car: Callable[[], Project], end: str
) -> None:
    document = car().drawn
    for side in ("left", "right"):
        corner = ref(document, f"{end} corner {side}")
        over = compute(document, {}, damper_over_travel, corner)
        seen = compute(document, {}, damper_travel, corner)
        lengths = (over.bump.length, over.design.length, over.droop.length)
        assert lengths == pytest.approx((seen.shortest, seen.at_design, seen.longest), abs=1e-6)


# --- a spring to order ----------------------------------------------------------------------


@pytest.mark.parametrize("frequency", [1.2, 1.5, 1.8])
@pytest.mark.parametrize("tyre", [None, 190.0])
def test_an_ordered_spring_in_the_car_rides_as_wanted_and_stands_as_drawn(
    frequency: float, tyre: float | None
) -> None:
    """The order taken into the document and asked of again, by its lengths alone."""
    car = sprung(made_up_wishbones(), **LENGTHS, spring_seats=100.0)
    car = car.changed(ref(car.document, car.document.tyres[0].name), "vertical_stiffness", tyre)
    rate = compute(car.document, {}, rate_wanted, car.corner, frequency)
    order = compute(car.document, {}, ordered, car.corner, rate, 100.0)

    fitted = car.changed(car.corner, "damper.spring_rate", rate)
    fitted = fitted.changed(car.corner, "damper.spring_free_length", order.free_length)

    found = compute(fitted.document, {}, ride, car.corner)
    assert (found.springs_hz if tyre is None else found.road_hz) == pytest.approx(
        frequency, rel=1e-6
    )
    assert found.sits_off == pytest.approx(0.0, abs=1e-6)
    assert found.at.rate == pytest.approx(order.wheel_rate, rel=1e-9)
    lengths = compute(fitted.document, {}, coil_lengths, car.corner)
    assert order.bump.length == pytest.approx(lengths.bump, abs=1e-6)
    assert order.to_block == pytest.approx(lengths.bump - 100.0, abs=1e-6)


def test_the_present_rate_is_the_one_that_gives_the_present_frequency() -> None:
    car = sprung(made_up_wishbones())
    found = compute(car.document, {}, ride, car.corner)

    assert compute(car.document, {}, tyre_rate, car.corner) is None
    again = compute(car.document, {}, rate_wanted, car.corner, found.springs_hz)

    assert again == pytest.approx(RATE, rel=1e-6)
    assert compute(car.document, {}, rates_at_design, car.corner).rate == found.at.rate


# --- what is lacking ------------------------------------------------------------------------


def why(car: Made, cell: Cell[[Ref], object]) -> str:
    with pytest.raises(NotComputedError) as raised:
        compute(car.document, {}, cell, car.corner)
    return str(raised.value)


def test_what_is_lacking_is_named() -> None:
    bare = sprung(swinging_arm(), kg=None)

    assert "is with its coils closed is not known" in why(bare, left_to_bind)
    assert "does not take up (eyes to its seats) is not known" in why(bare, coil_lengths)
    assert "no bump stop is entered for corner left" in why(bare, stop_met)
    stopped = bare.changed(bare.corner, "damper.bump_stop", BumpStop(length=20.0))
    assert "fully closed is not known" in why(stopped, stop_met)
    assert why(bare.changed(bare.corner, "bump", None), dummy) == (
        "how far the wheel of corner left bumps is not known"
    )


def test_an_order_names_all_that_it_lacks_at_once() -> None:
    car = sprung(swinging_arm())

    with pytest.raises(NotComputedError) as raised:
        compute(car.document, {}, ordered, car.corner, 30.0, None)

    words = str(raised.value)
    assert all(each in words for each in ("fully closed", "fully open", "seats", "are not known"))


def test_seats_that_leave_no_room_are_told() -> None:
    car = sprung(swinging_arm(), spring_seats=260.0)

    assert "leave the spring of corner left no length" in why(car, coil_lengths)


def test_a_damper_that_gets_longer_on_bump_has_no_lengths_over_travel() -> None:
    car = sprung(swinging_arm())
    over = car.moved("top", "at.z", 0.0)

    assert "must get longer from bump over design to droop" in why(over, dummy)


def test_a_frequency_beyond_the_tyre_is_refused_in_words() -> None:
    car = sprung(swinging_arm())
    car = car.changed(ref(car.document, car.document.tyres[0].name), "vertical_stiffness", 20.0)

    with pytest.raises(NotComputedError, match="the tyre alone is too soft for 2.5 Hz"):
        compute(car.document, {}, rate_wanted, car.corner, 2.5)
