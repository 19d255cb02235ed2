"""Statics of bodies that hold one another: every unknown force from balance alone.

A body is a number; the chassis is `CHASSIS`. Each unknown is a force along a line, or a couple
about one, that one body puts on another; six balances for each body, and an assumption wherever
statics alone does not say, make as many equations as there are unknowns.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array, unit

CHASSIS = -1
"""The body that everything is held by in the end; its balance is not asked for."""

LEVER = 400.0
"""Length, mm, by which moments are weighed against forces: about that of a wheel. Own choice."""

LEAST_HELD = 1e-6
"""Least singular value, columns of length one, from which the bodies count as held."""

_AXES = np.eye(3)
_AXES.setflags(write=False)


class NotInBalanceError(ValueError):
    """The unknowns are too many, too few, or do not hold the bodies."""


@dataclass(frozen=True, eq=False, slots=True)
class Action:
    """A force, or a couple, of unknown size that `by` puts on the body `on`.

    Attributes:
        key: what it belongs to; several actions can share one.
        on: the body that it is put on, with the sign of `direction`.
        by: the body that gives it, and gets the opposite; `CHASSIS`, the chassis.
        place: (3,) mm, car frame, on the line of the force; of a couple it says nothing.
        direction: (3,) unit, car frame; of a couple right-handed about it.
        is_couple: whether it is a couple, N mm.
    """

    key: str
    on: int
    by: int
    place: Array
    direction: Array
    is_couple: bool = False


Tie = Mapping[str, Array]
"""An assumption: over the keys, the sum of a vector (3,) times the force of that key is nought."""


@dataclass(frozen=True, eq=False, slots=True)
class Assembly:
    """Bodies with all that acts between them.

    Attributes:
        bodies: how many there are, the chassis not counted.
        actions: the unknowns.
        ties: assumptions where statics does not say.
    """

    bodies: int
    actions: tuple[Action, ...]
    ties: tuple[Tie, ...] = ()


def rod(key: str, on: int, by: int, inner: Array, outer: Array) -> tuple[Action, ...]:
    """Return what a rod between two balls does: along itself; pulled above nought.

    Args:
        key: its name.
        on: the body at its outer end.
        by: the body at its inner end.
        inner: (3,) mm.
        outer: (3,) mm.
    """
    return (Action(key, on, by, inner, unit(inner - outer)),)


def ball(key: str, on: int, by: int, place: Array) -> tuple[Action, ...]:
    """Return what a ball does: a force along each axis of the car."""
    return tuple(Action(key, on, by, place, axis) for axis in _AXES)


def across(key: str, on: int, by: int, place: Array, along: Array) -> tuple[Action, ...]:
    """Return what something that slides along a direction does: two forces square to it."""
    return tuple(Action(key, on, by, place, way) for way in _square_to(along))


def bearing(key: str, on: int, by: int, place: Array, axis: Array) -> tuple[Action, ...]:
    """Return what one bearing that turns about an axis does: a force and two couples."""
    couples = (Action(key, on, by, place, way, is_couple=True) for way in _square_to(axis))
    return (*ball(key, on, by, place), *couples)


def twist(key: str, on: int, by: int, place: Array, axis: Array) -> tuple[Action, ...]:
    """Return what a bar that is twisted does: a couple about its axis."""
    return (Action(key, on, by, place, unit(axis), is_couple=True),)


def shared_alike(first: str, second: str, along: Array) -> Tie:
    """Return that two keys take the same share along a direction."""
    way = unit(along)
    return {first: way, second: -way}


def shared_by_legs(
    first: str, second: str, at_ball: str, places: tuple[Array, Array, Array]
) -> Tie:
    """Return how the two inner points of an arm share what runs along their hinge.

    Statics gives their sum alone. What acts at the ball is taken to run along both legs, as in an
    arm that carries nothing else; of the rest each inner point is taken to have half.

    Args:
        first: key of one inner point, whose force is on the arm.
        second: of the other.
        at_ball: key of the ball, whose force is on the upright, its opposite on the arm.
        places: of the three, (3,) mm.
    """
    one, other, outer = places
    hinge = unit(one - other)
    legs = np.stack([unit(one - outer), unit(other - outer)], axis=1)
    # (2, 3): of a force that the legs hold
    pulls = np.asarray(np.linalg.pinv(legs), dtype=np.float64)
    along = np.array([legs[:, 0] @ hinge, -(legs[:, 1] @ hinge)]) @ pulls
    return {first: hinge, second: -hinge, at_ball: -along}


def _square_to(direction: Array) -> tuple[Array, Array]:
    """Two directions square to one and to each other, (3,) unit."""
    along = unit(np.asarray(direction, dtype=np.float64))
    first = unit(np.asarray(np.cross(along, _AXES[int(np.argmin(np.abs(along)))]), np.float64))
    return first, np.asarray(np.cross(along, first))


@dataclass(frozen=True, eq=False, slots=True)
class Solved:
    """The size of every unknown in each case.

    Attributes:
        assembly: what was solved.
        sizes: (cases, unknowns) N, of couples N mm.
    """

    assembly: Assembly
    sizes: Array

    def size(self, key: str) -> Array:
        """Size (cases,) of the one action of a key."""
        (at,) = self._of(key)
        return np.asarray(self.sizes[:, at])

    def force(self, key: str) -> Array:
        """Force (cases, 3) N of a key on the body `on`."""
        return self._sum(key, is_couple=False)

    def couple(self, key: str) -> Array:
        """Couple (cases, 3) N mm of a key on the body `on`, beside its force."""
        return self._sum(key, is_couple=True)

    def _sum(self, key: str, *, is_couple: bool) -> Array:
        found = [at for at in self._of(key) if self.assembly.actions[at].is_couple == is_couple]
        ways = np.array([self.assembly.actions[at].direction for at in found]).reshape(-1, 3)
        return np.asarray(self.sizes[:, found] @ ways)

    def _of(self, key: str) -> list[int]:
        return [at for at, each in enumerate(self.assembly.actions) if each.key == key]


def solve(assembly: Assembly, loads: Sequence[Array] | Array, about: Array) -> Solved:
    """Return the size of every unknown under loads on the bodies.

    Args:
        assembly: bodies and what acts between them.
        loads: of each body (cases, 6), force N and moment N mm about `about`, car frame.
        about: (3,) mm; a place near the bodies.

    Raises:
        NotInBalanceError: if balance and ties are not as many as the unknowns, or do not hold.

    Source:
        Newton's laws of bodies at rest: forces and moments on each add up to nought.
    """
    applied = np.asarray(loads, dtype=np.float64)
    rows = np.concatenate([_balance(assembly, about), _ties(assembly)])
    if rows.shape[0] != rows.shape[1]:
        raise NotInBalanceError(
            f"{rows.shape[1]} forces are not known and {rows.shape[0]} conditions say them"
        )
    if np.linalg.svd(rows, compute_uv=False)[-1] < LEAST_HELD:
        raise NotInBalanceError("the forces do not hold it: as drawn it is locked, or gives way")
    scaled = np.concatenate([applied[..., :3], applied[..., 3:] / LEVER], axis=-1)
    told = -np.moveaxis(scaled, 0, 1).reshape(applied.shape[1], -1)  # (cases, 6 bodies)
    right = np.concatenate([told, np.zeros((len(told), len(assembly.ties)))], axis=1)
    sizes = np.linalg.solve(rows, right.T).T
    couples = np.array([each.is_couple for each in assembly.actions])
    return Solved(assembly, np.asarray(np.where(couples, LEVER, 1.0) * sizes, dtype=np.float64))


def _balance(assembly: Assembly, about: Array) -> Array:
    """Forces and moments on each body, (6 bodies, unknowns), for each unknown of size one."""
    rows = np.zeros((assembly.bodies, 6, len(assembly.actions)))
    for at, each in enumerate(assembly.actions):
        push = _wrench(each, about)
        if each.on != CHASSIS:
            rows[each.on, :, at] += push
        if each.by != CHASSIS:
            rows[each.by, :, at] -= push
    return rows.reshape(-1, len(assembly.actions))


def _wrench(action: Action, about: Array) -> Array:
    """Force and scaled moment (6,) of an action of size one; a couple counts by LEVER."""
    if action.is_couple:
        return np.concatenate([np.zeros(3), action.direction])
    moment = np.cross(action.place - about, action.direction) / LEVER
    return np.concatenate([action.direction, moment])


def _ties(assembly: Assembly) -> Array:
    """Assumptions as rows (ties, unknowns)."""
    rows = np.zeros((len(assembly.ties), len(assembly.actions)))
    for row, tie in zip(rows, assembly.ties, strict=True):
        for at, each in enumerate(assembly.actions):
            if each.key in tie and not each.is_couple:
                row[at] = tie[each.key] @ each.direction
    return rows


def wrench(force: Array, place: Array, about: Array) -> Array:
    """Return forces (..., 3) N at places (..., 3) mm as (..., 6), moments N mm about `about`."""
    return np.concatenate([force, np.cross(place - about, force)], axis=-1)


def on_chassis(solved: Solved, keys: Iterable[str]) -> Array:
    """Return the force (cases, 3) N on the chassis of actions that it gives."""
    forces = [-solved.force(key) for key in keys]
    return np.asarray(sum(forces, np.zeros((len(solved.sizes), 3))))
