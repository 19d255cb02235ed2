"""What is read at a wheel where it stands: camber, toe, steer, and what its damper has left."""

from dataclasses import dataclass

import numpy as np

from core.assess.dampers import damper_at_design, lengths_of
from core.assess.travels import rack_of
from core.document.base import Ref
from core.document.running_gear import Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.scene.standing import Standing
from core.suspension.poses import Poses
from core.suspension.steering import steer_deg
from core.suspension.wheel import camber_deg, toe_in_deg


@dataclass(frozen=True)
class WheelFigures:
    """What is read at a wheel where it stands.

    Attributes:
        camber_deg: to the body, top outward above zero.
        toe_in_deg: front inward above zero.
        steer_deg: turned to the left; None where nothing steers the wheel.
        damper: its length, mm; None where it is not known.
        to_close: how much of it is left to close, mm; below zero it would have to be shorter.
        to_open: how much is left to open.
        no_damper: why the length is not known.
    """

    camber_deg: float
    toe_in_deg: float
    steer_deg: float | None
    damper: float | None
    to_close: float | None
    to_open: float | None
    no_damper: str


@dataclass(frozen=True)
class _DamperEnds:
    """Closed and open length of a corner's damper, mm, where they are known."""

    closed: float | None = None
    open: float | None = None


@cell(When.LIVE)
def damper_ends(read: Reader, corner: Ref) -> _DamperEnds:
    """How short and how long a corner's damper gets."""
    damper = read.thing(Corner, corner).damper
    if damper is None:
        return _DamperEnds()
    return _DamperEnds(damper.closed_length, damper.open_length)


def wheel_figures(read: Reader, stands: Standing) -> WheelFigures:
    """What is read at a wheel where it stands."""
    poses, steers = stands.poses, read(rack_of, stands.corner) is not None
    length, why = _damper_length(read, stands.corner, poses)
    ends = read(damper_ends, stands.corner)
    return WheelFigures(
        float(camber_deg(poses)),
        float(toe_in_deg(poses)),
        float(steer_deg(poses)) if steers else None,
        length,
        None if length is None or ends.closed is None else length - ends.closed,
        None if length is None or ends.open is None else ends.open - length,
        why,
    )


def _damper_length(read: Reader, corner: Ref, poses: Poses) -> tuple[float | None, str]:
    try:
        length = float(lengths_of(poses, read(damper_at_design, corner)))
    except NotComputedError as error:
        return None, str(error)
    return (length, "") if np.isfinite(length) else (None, "its rocker does not reach there")
