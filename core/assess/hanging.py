"""How far each wheel hangs when its damper is off, and what then stops it.

Whoever takes a damper off on the stands finds out. A drive shaft is never what stops a wheel: it
is pulled apart, or its joint breaks.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from core.assess.beams import held_wheel
from core.assess.limits import limit
from core.assess.tilts import Tilting, tilting
from core.document.base import Ref
from core.document.running_gear import Corner, DriveShaft
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array
from core.suspension.hanging import LOCK, Hanging, Limit, hanging
from core.suspension.holding import NotHeldError
from core.suspension.linkage import Linkage
from core.suspension.poses import Poses

STRAP = "strap or droop stop"
"""Name of what holds a wheel although its damper is off."""

REACHES = (60.0, 80.0, 100.0, 120.0, 140.0, 160.0, 250.0)
"""How far down it is looked, mm, one after another until something is met: near their lock links
take long to follow. The last is most of a wheel's radius."""


@dataclass(frozen=True)
class Hangs:
    """How far a wheel hangs with its damper off.

    Attributes:
        droop: mm below the design position.
        by: what stops it: `STRAP`, `LOCK` of the links, or the name of a joint; None, nothing does
            as far as was looked.
        joint: the point or ball of that joint; None where it is none.
        not_known: names of joints that may be at the end of their tilt before.
        has_shaft: whether a drive shaft goes with the wheel.
    """

    droop: float
    by: str | None
    joint: Ref | None
    not_known: tuple[str, ...]
    has_shaft: bool


@cell(When.RELEASE)
def hangs(read: Reader, corner: Ref) -> Hangs:
    """How far a wheel hangs with its damper off, and what stops it.

    On a rigid axle both wheels hang alike, with both dampers off.

    Raises:
        NotComputedError: what holds the wheel is not known.
    """
    joints = {_joint_name(read, each): each for each in tilting(read, corner)}
    limits = (*_strap(read, corner), *_joints(read, corner, joints))
    try:
        found = _first_met(read(held_wheel, corner), limits)
    except NotHeldError as error:
        msg = f"{read.label(corner)} is not held: {error}".rstrip(".")
        raise NotComputedError(msg) from error
    return _told(read, corner, found, joints)


def _first_met(held: Linkage, limits: tuple[Limit, ...]) -> Hanging:
    *nearer, last = REACHES
    for reach in nearer:
        found = hanging(held, limits, reach)
        if found.governed_by is not None:
            return found
    return hanging(held, limits, last)


def _told(read: Reader, corner: Ref, found: Hanging, joints: dict[str, Tilting]) -> Hangs:
    by = found.governed_by
    joint = joints[by].end if by in joints else None
    shafts = (read.thing(DriveShaft, ref).corner for ref in read.all(DriveShaft))
    has_shaft = any(shaft == corner for shaft in shafts)
    return Hangs(max(-found.bump, 0.0), by, joint, found.not_known, has_shaft)


def _strap(read: Reader, corner: Ref) -> Iterator[Limit]:
    taut = read.thing(Corner, corner).strap_droop
    if taut is not None:
        yield Limit(STRAP, _droop, taut)


def _droop(poses: Poses) -> Array:
    return np.asarray((poses.linkage.centre - poses.centre)[..., 2])


def _joint_name(read: Reader, joint: Tilting) -> str:
    return f"{read.label(joint.end)} ({joint.link})"


def _joints(read: Reader, corner: Ref, joints: dict[str, Tilting]) -> Iterator[Limit]:
    for name, each in joints.items():
        most = None if each.reading is None else _most(read, corner, each)
        yield Limit(name, each.reading or _nothing, most)


def _nothing(poses: Poses) -> Array:
    return np.full(poses.shape, np.nan)


def _most(read: Reader, corner: Ref, joint: Tilting) -> float | None:
    """The figure on the part, else this car's own for parts that say nothing."""
    if joint.limit_deg is not None:
        return joint.limit_deg
    try:
        return read(limit, "link_tilt", joint.end, corner).value
    except NotComputedError:
        return None


__all__ = ["LOCK", "REACHES", "STRAP", "Hangs", "hangs"]
