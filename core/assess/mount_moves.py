"""How the engine and gearbox moves on its mounts in each load, and how near it comes to tubes.

Movement counts from rest: the car standing, the mounts sagged under the weight.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np

from core.assess.clearance import TubeGap, gaps_at_rest, gaps_in_place, unit_body
from core.assess.limits import limit
from core.assess.mount_loads import Asked, asked, loads_told
from core.assess.mounts import (
    GRAVITY,
    Which,
    drive_axis,
    mounts_of_unit,
    moved_by,
    unit_mass,
    unit_on_mounts,
)
from core.assess.places import drawn_tubes, the_unit, unit_frame
from core.document.base import Ref
from core.engine.cells import Reader, When, cell
from core.geometry.frames import Frame
from core.geometry.types import Array, read_only
from core.powerunit.held import Moved
from core.powerunit.torque import reaction


@dataclass(frozen=True, eq=False)
class CaseMoved:
    """The engine and gearbox moved by a load.

    Attributes:
        asked: the load.
        moved: where to, as if there were no stops.
        mounts: its mounts, in the order of `moved`.
        holds: share of the load up to which this counts, 1 if for all of it: at that share the
            first stop is met, or it has turned as far as small turns are good for.
    """

    asked: Asked
    moved: Moved
    mounts: tuple[Ref, ...]
    holds: float

    @property
    def stops_met(self) -> tuple[tuple[Ref, str], ...]:
        """Mounts that meet a stop, each with the own axis along which."""
        past = np.argwhere(self.moved.stop_left < 0.0).tolist()
        return tuple((self.mounts[row], "xyz"[column]) for row, column in past)


@cell(When.RELEASE)
def case_moved(read: Reader, key: str, which: Which) -> CaseMoved:
    """Where a load moves the engine and gearbox, with inserts as fitted or with the softest.

    Raises:
        NotComputedError: the load or the mounts are not known, or the mounts leave it free.
    """
    held, load = read(unit_on_mounts, which), read(asked, key)
    push = -np.array(load.acceleration_g) * GRAVITY
    force = push * unit_mass(read) if push.any() else push
    found = moved_by(held, force, reaction(load.torque_nm, drive_axis(read)))
    most = read(limit, "mount_turn", the_unit(read)).value
    return CaseMoved(load, found, read(mounts_of_unit), _holds(found, most))


def _holds(found: Moved, most_deg: float) -> float:
    """Share of the load up to which no stop is met and the turn is small."""
    gaps = np.array([bush.stop_gap for bush in found.held.bushes])
    moves = np.abs(found.own_moves)
    shares = gaps[moves > 0.0] / moves[moves > 0.0]
    turn = found.whole_turn_deg
    by_turn = most_deg / turn if turn > most_deg else 1.0
    return float(min(1.0, by_turn, *shares))


@dataclass(frozen=True, eq=False)
class Envelope:
    """How far the engine and gearbox moves in all loads that count.

    Attributes:
        low: (6,) least of each: move of the centre of gravity along x, y, z, mm, and turn about
            them, degrees.
        high: (6,) greatest.
        low_in: the load that gives each least.
        high_in: the load that gives each greatest.
        past: loads in which a stop is met or the turn is too great: there the figures are too
            great, and what is true is not known.
    """

    low: Array
    high: Array
    low_in: tuple[str, ...]
    high_in: tuple[str, ...]
    past: tuple[str, ...]


@cell(When.RELEASE)
def envelope(read: Reader, which: Which) -> Envelope:
    """How far it moves in all loads that count, with inserts as fitted or with the softest."""
    keys = np.array(read(loads_told).count)
    found = [read(case_moved, str(key), which) for key in keys]
    rows = np.array([[*each.moved.move, *each.moved.turn_deg] for each in found])
    return Envelope(
        read_only(rows.min(axis=0)),
        read_only(rows.max(axis=0)),
        tuple(str(key) for key in keys[rows.argmin(axis=0)]),
        tuple(str(key) for key in keys[rows.argmax(axis=0)]),
        tuple(each.asked.case.key for each in found if each.holds < 1.0),
    )


@cell(When.RELEASE)
def gaps_moved(read: Reader, key: str, which: Which, part: float) -> tuple[TubeGap, ...]:
    """The gaps of the engine and gearbox to tubes, moved by a share of a load, least first.

    The nearest is among them, and every tube that it could come within the wanted gap of: none
    comes nearer than its gap at rest less the farthest move of any place on the engine.
    """
    found = read(case_moved, key, which).moved
    hung = read(unit_frame, the_unit(read))
    at = Moved(found.held, read_only(found.twist * part)).carried(hung)
    moves = _farthest(read, hung, at)
    rest = read(gaps_at_rest)
    wanted = max(rest[0].gap + moves, read(widest_gap_wanted)) + moves
    return gaps_in_place(read, at, [gap.tube for gap in rest if gap.gap <= wanted])


def _farthest(read: Reader, hung: Frame, at: Frame) -> float:
    """Farthest move of any place on the engine, mm: of a corner of the box round it.

    A rigid move is linear in the place, so its length is greatest at a corner.
    """
    low, high = read(unit_body, the_unit(read)).body.bounds
    corners = np.array([low, high])[[[i, j, k] for i, j, k in product((0, 1), repeat=3)], [0, 1, 2]]
    return float(np.linalg.norm(at.to_car(corners) - hung.to_car(corners), axis=1).max())


@cell(When.RELEASE)
def widest_gap_wanted(read: Reader) -> float:
    """The greatest gap, mm, that is wanted of any tube as the engine moves, tight or not."""
    unit_ref = the_unit(read)
    found = [read(limit, "unit_gap_moved", tube, unit_ref) for tube in read(drawn_tubes)]
    return max(each.value + each.margin for each in found)
