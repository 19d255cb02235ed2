"""How long springs and dampers get: coil bind, looseness, bump stops, springs to order."""

from dataclasses import dataclass

from core.assess.beams import held_wheel
from core.assess.dampers import damper_at_design
from core.assess.limits import limit
from core.assess.spring_parts import damper_of, springs_of, tyre_rate
from core.assess.springs import carried
from core.assess.travels import over_travel
from core.assess.weights import sprung_load
from core.document.base import Ref
from core.document.running_gear import Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.suspension.damper_over import DamperOver, DummyDamper, damper_over, dummy_damper
from core.suspension.damper_travel import stop_touches
from core.suspension.spring_order import (
    SpringOrder,
    SpringWanted,
    spring_order,
    spring_rate_for_ride,
)
from core.suspension.springs import Stop

SEATS = "how much of the damper's length the spring of {name} does not take up (eyes to its seats)"


@cell(When.LIVE)
def damper_over_travel(read: Reader, corner: Ref) -> DamperOver:
    """A corner's damper at full bump, design and full droop.

    Raises:
        NotComputedError: its travel is not known, or it does not get longer from bump to droop.
    """
    thing = read.thing(Corner, corner)
    read(over_travel, corner)  # says what of the travel is not known, or not held
    bump, droop = thing.bump, thing.droop
    assert bump is not None
    assert droop is not None
    try:
        return damper_over(read(held_wheel, corner), read(damper_at_design, corner), bump, droop)
    except ValueError as error:
        msg = f"the damper of {read.label(corner)}: {error}"
        raise NotComputedError(msg) from error


@dataclass(frozen=True)
class CoilLengths:
    """The room between the seats of a coil, mm.

    Attributes:
        bump: at full bump.
        design: as drawn.
        droop: at full droop.
        by: what it is known by: its seats, or the load and its free length.
    """

    bump: float
    design: float
    droop: float
    by: str


@cell(When.RELEASE)
def coil_lengths(read: Reader, corner: Ref) -> CoilLengths:
    """The room between the seats of a corner's coil: by the seats, else by free length and load.

    Raises:
        NotComputedError: neither is known; says what to enter.
    """
    damper, over = damper_of(read, corner), read(damper_over_travel, corner)
    if damper.spring_seats is not None:
        design, by = over.design.length - damper.spring_seats, "seats"
    elif damper.spring_free_length is None:
        msg = f"{SEATS.format(name=read.label(corner))} is not known"
        raise NotComputedError(msg)
    else:
        design, by = damper.spring_free_length - _pressed_by_load(read, corner), "load"
    bump, droop = (design + at.length - over.design.length for at in (over.bump, over.droop))
    if bump <= 0.0:
        msg = f"at full bump the seats leave the spring of {read.label(corner)} no length"
        raise NotComputedError(msg)
    return CoilLengths(bump, design, droop, by)


def _pressed_by_load(read: Reader, corner: Ref) -> float:
    """How far the coil is pressed at design by what it carries, mm."""
    springs, known = read(springs_of, corner), read(carried, corner)
    if springs.coil is None or known.force is None:
        read(sprung_load, corner)  # says why it is not known
        msg = f"what the coil of {read.label(corner)} carries is not known"
        raise NotComputedError(msg)
    return known.force / springs.coil


@cell(When.RELEASE)
def left_to_bind(read: Reader, corner: Ref) -> float:
    """What is left of a coil at full bump before its coils close, mm; below 0 they bind before.

    Raises:
        NotComputedError: its block length, or the room for it, is not known.
    """
    block = damper_of(read, corner).spring_block_length
    if block is None:
        msg = (
            f"how long the spring of {read.label(corner)} is with its coils closed is not known: "
            "enter it from its maker's sheet"
        )
        raise NotComputedError(msg)
    return read(coil_lengths, corner).bump - block


