"""A rigid body on mounts, to first order: stiffness, movement under a load, what is left free."""

from dataclasses import dataclass, field
from itertools import combinations
from typing import Literal

import numpy as np
from scipy.spatial.transform import Rotation

from core.geometry.frames import Frame
from core.geometry.types import Array, read_only, unit
from core.powerunit.bushes import Bush, MountError

ARM = 400.0
"""mm; turns times this are compared with moves where stiffness is ranked: about the reach of a
mount from the centre of gravity."""

FREE = 1e-9
"""Share of the greatest stiffness below which a motion counts as free: far above rounding, far
below any rubber."""

SAME_PLACE = 1e-3
"""mm; mounts nearer to one another than this are taken for one entered twice."""

N_MM_PER_NM = 1000.0


class FreeMotionError(MountError):
    """The mounts leave the body free to move in some way, so a load would carry it off."""


@dataclass(frozen=True, eq=False)
class FreeMotion:
    """A motion against which no mount pushes.

    Attributes:
        kind: a slide along a line, or a turn about one.
        along: (3,) direction of the line, car frame, its greatest part above nought.
        through: (3,) mm, car frame, the place on the line nearest to the centre of gravity.
        slide_per_turn: mm along the line for each radian of turn; nought of a pure turn.
    """

    kind: Literal["slide", "turn"]
    along: Array
    through: Array
    slide_per_turn: float = 0.0


@dataclass(frozen=True, eq=False)
class Held:
    """A rigid body on mounts; small moves and turns about its centre of gravity.

    Attributes:
        centre: (3,) mm, centre of gravity, car frame.
        bushes: its mounts.
        stiffness: (6, 6), N/mm, N and N mm: K = sum(B^T k B) with B = [I, -[r]x], for a move of
            the centre of gravity in mm followed by a turn in radians, car axes.
    """

    centre: Array
    bushes: tuple[Bush, ...]
    stiffness: Array = field(init=False)

    def __post_init__(self) -> None:
        """Sum the stiffness.

        Raises:
            MountError: if two mounts are in one place.
        """
        object.__setattr__(self, "centre", read_only(self.centre))
        for one, other in combinations(self.bushes, 2):
            if np.abs(one.place - other.place).max() < SAME_PLACE:
                msg = f"{one.name} and {other.name} are in one place: was one entered twice?"
                raise MountError(msg)
        total = np.zeros((6, 6))
        for bush in self.bushes:
            move = self.move_at(bush.place)
            total += move.T @ bush.in_car @ move
        object.__setattr__(self, "stiffness", read_only(total))

    def move_at(self, place: Array) -> Array:
        """Return what turns a twist into the move of a place: B = [I, -[r]x], (3, 6)."""
        x, y, z = place - self.centre
        return np.array(
            [
                [1.0, 0.0, 0.0, 0.0, z, -y],
                [0.0, 1.0, 0.0, -z, 0.0, x],
                [0.0, 0.0, 1.0, y, -x, 0.0],
            ]
        )

    def without(self, number: int) -> "Held":
        """Return the body without one of its mounts."""
        return Held(self.centre, (*self.bushes[:number], *self.bushes[number + 1 :]))


@dataclass(frozen=True, eq=False)
class Moved:
    """Where a load has moved the body, to first order, from where it was without the load.

    Attributes:
        held: the body on its mounts.
        twist: (6,) move of the centre of gravity, mm, and turn, radians, right-handed about x, y
            and z of the car.
    """

    held: Held
    twist: Array

    @property
    def move(self) -> Array:
        """Move of the centre of gravity, (3,) mm, car frame."""
        return self.twist[:3]

    @property
    def turn_deg(self) -> Array:
        """Turn, (3,) degrees about x, y and z of the car, right-handed."""
        return np.degrees(self.twist[3:])

    @property
    def whole_turn_deg(self) -> float:
        """How far it turns in all, about whichever line, degrees."""
        return float(np.linalg.norm(self.turn_deg))

    def at(self, place: Array) -> Array:
        """Return the first-order move of a place on the body, (3,) mm, car frame."""
        return np.asarray(self.held.move_at(place) @ self.twist, dtype=np.float64)

    @property
    def own_moves(self) -> Array:
        """Move of each mount along its own axes, (n, 3) mm."""
        moves = [self.at(bush.place) @ bush.axes for bush in self.held.bushes]
        return np.array(moves, dtype=np.float64).reshape(-1, 3)

    @property
    def forces(self) -> Array:
        """Force of each mount on the chassis, (n, 3) N, car frame: k (u + theta x r)."""
        found = [bush.in_car @ self.at(bush.place) for bush in self.held.bushes]
        return np.array(found, dtype=np.float64).reshape(-1, 3)

    @property
    def stop_left(self) -> Array:
        """Free movement left of each mount along its own axes, (n, 3) mm; below nought past it."""
        gaps = np.array([bush.stop_gap for bush in self.held.bushes]).reshape(-1, 3)
        return np.asarray(gaps - np.abs(self.own_moves), dtype=np.float64)

    @property
    def energy(self) -> float:
        """What the rubber has taken up, N mm."""
        return float(self.twist @ self.held.stiffness @ self.twist) / 2.0

    def carried(self, frame: Frame) -> Frame:
        """Return a frame fixed to the body, in its new place; the turn is a true rotation."""
        turn = np.asarray(Rotation.from_rotvec(self.twist[3:].copy()).as_matrix(), dtype=np.float64)
        centre = self.held.centre
        origin = centre + self.move + turn @ (frame.origin - centre)
        return Frame(origin, turn @ frame.axes)


