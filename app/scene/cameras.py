"""Where a view looks from: plain values, eased from one to another."""

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from core.geometry.types import Array, unit

CameraKind = Literal["free", "plan", "side", "front", "rear"]

VIEW_ANGLE_DEG = 30.0
"""Of the perspective, top to bottom: near what the eye sees of a screen at arm's length."""

MARGIN = 1.06
"""Room left round what is fitted into a view."""

STEEPEST_DEG = 89.0

_UP = np.array([0.0, 0.0, 1.0])
_BACK: dict[CameraKind, tuple[float, float, float]] = {
    "free": (-0.72, 0.55, 0.42),  # behind, left and above: the rear end is what is decided first
    "plan": (0.0, 0.0, 1.0),
    "side": (0.0, 1.0, 0.0),
    "front": (1.0, 0.0, 0.0),
    "rear": (-1.0, 0.0, 0.0),
}


@dataclass(frozen=True, eq=False)
class Pose:
    """Where a view looks.

    Attributes:
        target: (3,) what is in the middle, mm, car frame.
        back: (3,) unit, from the target to the eye.
        up: (3,) unit, upwards on the screen.
        half_height: mm from the middle to the top edge, at the target.
        parallel: whether lines that are parallel stay so on the screen.
    """

    target: Array
    back: Array
    up: Array
    half_height: float
    parallel: bool

    @property
    def right(self) -> Array:
        """(3,) unit, to the right on the screen."""
        return np.asarray(np.cross(self.up, self.back), dtype=np.float64)

    @property
    def eye(self) -> Array:
        """(3,) place of the eye, mm; in a parallel view one from which all is in front."""
        distance = self.half_height / np.tan(np.radians(VIEW_ANGLE_DEG / 2.0))
        far = max(distance, FAR) if self.parallel else distance
        return np.asarray(self.target + far * self.back, dtype=np.float64)


FAR = 20_000.0
"""mm from which a parallel view looks: farther than any car is long."""


def home(kind: CameraKind) -> Pose:
    """Return where a view looks before it is fitted; plane views have the nose to the left."""
    back = unit(np.array(_BACK[kind]))
    up = np.array([0.0, -1.0, 0.0]) if kind == "plan" else _upright(back)
    return Pose(np.array([-1200.0, 0.0, 500.0]), back, up, 1500.0, parallel=kind != "free")


def _upright(back: Array) -> Array:
    return unit(np.cross(back, np.cross(_UP, back)))


def fitted(pose: Pose, points: Array, aspect: float) -> Pose:
    """Return the pose moved and sized so that all points are in view.

    Args:
        pose: keeps its direction.
        points: (n, 3) mm, car frame.
        aspect: width of the view over its height.
    """
    axes = np.stack([pose.right, pose.up, pose.back])
    seen = points @ axes.T
    middle = (seen.min(axis=0) + seen.max(axis=0)) / 2.0
    size = _needed(pose, seen - middle, aspect)
    for _ in range(0 if pose.parallel else CENTRINGS):
        middle = middle + _off_centre(seen - middle, size)
        size = _needed(pose, seen - middle, aspect)
    return replace(pose, target=middle @ axes, half_height=MARGIN * max(size, LEAST_SIZE))


CENTRINGS = 3
"""How often what is fitted is moved to the middle as the eye sees it; each leaves a tenth."""

LEAST_SIZE = 50.0
_SLOPE = float(np.tan(np.radians(VIEW_ANGLE_DEG / 2.0)))


def _needed(pose: Pose, seen: Array, aspect: float) -> float:
    """Half height that shows places (n, 3) right, up and nearer of the target, mm."""
    across = np.maximum(np.abs(seen[:, 0]) / aspect, np.abs(seen[:, 1]))
    # A place nearer than the target by b needs b tan(a/2) more.
    return float((across if pose.parallel else across + seen[:, 2] * _SLOPE).max())


def _off_centre(seen: Array, size: float) -> Array:
    """How far the middle of what the eye sees lies beside the target, (3,) mm."""
    distance = size / _SLOPE
    shown = seen[:, :2] / (1.0 - seen[:, 2:] / distance)
    off = (shown.min(axis=0) + shown.max(axis=0)) / 2.0
    return np.array([off[0], off[1], 0.0])


def orbited(pose: Pose, turn_deg: float, tilt_deg: float) -> Pose:
    """Return the pose turned about the upright axis, and tilted up, about its target."""
    level = float(np.degrees(np.arctan2(pose.back[1], pose.back[0]))) + turn_deg
    height = float(np.degrees(np.arcsin(np.clip(pose.back[2], -1.0, 1.0)))) + tilt_deg
    round_, tall = np.radians(level), np.radians(np.clip(height, -STEEPEST_DEG, STEEPEST_DEG))
    flat = float(np.cos(tall))
    back = np.array([flat * np.cos(round_), flat * np.sin(round_), float(np.sin(tall))])
    return replace(pose, back=back, up=_upright(back))


def panned(pose: Pose, right_mm: float, up_mm: float) -> Pose:
    """Return the pose with its target moved across the view."""
    return replace(pose, target=pose.target - right_mm * pose.right - up_mm * pose.up)


def zoomed(pose: Pose, factor: float, anchor: Array) -> Pose:
    """Return the pose zoomed in by a factor, with a place (3,) staying where it is seen."""
    half_height = float(np.clip(pose.half_height / factor, NEAREST, FARTHEST))
    share = half_height / pose.half_height
    target = anchor + (pose.target - anchor) * share
    return replace(pose, target=target, half_height=half_height)


OPPOSITE = 1e-3
"""Length of the mean of two unit directions below which they are opposite to one another."""

NEAREST, FARTHEST = 8.0, 15_000.0
"""mm from middle to edge of a view, zoomed all the way in and out."""


def looking_at(pose: Pose, place: Array, half_height: float = 420.0) -> Pose:
    """Return the pose with a place (3,) in the middle, no farther off than a half height."""
    return replace(pose, target=place, half_height=min(pose.half_height, half_height))


def between(start: Pose, end: Pose, share: float) -> Pose:
    """Return the pose a share (0 to 1) of the way, eased out: fast at first, then settling."""
    eased = 1.0 - (1.0 - share) ** 3
    if eased >= 1.0:
        return end
    back = _turned(start.back, end.back, eased)
    up = _turned(start.up, end.up, eased)
    size = float(start.half_height ** (1.0 - eased) * end.half_height**eased)
    target = (1.0 - eased) * start.target + eased * end.target
    return Pose(target, back, unit(up - (up @ back) * back), size, end.parallel)


def _turned(start: Array, end: Array, share: float) -> Array:
    """A direction part of the way from one to another; past opposite ones the shorter way."""
    mixed = (1.0 - share) * start + share * end
    length = float(np.linalg.norm(mixed))
    return end if length < OPPOSITE else np.asarray(mixed / length, dtype=np.float64)