@cell(When.RELEASE)
def pressed_at_droop(read: Reader, corner: Ref) -> float:
    """How far a coil is pressed at full droop, mm; below 0 it lies loose by that much.

    Raises:
        NotComputedError: neither the lengths of the spring nor the load on the wheel are known.
    """
    damper = damper_of(read, corner)
    if damper.spring_free_length is not None and damper.spring_seats is not None:
        return damper.spring_free_length - read(coil_lengths, corner).droop
    over = read(damper_over_travel, corner)
    return _pressed_by_load(read, corner) - (over.droop.length - over.design.length)


@dataclass(frozen=True)
class StopMet:
    """Where a bump stop is met on the way up.

    Attributes:
        length: of the stop, mm.
        at: wheel height at which it is met, mm; None, not within the travel in use.
        bump: full bump, mm.
        left: of the damper at full bump, mm: what the stop is pressed to; below 0 it would close
            metal to metal before.
    """

    length: float
    at: float | None
    bump: float
    left: float


@cell(When.LIVE)
def stop_met(read: Reader, corner: Ref) -> StopMet:
    """Where the bump stop of a corner is met.

    Raises:
        NotComputedError: no stop, or not how long the damper is closed, is entered.
    """
    damper = damper_of(read, corner)
    if damper.bump_stop is None:
        msg = (
            f"no bump stop is entered for {read.label(corner)}: enter how much the damper has left "
            "when it is met"
        )
        raise NotComputedError(msg)
    if damper.closed_length is None:
        msg = f"how long the damper of {read.label(corner)} is fully closed is not known"
        raise NotComputedError(msg)
    over, bump = read(damper_over_travel, corner), read.thing(Corner, corner).bump
    assert bump is not None  # `damper_over_travel` asks for it
    stop = damper.bump_stop
    touches = Stop(damper.closed_length + stop.length, stop.rate or 1.0)  # only where it touches
    met = stop_touches(read(held_wheel, corner), read(damper_at_design, corner), touches, bump)
    return StopMet(stop.length, met.bump, bump, over.bump.length - damper.closed_length)


@cell(When.LIVE)
def dummy(read: Reader, corner: Ref) -> DummyDamper:
    """The holes of a bar that stands in for a corner's damper."""
    return dummy_damper(read(damper_over_travel, corner))


@cell(When.RELEASE)
def rate_wanted(read: Reader, corner: Ref, frequency_hz: float) -> float:
    """The spring rate, N/mm, for which a corner rides at a frequency, on its tyre if known.

    Raises:
        NotComputedError: its load or damper is not known, or no spring gives it.
    """
    load, over = read(sprung_load, corner), read(damper_over_travel, corner)
    try:
        return spring_rate_for_ride(load, over, frequency_hz, read(tyre_rate, corner))
    except ValueError as error:
        raise NotComputedError(str(error)) from error


@cell(When.RELEASE)
def ordered(read: Reader, corner: Ref, rate: float, block: float | None) -> SpringOrder:
    """A spring of a rate for a corner, with the load at design on it, and what it does.

    Args:
        read: what the document says.
        corner: which.
        rate: N/mm, such as can be bought.
        block: its length with the coils closed, mm; None before one is chosen.

    Raises:
        NotComputedError: the load, or a length of the damper, is not known; says which.
    """
    damper, name = damper_of(read, corner), read.label(corner)
    load, over = read(sprung_load, corner), read(damper_over_travel, corner)
    seats, closed, opened = damper.spring_seats, damper.closed_length, damper.open_length
    lacking = {
        f"how long the damper of {name} is fully closed": closed,
        "how long it is fully open": opened,
        SEATS.format(name=name): seats,
    }
    unknown = [words for words, value in lacking.items() if value is None]
    if seats is None or closed is None or opened is None:
        verb = "is" if len(unknown) == 1 else "are"
        msg = f"{', and '.join(unknown)} {verb} not known"
        raise NotComputedError(msg)
    try:
        wanted = SpringWanted(
            load, over, closed, opened, seats, 0.0, read(tyre_rate, corner),
            read(limit, "coil_bind_left", corner).value, block,
        )  # fmt: skip
        return spring_order(wanted, rate)
    except ValueError as error:
        raise NotComputedError(str(error)) from error