def moved(held: Held, force: Array, torque_nm: Array) -> Moved:
    """Return where a load moves the body: q = K^-1 (F, M).

    Args:
        held: the body on its mounts.
        force: (3,) N on the body at its centre of gravity, car frame.
        torque_nm: (3,) N m on the body, right-handed about x, y and z of the car.

    Raises:
        FreeMotionError: if the mounts leave a motion free.

    Source:
        Small movements of a rigid body on springs; any text on vehicle vibration.
    """
    if motions_free(held):
        raise FreeMotionError("the mounts leave the engine and gearbox free to move")
    load = np.concatenate([force, torque_nm * N_MM_PER_NM])
    return Moved(held, read_only(np.linalg.solve(held.stiffness, load)))


def motions_free(held: Held) -> tuple[FreeMotion, ...]:
    """Return the motions that the mounts leave free, slides before turns; none if they hold all.

    Where several are free, any mixture of them is: those told are the ones nearest to the axes of
    the car.
    """
    scale = np.array([1.0, 1.0, 1.0, 1.0 / ARM, 1.0 / ARM, 1.0 / ARM])
    values, vectors = np.linalg.eigh(held.stiffness * np.outer(scale, scale))
    free = vectors[:, values <= FREE * max(float(values[-1]), 0.0)] * scale[:, None]
    if not free.shape[1]:
        return ()
    left, sizes, right = np.linalg.svd(free[3:] * ARM)
    rank = int((sizes > SMALL).sum())
    slides = _near_axes(free[:3] @ right[rank:].T)
    axes = _near_axes(left[:, :rank])
    turns = free @ (right[:rank].T @ ((left[:, :rank].T @ axes) / sizes[:rank, None])) * ARM
    return (
        *(FreeMotion("slide", _pointed(slide), held.centre) for slide in slides.T),
        *(_turn(held, twist, slides) for twist in turns.T),
    )


SMALL = 1e-6
"""Share below which a part of a direction is taken for rounding."""


def _near_axes(columns: Array) -> Array:
    """Return square directions (3, r) that span the columns (3, n), as near car axes as can be."""
    left, sizes, _ = np.linalg.svd(columns, full_matrices=False)
    span = left[:, sizes > SMALL]
    rest = span @ span.T
    taken: list[Array] = []
    for _ in range(span.shape[1]):
        best = unit(rest[:, int(np.argmax(np.round(np.diag(rest), 9)))])
        taken.append(best)
        rest = rest - np.outer(best, best)
    return np.array(taken, dtype=np.float64).reshape(-1, 3).T


def _turn(held: Held, twist: Array, slides: Array) -> FreeMotion:
    """Return a turn of one radian about a line, without what of its move is a free slide."""
    along = twist[3:]
    move = twist[:3] - slides @ (slides.T @ twist[:3])
    through = held.centre + np.cross(along, move)
    return FreeMotion("turn", _pointed(along), read_only(through), float(move @ along))


def _pointed(direction: Array) -> Array:
    """Return the direction with its greatest part above nought, tiny parts of it at nought."""
    tidy = np.where(np.abs(direction) < SMALL, 0.0, direction)
    sign = 1.0 if tidy[int(np.abs(tidy).argmax())] > 0.0 else -1.0
    return read_only(sign * tidy + 0.0)
