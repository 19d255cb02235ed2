"""A spring to order for a damper.

A coil on its seats holds enough energy to break bones: it is drawn together and let go with a tool
made for it.
"""

from dataclasses import dataclass

import numpy as np

from core.suspension.damper_over import DamperAt, DamperOver
from core.suspension.damper_travel import refuse_crossed
from core.suspension.ride import GRAVITY, in_series, rate_for_frequency, ride_frequency_hz
from core.suspension.springs import force_from_load, more_than_nothing


@dataclass(frozen=True, slots=True)
class SpringWanted:
    """What a spring is ordered for.

    Attributes:
        sprung_load: N, on this wheel at design, without what is unsprung.
        damper: over its travel.
        closed: length of the damper pushed home, mm.
        opened: pulled out, mm.
        lower_seat: from the lower eye to the seat of the spring, mm.
        upper_seat: from the upper eye, mm.
        tyre_rate: N/mm; None leaves the tyre stiff.
        reserve: mm that must be left to coil bind at full bump.
        block_length: of the spring, coil on coil, mm, by its maker; None before one is chosen.
    """

    sprung_load: float
    damper: DamperOver
    closed: float
    opened: float
    lower_seat: float
    upper_seat: float
    tyre_rate: float | None = None
    reserve: float = 0.0
    block_length: float | None = None

    def __post_init__(self) -> None:
        """Refuse lengths that are crossed and loads of nothing."""
        more_than_nothing("sprung load on the wheel", self.sprung_load)
        refuse_crossed(self.closed, self.opened)
        if not self.reserve >= 0.0:
            raise ValueError(f"the reserve to coil bind must be 0 or more, not {self.reserve:g}")
        if self.block_length is not None:
            more_than_nothing("block length of the spring", self.block_length)
        if not self.length_in(self.damper.bump.length) > 0.0:
            raise ValueError("at full bump the seats of the spring leave no length between them")

    @property
    def sprung_kg(self) -> float:
        """Mass that the load is the weight of."""
        return self.sprung_load / GRAVITY

    def length_in(self, damper_length: float) -> float:
        """Of the spring between its seats, mm, at a length of the damper."""
        return damper_length - self.lower_seat - self.upper_seat


@dataclass(frozen=True, slots=True)
class SpringState:
    """The spring at one wheel height.

    Attributes:
        length: between its seats, mm; more than the free length where it lies loose.
        force: N, pushing; 0 where it lies loose.
        wheel_load: N, that it carries at the wheel; unsprung weight comes on top.
        travel_left: of the damper, to closed at bump and to open at droop, mm; nan at design.
    """

    length: float
    force: float
    wheel_load: float
    travel_left: float


@dataclass(frozen=True, slots=True)
class SpringOrder:
    """A spring to order and what it does.

    Attributes:
        rate: N/mm, of the spring.
        free_length: mm.
        wheel_rate: N/mm at design, with the geometric term.
        frequency_hz: of the sprung mass at design, the tyre in series; nan where nothing comes
            back.
        bump: at full bump; bump stops come on top.
        design: at the design position.
        droop: at full droop.
        to_block: mm left to coil bind at full bump; None where the block length is not known.
        has_reserve: whether that is as much as wanted; None likewise.
        to_block_closed: mm left with the damper pushed home; None likewise.
        loose_at_droop: mm that the spring lies loose at full droop; 0 where it is under load.
        loose_open: mm that it lies loose with the damper pulled out.
    """

    rate: float
    free_length: float
    wheel_rate: float
    frequency_hz: float
    bump: SpringState
    design: SpringState
    droop: SpringState
    to_block: float | None
    has_reserve: bool | None
    to_block_closed: float | None
    loose_at_droop: float
    loose_open: float


def rate_for_ride(wanted: SpringWanted, frequency_hz: float) -> float:
    """Return the rate, N/mm, of the spring that gives the sprung mass a frequency at design.

    Raises:
        ValueError: if the tyre alone, or the change of the ratio, already gives less or more.
    """
    return spring_rate_for_ride(wanted.sprung_load, wanted.damper, frequency_hz, wanted.tyre_rate)


