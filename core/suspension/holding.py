"""Whether a linkage leaves a body just its travel, and if not, what is wrong with it."""

from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from core.geometry.types import Array
from core.suspension.linkage import Linkage
from core.suspension.rows import Rows
from core.suspension.screw import Motion, Screw, screw
from core.suspension.start import LEAST_HELD, UNKNOWNS, AtDesign
from core.suspension.turning import LEVER

SHARE = 0.05
"""Part of the largest weight from which a constraint is named among those that fight."""

LEAST_PITCH = 0.005
"""Slide, mm a degree, below which only the turn is told."""


ONE_WAY = 0.1
"""Rise of one wheel against the other, of the larger, below which they are told to go together or
against each other. Own choice."""


class HeldBody(NamedTuple):
    """A body with wheels, held by a linkage.

    Attributes:
        word: what the builder calls it.
        centre: place at design that all others are taken from, (..., 3) mm, car frame.
        rows: the conditions as arrays.
        design: how it is held at design, and starts to move.
    """

    word: str
    centre: Array
    rows: Rows
    design: AtDesign


def upright_of(linkage: Linkage) -> HeldBody:
    """Return the upright as a body that is held."""
    return HeldBody("upright", linkage.centre, linkage.rows, linkage.design)


@dataclass(frozen=True, eq=False, slots=True)
class Holding:
    """How a body is held at design.

    Attributes:
        word: what the builder calls the body.
        needed: conditions that leave it just its travel: five for one wheel, four for two.
        conditions: how many there are.
        rank: how many of them say something of their own.
        margin: smallest singular value of the conditions with the wheel heights, turns weighed at
            400 mm.
        fighting: groups of constraints that hold the same thing twice.
        free: motions that are left with the wheel heights held.
        sentence: for the builder; empty where the body is held.
    """

    word: str
    needed: int
    conditions: int
    rank: int
    margin: float
    fighting: tuple[tuple[str, ...], ...]
    free: tuple[Screw, ...]
    sentence: str

    @property
    def is_held(self) -> bool:
        """Whether just the travel of the wheels is left."""
        return self.conditions == self.rank == self.needed and not self.free


class NotHeldError(ValueError):
    """The linkage does not leave the body just its travel; `holding` says what is wrong."""

    def __init__(self, holding: Holding) -> None:
        """Keep what is wrong."""
        self.holding = holding
        super().__init__(holding.sentence)


def refuse(body: HeldBody) -> None:
    """Refuse a body that is not held, unless it is one of many geometries.

    Raises:
        NotHeldError: if its conditions are too many or too few, or its only geometry is not held.
    """
    is_one = len(body.design.is_held) == 1 and not body.design.is_held[0]
    if is_one or len(body.rows.names) != UNKNOWNS - body.rows.wheel_count:
        raise NotHeldError(holding_of(body))


def holding(linkage: Linkage, geometry: int = 0) -> Holding:
    """Return how an upright is held at design.

    Args:
        linkage: the corner, with any number of conditions.
        geometry: which one, counted in a row, where there are many.
    """
    return holding_of(upright_of(linkage), geometry)


def holding_of(body: HeldBody, geometry: int = 0) -> Holding:
    """Return how a body is held at design; arguments as for `holding`."""
    slopes, wheels = body.design.slopes[geometry], body.rows.wheel_count
    centre = np.broadcast_to(body.centre, (*body.rows.shape, 3)).reshape(-1, 3)[geometry]
    held, names = slopes[:-wheels], body.rows.names
    rank = _rank(held)
    fighting = _fighting(held if rank < len(held) else slopes, names)
    free = tuple(_screw(step, centre) for step in _left_free(slopes))
    margin = float(body.design.margin[geometry])
    needed = UNKNOWNS - wheels
    found = Holding(body.word, needed, len(held), rank, margin, fighting, free, "")
    left = _still_goes(held, slopes[-wheels:])
    return replace(found, sentence="" if found.is_held else _sentence(found, left))


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


def _sentence(found: Holding, left: str) -> str:
    """What is wrong, for the builder; `left` is what a body held too much can still do."""
    said = [_count(found, left)]
    said += [
        f"{' and '.join(group)} hold the same thing twice."
        for group in found.fighting
        if found.rank < found.conditions
    ]
    wheels = "wheel held at its height" if found.needed == UNKNOWNS - 1 else "wheels held at theirs"
    said += [f"With the {wheels} the {found.word} can {_words(s)}." for s in found.free]
    return " ".join(part for part in said if part)


def _count(found: Holding, left: str) -> str:
    count, word, needed = found.conditions, found.word, found.needed
    if count < needed:
        return f"{count} conditions hold the {word} and {needed} are needed."
    if found.rank > needed:
        return f"{count} conditions hold the {word}, {needed} are needed: it {left}."
    if found.rank == needed and found.free:
        travel = "up and down" if needed == UNKNOWNS - 1 else "both up and down and in roll"
        return f"The linkage moves, but not {travel}: at the design position it is locked."
    return ""


def _still_goes(held: Array, wheels: Array) -> str:
    """What a body that is held too much can still do: heights (wheels, 6) and conditions."""
    left = _left_free(held) if len(held) else np.eye(UNKNOWNS)
    if not len(left):
        return "is fixed"
    rises = (wheels @ left.T)[:, 0]
    large = np.abs(rises).max()
    if large < LEAST_HELD:
        return "can neither rise and fall nor roll"
    if np.abs(rises[0] - rises[-1]) < ONE_WAY * large:
        return "can rise and fall but not roll"
    if np.abs(rises[0] + rises[-1]) < ONE_WAY * large:
        return "can roll but not rise and fall"
    return "can only rise on one side more than on the other, in one fixed way"


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
