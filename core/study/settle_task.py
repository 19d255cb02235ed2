"""What the room is asked to settle: freedoms from coordinates, aims from wishes."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from core.assess.dampers import damper_at_design
from core.assess.linkages import arms, linkage
from core.assess.travels import heights
from core.document.base import Ref
from core.document.lookup import Lookup
from core.document.running_gear import Corner
from core.edits.refusals import HeldError
from core.engine.address import said
from core.engine.assess import compute
from core.engine.cells import Cell, NotComputedError, Reader, When
from core.geometry.types import Array
from core.study.rests import StudyError
from core.study.settle_aims import AIMS, accepted, reader
from core.study.settle_places import MayMove, coordinates
from core.study.settle_records import Settling
from core.suspension.changes import AXES, moving
from core.suspension.constraints import HArm, Rod
from core.suspension.damper import DamperAtDesign, damper_per_wheel_travel
from core.suspension.linkage import Linkage
from core.suspension.makers import Arm
from core.suspension.poses import Poses
from core.suspension.settling import Aim, Freedom

FIT_EACH_WAY = 6
"""Wheel heights from design to either end at which aims are read while points are moved."""

STILL = 20.0
"""mm moved that counts as one thing missed: among proposals alike the one that moves least wins."""

Progress = Callable[[object], None]


def freedoms_of(asked: Settling) -> Iterator[tuple[MayMove, Freedom]]:
    """Each coordinate that may move, with the room it has.

    Raises:
        StudyError: it is no point of the corner, or has no room.
        HeldError: it is held.
        NotComputedError: what holds the upright is not known.
    """
    there = {(each.ref, each.axis): each for each in coordinates(asked.document, asked.corner)}
    lookup = Lookup(asked.document)
    for wanted in asked.freed:
        each = there.get((wanted.ref, wanted.axis))
        if each is None:
            raise StudyError(f"{lookup.label(wanted.ref)} is no point of this corner")
        if each.held:
            raise HeldError(f"{said(lookup, each.address)} is held: {each.held}")
        if not wanted.each_way > 0.0:
            raise StudyError(f"{said(lookup, each.address)} needs room to move, above nought")
        yield each, _freedom(each, wanted.each_way)


def _freedom(each: MayMove, each_way: float) -> Freedom:
    change = moving(f"{each.ref} {each.axis}", (each.ends,), AXES[each.axis])
    return Freedom(change, -min(each_way, each.down), min(each_way, each.up))


@dataclass(frozen=True, eq=False)
class Known:
    """The corner as drawn, with what is needed to read its damper.

    Attributes:
        linkage: of it.
        heights: (n,) mm of the wheel, at which it is read.
        damper: None where it has none that is known.
        legs: links of the arm that carries the damper, the front one first.
    """

    linkage: Linkage
    heights: Array
    damper: DamperAtDesign | None
    legs: tuple[str, ...]

    @property
    def design(self) -> int:
        """Which of the heights is the design position."""
        return int(np.abs(self.heights).argmin())


def known(asked: Settling) -> Known:
    """The corner as drawn.

    Raises:
        NotComputedError: what holds the upright, or how far its wheel goes, is not known.
    """

    def run(read: Reader) -> Known:
        corner = read.thing(Corner, asked.corner)
        asked_heights = heights(corner, read.label(asked.corner), FIT_EACH_WAY)
        damper = _damper(read, asked.corner)
        legs = _legs(read, asked.corner, damper)
        return Known(read(linkage, asked.corner), asked_heights, damper, legs)

    return compute(asked.document, {}, Cell("to settle", When.ASKED, run))


def _damper(read: Reader, corner: Ref) -> DamperAtDesign | None:
    try:
        return read(damper_at_design, corner)
    except NotComputedError:
        return None


def _legs(read: Reader, corner: Ref, damper: DamperAtDesign | None) -> tuple[str, ...]:
    """The links of the arm that carries the damper, the front one first; none where none does."""
    if damper is None or damper.arm is None:
        return ()
    drawn = damper.arm
    for each in read(arms, corner):
        if np.array_equal(each.arm.outer, drawn.outer):
            held = {rod.name: rod for rod in read(linkage, corner).constraints}
            rods = [rod for name in each.links if isinstance(rod := held[name], Rod)]
            return tuple(r.name for r in sorted(rods, key=lambda r: -float(r.inner[0])))
    return ()


def aims_of(asked: Settling, drawn: Known, progress: Progress) -> Iterator[Aim]:
    """Each wish as an aim of the room; the first tells how often drawings were tried.

    Raises:
        StudyError: the corner has no such figure, or the wish weighs nothing.
    """
    lookup = Lookup(asked.document)
    for number, wish in enumerate(asked.wishes):
        kind = AIMS.get(wish.key)
        if kind is None or (kind.key == "damper" and drawn.damper is None):
            raise StudyError(f"{lookup.label(asked.corner)} cannot be settled for {wish.key}")
        if not wish.weight > 0.0:
            raise StudyError(f"{kind.words} needs a weight above nought")
        values = len(drawn.heights) if kind.how == "change" else 1
        within = accepted(kind, values, wish.weight)
        read = reader(kind, drawn.design, _per_wheel(drawn))
        read = read if number else _counted(read, progress)
        yield Aim(kind.key, read, wish.wanted, within)


def _counted(read: Callable[[Poses], Array], progress: Progress) -> Callable[[Poses], Array]:
    """The same reading, which tells how many times drawings were tried."""
    tried = 0

    def told_of(poses: Poses) -> Array:
        nonlocal tried
        tried += 1
        progress(tried)
        return read(poses)

    return told_of


def _per_wheel(drawn: Known) -> Callable[[Poses], Array] | None:
    """How the damper is read of a corner drawn otherwise: its arm goes with the drawing."""
    damper = drawn.damper
    if damper is None:
        return None

    def read(poses: Poses) -> Array:
        arm = damper.arm and _arm_of(poses.linkage, damper.arm, drawn.legs)
        return damper_per_wheel_travel(poses, replace(damper, arm=arm))

    return read


def _arm_of(drawn: Linkage, arm: Arm, legs: tuple[str, ...]) -> Arm:
    """The arm of a corner drawn otherwise."""
    held = {each.name: each for each in drawn.constraints}
    rods = [rod for name in legs if isinstance(rod := held[name], Rod)]
    if rods:
        return Arm(rods[0].inner, rods[-1].inner, rods[0].outer)
    stiff = [each for each in drawn.constraints if isinstance(each, HArm)]
    return Arm(stiff[0].first_inner, stiff[0].second_inner, stiff[0].first_outer) if stiff else arm


def stays(freed: tuple[MayMove, ...], freedoms: tuple[Freedom, ...]) -> Aim:
    """That points stay where they are drawn, which counts for very little."""

    def read(poses: Poses) -> Array:
        held = {each.name: each for each in poses.linkage.constraints}
        moved = [
            np.sum(getattr(held[name], field) * freedom.change.direction, axis=-1)
            for freedom in freedoms
            for name, field in freedom.change.moves[:1]
        ]
        return np.concatenate(moved, axis=-1)

    return Aim("stays", read, np.array([each.at for each in freed]), STILL)
