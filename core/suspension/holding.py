"""Whether a linkage leaves the upright just its travel, and if not, what is wrong with it."""

from dataclasses import dataclass, replace

import numpy as np

from core.geometry.types import Array
from core.suspension.linkage import Linkage
from core.suspension.screw import Motion, Screw, screw
from core.suspension.start import LEAST_HELD, UNKNOWNS
from core.suspension.turning import LEVER

NEEDED = UNKNOWNS - 1
"""Conditions that leave a body one motion."""

SHARE = 0.05
"""Part of the largest weight from which a constraint is named among those that fight."""

LEAST_PITCH = 0.005
"""Slide, mm a degree, below which only the turn is told."""


@dataclass(frozen=True, eq=False, slots=True)
class Holding:
    """How an upright is held at design.

    Attributes:
        conditions: how many there are.
        rank: how many of them say something of their own.
        margin: smallest singular value of the conditions with the wheel height, turns weighed at
            400 mm.
        fighting: groups of constraints that hold the same thing twice.
        free: motions that are left with the wheel height held.
        sentence: for the builder; empty where the upright is held.
    """

    conditions: int
    rank: int
    margin: float
    fighting: tuple[tuple[str, ...], ...]
    free: tuple[Screw, ...]
    sentence: str

    @property
    def is_held(self) -> bool:
        """Whether just the wheel's travel is left."""
        return self.conditions == self.rank == NEEDED and not self.free


class NotHeldError(ValueError):
    """The linkage does not leave the upright just its travel; `holding` says what is wrong."""

    def __init__(self, holding: Holding) -> None:
        """Keep what is wrong."""
        self.holding = holding
        super().__init__(holding.sentence)


def holding(linkage: Linkage, geometry: int = 0) -> Holding:
    """Return how an upright is held at design.

    Args:
        linkage: the corner, with any number of conditions.
        geometry: which one, counted in a row, where there are many.
    """
    slopes = linkage.design.slopes[geometry]
    centre = np.broadcast_to(linkage.centre, (*linkage.rows.shape, 3)).reshape(-1, 3)[geometry]
    held, names = slopes[:-1], linkage.rows.names
    rank = _rank(held)
    fighting = _fighting(held if rank < len(held) else slopes, names)
    free = tuple(_screw(step, centre) for step in _left_free(slopes))
    margin = float(linkage.design.margin[geometry])
    found = Holding(len(held), rank, margin, fighting, free, "")
    return replace(found, sentence="" if found.is_held else _sentence(found))


def _rank(slopes: Array) -> int:
    return int(np.sum(np.linalg.svd(slopes, compute_uv=False) > LEAST_HELD)) if len(slopes) else 0


def _left_free(slopes: Array) -> Array:
    """Motions (count, 6) that no condition stops."""
    return np.asarray(np.linalg.svd(slopes)[2][_rank(slopes) :])


def _fighting(slopes: Array, names: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """Constraints that take part in each way to make one condition from the others."""
    if len(slopes) <= _rank(slopes):
        return ()
    ways = np.abs(np.linalg.svd(slopes)[0][: len(names), _rank(slopes) :].T)
    groups = [
        tuple(dict.fromkeys(n for n, w in zip(names, way, strict=True) if w > SHARE * way.max()))
        for way in ways
    ]
    return tuple(dict.fromkeys(groups))


def _screw(step: Array, centre: Array) -> Screw:
    return screw(Motion(step[:3], step[3:] / LEVER, centre))


def _sentence(found: Holding) -> str:
    """What is wrong, for the builder."""
    said = [_count(found)]
    said += [
        f"{' and '.join(group)} hold the same thing twice."
        for group in found.fighting
        if found.rank < found.conditions
    ]
    said += [f"With the wheel held at its height the upright can {_words(s)}." for s in found.free]
    return " ".join(part for part in said if part)


def _count(found: Holding) -> str:
    if found.conditions < NEEDED:
        return f"{found.conditions} conditions hold the upright and {NEEDED} are needed."
    if found.rank > NEEDED:
        return f"{found.conditions} conditions hold the upright, {NEEDED} are needed: it is fixed."
    if found.rank == NEEDED and found.free:
        return "The linkage moves, but not up and down: at the design position it is locked."
    return ""


def _words(motion: Screw) -> str:
    """A motion, for the builder."""
    way = motion.direction * np.sign(motion.direction[np.argmax(np.abs(motion.direction))])
    x, y, z = (f"{round(float(value), 2) + 0.0:.2f}" for value in way)
    if float(motion.turn_deg) == 0.0:
        return f"slide along ({x}, {y}, {z})"
    place = ", ".join(f"{round(float(value)) + 0:d}" for value in motion.point)
    turn = f"turn about the line through ({place}) along ({x}, {y}, {z}): it {_kind(motion)}"
    pitch = float(motion.slide / motion.turn_deg)  # the same either way round
    return turn if abs(pitch) < LEAST_PITCH else f"{turn}, and slides {pitch:.2f} mm a degree"


def _kind(motion: Screw) -> str:
    """What such a turn does to the wheel, by the axis it is nearest to."""
    return ("leans", "winds up", "steers by itself")[int(np.argmax(np.abs(motion.direction)))]