def spring_rate_for_ride(
    sprung_load: float, damper: DamperOver, frequency_hz: float, tyre_rate: float | None = None
) -> float:
    """Return the rate, N/mm, of the spring for a frequency, before its lengths are known.

    With the tyre k / (1 - k / kt) at the wheel, less force times change of the ratio, over the
    ratio squared.

    Args:
        sprung_load: N, on this wheel at design.
        damper: over its travel.
        frequency_hz: wanted of the sprung mass.
        tyre_rate: N/mm; None leaves the tyre stiff.

    Raises:
        ValueError: if the tyre alone, or the change of the ratio, already gives less or more.
    """
    at_wheel = rate_for_frequency(frequency_hz, sprung_load / GRAVITY)
    if tyre_rate is not None:
        more_than_nothing("rate of the tyre", tyre_rate)
        if at_wheel >= tyre_rate:
            raise ValueError(f"the tyre alone is too soft for {frequency_hz:g} Hz")
        at_wheel = at_wheel / (1.0 - at_wheel / tyre_rate)
    force = force_from_load(sprung_load, damper.design.per_wheel)
    rate = (at_wheel - force * damper.ratio_change) / damper.design.per_wheel**2
    if not rate > 0.0:
        raise ValueError(f"the change of the ratio alone gives more than {frequency_hz:g} Hz")
    return rate


def spring_order(wanted: SpringWanted, rate: float) -> SpringOrder:
    """Return the spring of a rate that carries the load at design, and what it does.

    Args:
        wanted: load, damper and seats.
        rate: N/mm, from `rate_for_ride`, or the nearest that can be bought.

    Raises:
        ValueError: if the rate is nothing or the damper cannot carry the load.
    """
    more_than_nothing("rate of the spring", rate)
    over = wanted.damper
    force = force_from_load(wanted.sprung_load, over.design.per_wheel)
    free = wanted.length_in(over.design.length) + force / rate
    at_wheel = rate * over.design.per_wheel**2 + force * over.ratio_change
    to_block = _to_block(wanted, over.bump.length)
    return SpringOrder(
        rate=rate,
        free_length=free,
        wheel_rate=at_wheel,
        frequency_hz=_frequency_hz(wanted, at_wheel),
        bump=_state(wanted, over.bump, (rate, free), over.bump.length - wanted.closed),
        design=_state(wanted, over.design, (rate, free), np.nan),
        droop=_state(wanted, over.droop, (rate, free), wanted.opened - over.droop.length),
        to_block=to_block,
        has_reserve=None if to_block is None else to_block >= wanted.reserve,
        to_block_closed=_to_block(wanted, wanted.closed),
        loose_at_droop=max(wanted.length_in(over.droop.length) - free, 0.0),
        loose_open=max(wanted.length_in(wanted.opened) - free, 0.0),
    )


def seat_moved_for(order: SpringOrder, free_length: float) -> float:
    """Return how far a seat must be moved towards the other one for a spring of another length.

    mm, below 0 away from it; the rate is that of the order, and so are forces and wheel loads.

    Raises:
        ValueError: if the spring is so short that it does not carry the load.
    """
    pressed = order.free_length - order.design.length
    if not free_length > pressed:
        raise ValueError(f"a spring {free_length:g} long would be pressed to nothing at design")
    return order.free_length - free_length


def _frequency_hz(wanted: SpringWanted, at_wheel: float) -> float:
    rate = np.asarray(at_wheel)
    if wanted.tyre_rate is not None:
        rate = in_series(rate, wanted.tyre_rate)
    return float(ride_frequency_hz(rate, wanted.sprung_kg))


def _state(
    wanted: SpringWanted, damper: DamperAt, spring: tuple[float, float], left: float
) -> SpringState:
    rate, free = spring
    length = wanted.length_in(damper.length)
    force = max(rate * (free - length), 0.0)
    return SpringState(length, force, force * damper.per_wheel, left)


def _to_block(wanted: SpringWanted, damper_length: float) -> float | None:
    if wanted.block_length is None:
        return None
    return wanted.length_in(damper_length) - wanted.block_length
