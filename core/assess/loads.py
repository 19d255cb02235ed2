"""Forces in the links of a corner and on the chassis, from the load at the contact.

Bodies are taken for stiff and at rest, links for straight and without weight, joints without
friction; dampers do not move. None of it says whether anything is strong enough.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from core.assess.bar_loads import DropLink, drop_link_at, has_bar
from core.assess.corner_pieces import UPRIGHT, Leg
from core.assess.corner_statics import CornerStatics, corner_statics
from core.assess.places import vec
from core.assess.spring_pieces import BAR, PIVOT
from core.assess.wheel_forces import Name, OnWheel, on_wheel
from core.document.base import Ref, Vec3
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array, unit
from core.loads.statics import (
    NotInBalanceError,
    Solved,
    solve,
    wrench,
)
from core.suspension.wheel import contact


@dataclass(frozen=True)
class LegForce:
    """What pulls or pushes along a link, a leg, a rod or a damper.

    Attributes:
        name: what it is called.
        pull: N; below nought it is pushed.
        bend: N square to it at its inner end, of the leg of an arm that carries more; else 0.
    """

    name: str
    pull: float
    bend: float = 0.0


@dataclass(frozen=True)
class PlaceForce:
    """A force at a place.

    Attributes:
        at: the point or the rack.
        force: N, ahead, left, up.
    """

    at: Ref
    force: Vec3

    @property
    def size(self) -> float:
        """N."""
        return float(np.linalg.norm(self.force))


@dataclass(frozen=True, eq=False)
class CornerLoads:
    """Forces of a corner in one load.

    Attributes:
        on_wheel: the load.
        legs: what pulls or pushes.
        on_chassis: forces on the chassis at its pick-ups.
        at_balls: forces on the upright at its joints.
        bar_nm: torque of a torsion bar on what twists it; None where there is none.
        pivot_nm: couple of the rocker on its pivot; None where there is no rocker.
    """

    on_wheel: OnWheel
    legs: tuple[LegForce, ...]
    on_chassis: tuple[PlaceForce, ...]
    at_balls: tuple[PlaceForce, ...]
    bar_nm: float | None = None
    pivot_nm: float | None = None


@cell(When.RELEASE)
def corner_loads(read: Reader, corner: Ref, name: Name) -> CornerLoads:
    """Forces of a corner in a load, as drawn.

    Raises:
        NotComputedError: the load, or what holds the corner, is not known; or nothing does.
    """
    held, load = read(corner_statics, corner), read(on_wheel, corner, name)
    solved = solved_under(read, corner, held, load)
    keys = {action.key for action in held.assembly.actions}
    bar = _bar_forces(read, corner, held, load)
    seats = [(ref, -force(solved, key)) for p in held.pieces for ref, key in p.seats]
    balls = [(ref, force(solved, key)) for p in held.pieces for ref, key in p.balls]
    return CornerLoads(
        load,
        (*(_leg_force(solved, leg) for piece in held.pieces for leg in piece.legs), *bar.legs),
        _at_places([*seats, *bar.seats]),
        _at_places([*balls, *bar.balls]),
        float(solved.size(BAR)[0]) / MM_PER_M if BAR in keys else None,
        _size(solved.couple(PIVOT)[0]) / MM_PER_M if PIVOT in keys else None,
    )


MM_PER_M = 1000.0


def solved_under(read: Reader, corner: Ref, held: CornerStatics, load: OnWheel) -> Solved:
    """Every force of a corner under a load.

    Raises:
        NotComputedError: what holds it is not in balance.
    """
    loads = np.zeros((held.assembly.bodies, 1, 6))
    loads[UPRIGHT, 0] = applied(held, load)
    if load.on_bar:
        link = _drop_link(read, corner, held)
        body = held.bodies.get(link.on, UPRIGHT)
        pulled = link.pull(load.on_bar) * link.way
        loads[body, 0] += wrench(pulled, link.lower, held.poses.centre)
    try:
        return solve(held.assembly, loads, held.poses.centre)
    except NotInBalanceError as error:
        msg = f"{read.label(corner)}: {error}"
        raise NotComputedError(msg) from error


def applied(held: CornerStatics, load: OnWheel) -> Array:
    """What acts on the upright, (6,): N, and N mm about the wheel centre.

    Where the shaft of a gearbox on the chassis turns the wheel, no bearing carries the moment
    about the spin axis: it goes back along the shaft. Its joints are taken to run straight.
    """
    poses = held.poses
    total = wrench(load.contact, contact(poses), poses.centre)
    if load.is_pulled:
        total[3:] -= (total[3:] @ poses.spin) * poses.spin
    total[:3] += load.unsprung
    return total


def _drop_link(read: Reader, corner: Ref, held: CornerStatics) -> DropLink:
    link = drop_link_at(read, corner, held.poses)
    assert link is not None  # a bar that carries something is there
    return link


class _OfBar(NamedTuple):
    """What an anti-roll bar adds to the forces of a corner; nothing where there is none."""

    legs: tuple[LegForce, ...] = ()
    seats: tuple[tuple[Ref, Array], ...] = ()
    balls: tuple[tuple[Ref, Array], ...] = ()


def _bar_forces(read: Reader, corner: Ref, held: CornerStatics, load: OnWheel) -> _OfBar:
    """The drop link, and its force on the chassis where the bar is borne on this side."""
    if not has_bar(read, corner):
        return _OfBar()
    try:
        link = _drop_link(read, corner, held)
    except NotComputedError:
        if load.on_bar:
            raise
        return _OfBar()
    pull = link.pull(load.on_bar)
    pulled = pull * link.way
    balls = ((link.lower_at, pulled),) if link.on == "upright" else ()
    return _OfBar((LegForce("drop link", pull),), ((link.bearing, -pulled),), balls)


def force(solved: Solved, key: str) -> Array:
    """Force (3,) N of a key on the body that it holds, in the one case solved."""
    return np.asarray(solved.force(key)[0])


def _leg_force(solved: Solved, leg: Leg) -> LegForce:
    if not leg.bends:
        return LegForce(leg.name, float(solved.size(leg.key)[0]))
    pulled, way = force(solved, leg.key), unit(leg.inner - leg.outer)
    along = float(pulled @ way)
    return LegForce(leg.name, along, _size(pulled - along * way))


def _at_places(forces: list[tuple[Ref, Array]]) -> tuple[PlaceForce, ...]:
    """Forces by place, those at one place together."""
    total: dict[Ref, Array] = {}
    for ref, each in forces:
        total[ref] = total.get(ref, np.zeros(3)) + each
    return tuple(PlaceForce(ref, vec(each)) for ref, each in total.items())


def _size(vector: Array) -> float:
    return float(np.linalg.norm(vector))


@cell(When.RELEASE)
def left_out(read: Reader, corner: Ref) -> tuple[str, ...]:
    """What of a corner is taken for granted or left out, as sentences."""
    held = read(corner_statics, corner)
    said: list[str] = []
    if any(leg.bends for piece in held.pieces for leg in piece.legs):
        said.append(
            "An arm that carries more than its ball: what acts at the ball is taken to run along "
            "both legs, and of the rest along its hinge each inner point to take half."
        )
    elif held.is_shared:
        said.append("Along a hinge each of its two points is taken to take half.")
    if has_bar(read, corner):
        said.append(
            "The anti-roll bar carries its part of the load moved across where springs and bar "
            "say how much that is; at a kerb and in loads on one wheel it is left out. Its bearing "
            "is taken to hold the pull of the drop link; its twist goes to the other side."
        )
    return tuple(said)
