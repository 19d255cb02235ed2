"""Points moved within bounds until the corner does what is wanted, as well as they can.

Bounded nonlinear least squares from the drawing, by trust regions: M. A. Branch, T. F. Coleman,
Y. Li, SIAM Journal on Scientific Computing 21, 1999, as in scipy's `least_squares` (from memory).
It goes downhill from the drawing, so what it finds is the best near by and need not be the best
of all.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from scipy.optimize import least_squares

from core.geometry.types import Array
from core.suspension.changes import Change, redrawn
from core.suspension.figures import slopes_of
from core.suspension.holding import NotHeldError
from core.suspension.linkage import Linkage
from core.suspension.poses import Poses
from core.suspension.solve import solve
from core.suspension.travel import Travel

FAR = 1e4
"""What is missed, weighed, of an aim at a position that is not reached: further than any real one.
Own choice."""

BETTER = 1e-6
"""Share by which the sum of squares must fall to be better."""

AT_END = 1e-3
"""Nearness to a bound, as a share of the room, at which it is met."""

OFF_BOUND = 0.01
"""How far from a bound it begins, as a share of the room: on one a trust region hardly moves."""

SHORTEST = 1e-10
"""Change of the figures or of the sum of squares, as a share, that ends it."""

MOST_STEPS = 100

Read = Callable[[Poses], Array]


@dataclass(frozen=True, eq=False, slots=True)
class Freedom:
    """One number of the drawing that may be moved.

    Attributes:
        change: which points move, and which way.
        least: mm from drawn.
        most: mm.

    Raises:
        ValueError: if there is no room, or the drawing is not in it.
    """

    change: Change
    least: float
    most: float

    def __post_init__(self) -> None:
        if not (self.least <= 0.0 <= self.most and self.least < self.most):
            raise ValueError(f"{self.change.name} must be free to move, and to stay as drawn")


@dataclass(frozen=True, eq=False, slots=True)
class Aim:
    """Something wanted of a corner.

    Attributes:
        name: as the builder calls it.
        read: from poses over the travel to what is read of them, (..., values); the leading axes
            are those of the poses but the last, as for toe at each height; one of few heights is
            taken out with [..., first:last].
        wanted: (values,) or a number.
        accepted: how far off counts as one; the less, the more the aim weighs. Above nought.
    """

    name: str
    read: Read
    wanted: Array | float
    accepted: float

    def __post_init__(self) -> None:
        if not self.accepted > 0.0:
            raise ValueError(f"{self.name} needs some distance that is accepted")


@dataclass(frozen=True, slots=True)
class Bound:
    """A freedom that is at the end of its room."""

    name: str
    end: Literal["least", "most"]


@dataclass(frozen=True, eq=False, slots=True)
class Settled:
    """A proposal.

    Attributes:
        amounts: (freedoms,) mm from drawn; nought where nothing was better.
        linkage: as it would be drawn.
        before: for each aim, what is read of the drawing; nan where it does not get there.
        after: the same of the proposal.
        missed_before: root of the sum of squares of what is missed, each over what is accepted;
            infinite where the travel is not reached.
        missed_after: the same of the proposal.
        bounds: freedoms at the end of their room: with more of it there may be better.
        is_better: whether the proposal comes nearer than the drawing.
        is_reached: whether the proposal goes through all the travel.
    """

    amounts: Array
    linkage: Linkage
    before: dict[str, Array]
    after: dict[str, Array]
    missed_before: float
    missed_after: float
    bounds: tuple[Bound, ...]
    is_better: bool
    is_reached: bool


def settle(
    linkage: Linkage, freedoms: tuple[Freedom, ...], aims: tuple[Aim, ...], travel: Travel
) -> Settled:
    """Return the corner drawn anew, nearest to what is wanted of it.

    Positions that a geometry does not reach count as far away, and none of them raises. If the
    drawing itself reaches none, there is no way downhill and the proposal is the drawing.

    Args:
        linkage: as drawn, one corner.
        freedoms: numbers that may move, at least one.
        aims: what is wanted, at least one.
        travel: positions (heights,) over which it is wanted.

    Raises:
        ValueError: if there is nothing to move or nothing wanted, or a change is none that a
            drawing can have.
        NotHeldError: if there are not five conditions.
    """
    if not freedoms or not aims:
        raise ValueError("settling needs something that may move and something that is wanted")
    redrawn(linkage, tuple(each.change for each in freedoms), np.zeros(len(freedoms)))
    task = _Task(linkage, freedoms, aims, travel)
    still = np.zeros(len(freedoms))
    found = _found(task)
    cost = [float(np.sum(task.missed(each) ** 2)) for each in (still, found)]
    is_better = cost[1] < cost[0] * (1.0 - BETTER)
    amounts = found if is_better else still
    return Settled(
        amounts,
        redrawn(linkage, task.changes, amounts),
        task.readings(still),
        task.readings(amounts),
        task.distance(still),
        task.distance(amounts),
        _bounds(freedoms, amounts),
        is_better,
        task.is_reached(amounts),
    )


@dataclass(frozen=True, eq=False, slots=True)
class _Task:
    linkage: Linkage
    freedoms: tuple[Freedom, ...]
    aims: tuple[Aim, ...]
    travel: Travel

    @property
    def changes(self) -> tuple[Change, ...]:
        return tuple(each.change for each in self.freedoms)

    def poses(self, amounts: Array) -> Poses:
        """Of drawings (many, freedoms): never of one alone, which would be refused."""
        drawn = redrawn(self.linkage, self.changes, amounts[:, None, :])
        each = np.broadcast_to(self.travel.bump, (len(amounts), *self.travel.shape))
        return solve(drawn, replace(self.travel, bump=each))

    def missed(self, amounts: Array) -> Array:
        """Over what is accepted, (..., values), then what is not reached; see FAR."""
        flat = amounts.reshape(-1, amounts.shape[-1])
        try:
            poses = self.poses(np.concatenate([flat, flat[:1]]))
        except NotHeldError:
            raise
        except ValueError:  # two points that make a line have met
            return np.full((*amounts.shape[:-1], self.count()), FAR)
        near = self._missed(poses)[:-1]
        return near.reshape(*amounts.shape[:-1], near.shape[-1])

    def count(self) -> int:
        """How many values there are, told by the drawing itself."""
        return int(self._missed(self.poses(np.zeros((2, len(self.freedoms))))).shape[-1])

    def _missed(self, poses: Poses) -> Array:
        parts = [(_read(aim, poses) - np.asarray(aim.wanted)) / aim.accepted for aim in self.aims]
        lost = np.where(poses.is_reached, 0.0, FAR)
        found = np.concatenate([*parts, lost], axis=-1)
        return np.asarray(np.clip(np.where(np.isfinite(found), found, FAR), -FAR, FAR))

    def readings(self, amounts: Array) -> dict[str, Array]:
        """What is read for each aim."""
        poses = self.poses(np.stack([amounts, amounts]))
        return {aim.name: _read(aim, poses)[0] for aim in self.aims}

    def is_reached(self, amounts: Array) -> bool:
        """Whether all the travel is."""
        return bool(self.poses(np.stack([amounts, amounts])).is_reached.all())

    def distance(self, amounts: Array) -> float:
        """Root of the sum of squares missed."""
        missed = self.missed(amounts)
        return float(np.sqrt(np.sum(missed**2))) if self.is_reached(amounts) else np.inf


def _read(aim: Aim, poses: Poses) -> Array:
    with np.errstate(divide="ignore", invalid="ignore"):
        return aim.read(poses)


def _found(task: _Task) -> Array:
    least = np.array([each.least for each in task.freedoms])
    most = np.array([each.most for each in task.freedoms])

    def slopes(amounts: Array) -> Array:
        return slopes_of(task.missed, amounts)

    room = most - least
    found = least_squares(
        task.missed,
        np.clip(np.zeros(len(least)), least + OFF_BOUND * room, most - OFF_BOUND * room),
        jac=slopes,
        bounds=(least, most),
        x_scale=room,
        xtol=SHORTEST,
        ftol=SHORTEST,
        max_nfev=MOST_STEPS,
    )
    return np.clip(np.asarray(found.x, dtype=np.float64), least, most)


def _bounds(freedoms: tuple[Freedom, ...], amounts: Array) -> tuple[Bound, ...]:
    met: list[Bound] = []
    for each, amount in zip(freedoms, amounts.tolist(), strict=True):
        near = AT_END * (each.most - each.least)
        if amount <= each.least + near and each.least < 0.0:
            met.append(Bound(each.change.name, "least"))
        elif amount >= each.most - near and each.most > 0.0:
            met.append(Bound(each.change.name, "most"))
    return tuple(met)
