"""What is left to chance when a corner is built, and what it is set to afterwards.

A tolerance is taken as bounds of which nothing more is known, so every place between them is as
likely; a ± of something measured as a standard deviation. Sources: JCGM 100:2008, «Guide to the
expression of uncertainty in measurement», 4.3.7 and 4.3.3.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256

import numpy as np

from core.assess.adjusters import adjusters_of
from core.assess.limits import Limited, limit
from core.assess.linkages import linkage
from core.document.base import Fact, Ref
from core.document.facts import counting_fact
from core.document.running_gear import Corner, Rack
from core.document.steel import Point
from core.engine.cells import Reader
from core.geometry.types import Array
from core.study.corner_points import CornerPoint, coordinate_path, corner_points, owner_of
from core.suspension.adjusting import Adjuster
from core.suspension.built_cars import Kind, Tolerance
from core.suspension.changes import AXES, bodies, moving
from core.suspension.figures import Figure
from core.suspension.linkage import Linkage

LEAST_WITHIN = 1e-3
"""deg, where the limit of a wanted figure is nought: no wheel is ever set nearer."""


@dataclass(frozen=True)
class HeldTo:
    """How near one coordinate comes to the drawing when it is built.

    Attributes:
        ref: the point, or a rack's ball.
        axis: x, y or z, car frame.
        size: mm; half the width if uniform, standard deviation if normal.
        kind: how it falls.
        is_default: whether nothing is given for it and the limit «build_tolerance» counts.
    """

    ref: Ref
    axis: str
    size: float
    kind: Kind
    is_default: bool


@dataclass(frozen=True)
class Wanted:
    """A figure that the corner is set to.

    Attributes:
        figure: which.
        value: degrees; None where none is wanted and the drawing counts.
        within: how far off is still right, degrees.
    """

    figure: Figure
    value: float | None
    within: float


@dataclass(frozen=True, eq=False)
class ToBuild:
    """A corner, and what is left to chance when it is built.

    Attributes:
        linkage: as drawn.
        default: the limit that counts where no tolerance is given.
        held: each coordinate that is built.
        tolerances: the same for the room, in the same order.
        bumps: (heights,) mm, full droop and full bump, those that are known.
        wanted: figures it is set to.
        adjusters: what they are set by.
        unknown: adjusters that nothing can be said of, and why.
        stiff: points of an arm in one piece, which are not varied.
    """

    linkage: Linkage
    default: Limited
    held: tuple[HeldTo, ...]
    tolerances: tuple[Tolerance, ...]
    bumps: Array
    wanted: tuple[Wanted, ...]
    adjusters: tuple[Adjuster, ...]
    unknown: tuple[str, ...]
    stiff: tuple[Ref, ...]

    @property
    def seed(self) -> int:
        """From what is built: the same corner is given the same lots."""
        held = self.linkage.constraints
        places = [
            np.asarray(getattr(each, name), dtype=np.float64)
            for each in held
            for name, _ in bodies(each)
        ]
        wheel = [np.asarray(self.linkage.centre), np.asarray(self.linkage.spin), self.bumps]
        told = repr([(str(h.ref), h.axis, h.size, h.kind) for h in self.held]).encode()
        content = b"".join(array.tobytes() for array in (*places, *wheel)) + told
        return int.from_bytes(sha256(content).digest()[:8], "big")


def to_build(read: Reader, corner: Ref) -> ToBuild:
    """A corner with what is left to chance.

    Raises:
        NotComputedError: what holds the upright is not known, or a limit cannot be read.
    """
    points = corner_points(read, corner)  # refuses what is no corner
    built = [each for each in points if each.body != "arm"]
    thing, found = read.thing(Corner, corner), read(adjusters_of, corner)
    default = read(limit, "build_tolerance", corner, thing.axle)
    pairs = [(each, held) for each in built for held in _held_to(read, default.value, each)]
    ends = (None if thing.droop is None else -thing.droop, thing.bump)
    return ToBuild(
        read(linkage, corner),
        default,
        tuple(held for _, held in pairs),
        tuple(_tolerance(each, held) for each, held in pairs),
        np.array([end for end in ends if end], dtype=np.float64),
        tuple(_wanted(read, corner)),
        found.rooms,
        tuple(f"{each.label}: {each.reason}" for each in found.unknown),
        tuple(each.ref for each in points if each.body == "arm"),
    )


def _held_to(read: Reader, default: float, each: CornerPoint) -> Iterator[HeldTo]:
    for axis in AXES:
        fact = _fact(read, each.ref, axis)
        size, kind, is_default = _size(fact, default)
        yield HeldTo(each.ref, axis, size, kind, is_default)


def _fact(read: Reader, ref: Ref, axis: str) -> Fact | None:
    owner = owner_of(read, ref)
    kind = Rack if read.has(Rack, ref) else Point
    return counting_fact(
        read.thing(kind, owner).facts, owner.side, coordinate_path(read, ref, axis)
    )


def _size(fact: Fact | None, default: float) -> tuple[float, Kind, bool]:
    """A tolerance that is given; else the ± of what is measured or in hand; else the default."""
    if fact is not None and fact.tolerance is not None:
        return fact.tolerance, "uniform", False
    is_made = fact is not None and fact.source in ("measured", "in_hand")
    if fact is not None and is_made and fact.uncertainty is not None:
        return fact.uncertainty, "normal", False
    return default, "uniform", True


def _tolerance(each: CornerPoint, held: HeldTo) -> Tolerance:
    change = moving(f"{held.ref} {held.axis}", (each.point,), AXES[held.axis])
    return Tolerance(change, each.point.name, held.size, held.kind)


def _wanted(read: Reader, corner: Ref) -> Iterator[Wanted]:
    thing = read.thing(Corner, corner)
    camber = read(limit, "corner_camber", corner, thing.axle).value
    toe = read(limit, "corner_toe", corner, thing.axle).value
    yield Wanted("camber", thing.wanted_camber_deg, max(camber, LEAST_WITHIN))
    yield Wanted("toe_in", thing.wanted_toe_in_deg, max(toe, LEAST_WITHIN))
