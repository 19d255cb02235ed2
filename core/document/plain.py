"""Frozen values whose numbers are plain, finite and of a size that a car can have."""

from functools import cache
from types import NoneType
from typing import Any, NamedTuple, cast, get_args, get_type_hints

import msgspec
from msgspec import Struct


class Vec3(NamedTuple):
    """A place in mm, or a direction, in the frame of its carrier."""

    x: float
    y: float
    z: float


LARGEST_NUMBER = 1e9
"""No figure of a car is larger; one that is was mistyped or damaged, and would spoil sums."""

FARTHEST = 1e5
"""mm; no place is farther from the origin on any axis, 100 m."""

LONGEST_LIST = 10_000
"""Items with names in one list; they are looked up one by one."""

SHORTEST_DIRECTION = 1e-3
"""A direction shorter than this points nowhere for sure."""


class Plain(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, omit_defaults=True):
    """A frozen value of the document; its numbers are plain Python ones, finite and not absurd."""

    def __post_init__(self) -> None:
        """Make numbers plain, refuse absurd ones, then refuse whatever `check` refuses."""
        for name, kind in _number_fields(type(self)):
            value = getattr(self, name)
            if type(value) is not kind or not -LARGEST_NUMBER <= value <= LARGEST_NUMBER:
                fitting = _fitted_field(value, name, kind)
                if fitting is not value:
                    msgspec.structs.force_setattr(self, name, fitting)
        self.check()

    def check(self) -> None:
        """Refuse what cannot be true of this one object; overridden by kinds that have rules.

        Raises:
            ValueError: in words a builder can act on.
        """


@cache
def _number_fields(kind: type[Struct]) -> tuple[tuple[str, type[int] | type[float]], ...]:
    """The fields of a kind that hold numbers, each with `int` if it is a count, else `float`."""
    hints = get_type_hints(kind)
    found = ((name, _numbers_in(hints[name])) for name in kind.__struct_fields__)
    return tuple((name, int if numbers == {int} else float) for name, numbers in found if numbers)


def _numbers_in(hint: Any) -> set[type]:  # noqa: ANN401 - walks type hints
    if hint is Vec3:
        return {float}
    if hint is float or hint is int:
        return {hint}
    inner = (_numbers_in(part) for part in get_args(hint) if part is not NoneType)
    return set[type]().union(*inner)


def _fitted_field(value: object, name: str, kind: type) -> object:
    if value is None:
        return None
    return fitted_count(value, name) if kind is int else fitted(value, name)


def fitted(value: object, name: str) -> object:
    """A number, a place or a list of them with every number a plain float.

    Raises:
        ValueError: one of them is not finite, absurdly large, or no number.
    """
    if value is None:
        return None
    if isinstance(value, Vec3):
        return _fitted_place(value, name)
    if isinstance(value, tuple):
        return _fitted_items(cast("tuple[object, ...]", value), name)
    return _fitted_number(value, name, LARGEST_NUMBER)


def _fitted_number(value: object, name: str, largest: float) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        msg = f"`{name}` must be a number"
        raise ValueError(msg)  # noqa: TRY004 - msgspec tells the builder of a ValueError with its path
    if not -largest <= value <= largest:
        msg = f"`{name}` is not a finite number, or beyond {largest:,.0f} either way"
        raise ValueError(msg)
    return value if type(value) is float else float(value)


def _fitted_place(place: Vec3, name: str) -> Vec3:
    if all(type(number) is float and -FARTHEST <= number <= FARTHEST for number in place):
        return place
    return Vec3(*(_fitted_number(number, name, FARTHEST) for number in place))


def _fitted_items(items: tuple[object, ...], name: str) -> tuple[object, ...]:
    fitting = tuple(fitted(item, name) for item in items)
    same = all(new is old for new, old in zip(fitting, items, strict=True))
    return items if same else fitting


def fitted_count(value: object, name: str) -> int:
    """A count as a plain whole number.

    Raises:
        ValueError: it is not whole, absurdly large, or no number.
    """
    number = _fitted_number(value, name, LARGEST_NUMBER)
    if not number.is_integer():
        msg = f"`{name}` must be a whole number, not {number:g}"
        raise ValueError(msg)
    return value if type(value) is int else int(number)


def positive(owner: str, **numbers: float | None) -> None:
    """Refuse numbers that must be above zero.

    Raises:
        ValueError: naming the owner and the number.
    """
    for name, value in numbers.items():
        if value is not None and not value > 0:
            msg = f"{owner}: `{name}` must be above zero, not {value:g}"
            raise ValueError(msg)


def not_negative(owner: str, **numbers: float | None) -> None:
    """Refuse numbers below zero.

    Raises:
        ValueError: naming the owner and the number.
    """
    for name, value in numbers.items():
        if value is not None and value < 0:
            msg = f"{owner}: `{name}` must not be below zero, as {value:g} is"
            raise ValueError(msg)


def share(owner: str, **numbers: float | None) -> None:
    """Refuse shares that are not between 0 and 1.

    Raises:
        ValueError: naming the owner and the number.
    """
    for name, value in numbers.items():
        if value is not None and not 0 <= value <= 1:
            msg = f"{owner}: `{name}` must lie between 0 and 1, not at {value:g}"
            raise ValueError(msg)


def direction(owner: str, **directions: Vec3 | None) -> None:
    """Refuse directions that have no length.

    Raises:
        ValueError: naming the owner and the direction.
    """
    for name, value in directions.items():
        if value is not None and dot(value, value) < SHORTEST_DIRECTION**2:
            msg = f"{owner}: `{name}` has no length, so it points nowhere"
            raise ValueError(msg)


def distinct(owner: str, what: str, names: tuple[str, ...]) -> None:
    """Refuse a list in which two items have the same name, or that no one could look through.

    Raises:
        ValueError: naming the owner and the list.
    """
    if len(names) > LONGEST_LIST:
        msg = f"{owner} has more than {LONGEST_LIST} {what}"
        raise ValueError(msg)
    if len(set(names)) < len(names):
        msg = f"{owner}: two {what} have the same name"
        raise ValueError(msg)


def dot(a: Vec3, b: Vec3) -> float:
    """Scalar product of two directions."""
    return a.x * b.x + a.y * b.y + a.z * b.z


def cross(a: Vec3, b: Vec3) -> Vec3:
    """Vector product of two directions."""
    return Vec3(
        a.y * b.z - a.z * b.y,
        a.z * b.x - a.x * b.z,
        a.x * b.y - a.y * b.x,
    )
