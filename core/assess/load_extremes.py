"""The greatest forces of a corner over all loads that are known."""

from dataclasses import dataclass

from core.assess.loads import corner_loads
from core.assess.wheel_forces import Name, load_names
from core.document.base import Ref
from core.engine.cells import NotComputedError, Reader, When, cell


@dataclass(frozen=True)
class Told:
    """Loads of a corner that are known, and why others are not."""

    known: tuple[Name, ...]
    unknown: tuple[tuple[Name, str], ...]


@cell(When.RELEASE)
def loads_told(read: Reader, corner: Ref) -> Told:
    """Which loads of a corner are known."""
    known: list[Name] = []
    unknown: list[tuple[Name, str]] = []
    for name in read(load_names):
        try:
            read(corner_loads, corner, name)
        except NotComputedError as error:
            unknown.append((name, str(error)))
        else:
            known.append(name)
    return Told(tuple(known), tuple(unknown))


@dataclass(frozen=True)
class Greatest:
    """The greatest of a figure over the loads, and in which.

    Attributes:
        value: N.
        load: in which.
    """

    value: float
    load: Name


@dataclass(frozen=True)
class LegRange:
    """What a link is pulled and pushed with at most; None where it never is."""

    name: str
    pull: Greatest | None
    push: Greatest | None


@dataclass(frozen=True)
class Extremes:
    """The greatest forces of a corner over the loads that are known.

    Attributes:
        legs: pulled and pushed most.
        on_chassis: most on each pick-up.
    """

    legs: tuple[LegRange, ...]
    on_chassis: tuple[tuple[Ref, Greatest], ...]


@cell(When.RELEASE)
def extremes(read: Reader, corner: Ref) -> Extremes:
    """The greatest forces of a corner.

    Raises:
        NotComputedError: no load is known; the reason of the first is given.
    """
    told = read(loads_told, corner)
    if not told.known:
        raise NotComputedError(told.unknown[0][1])
    found = [(name, read(corner_loads, corner, name)) for name in told.known]
    first = found[0][1]
    legs = tuple(
        _leg_range(leg.name, [(name, each.legs[at].pull) for name, each in found])
        for at, leg in enumerate(first.legs)
    )
    seats = tuple(
        (seat.at, _most([(name, each.on_chassis[at].size) for name, each in found]))
        for at, seat in enumerate(first.on_chassis)
    )
    return Extremes(legs, seats)


def _leg_range(name: str, pulls: list[tuple[Name, float]]) -> LegRange:
    pull, push = _most(pulls), _most([(load, -value) for load, value in pulls])
    return LegRange(name, pull if pull.value > 0.0 else None, push if push.value > 0.0 else None)


def _most(values: list[tuple[Name, float]]) -> Greatest:
    load, value = max(values, key=lambda each: each[1])
    return Greatest(value, load)
