"""A corner on level, equal, parallel wishbones, whose small movements are known by hand."""

import numpy as np

from core.suspension.changes import Change
from core.suspension.linkage import Linkage, WheelAtDesign
from core.suspension.makers import Arm, TrackRod, double_wishbone
from tests.core.suspension.corners import LEFT, vec

APART = 200.0
"""From ball to ball, mm."""

BEHIND = 150.0
"""Toe link behind the steering axis, which stands upright over the wheel centre, mm."""


def level_corner() -> Linkage:
    lower, upper = (
        Arm(vec(150.0, 350.0, z), vec(-150.0, 350.0, z), vec(0.0, 650.0, z))
        for z in (200.0, 200.0 + APART)
    )
    link = TrackRod(vec(-BEHIND, 350.0, 300.0), vec(-BEHIND, 650.0, 300.0), on_rack=False)
    return double_wishbone(lower, upper, link, WheelAtDesign(vec(0.0, 700.0, 300.0), LEFT, 300.0))


def ball_out(arm: str) -> Change:
    """The ball of an arm screwed out: legs get longer by the cosine of their angle to it."""
    cosine = float(300.0 / np.hypot(300.0, 150.0))
    return Change(f"{arm} ball", tuple((f"{arm}, {leg} leg", cosine) for leg in ("front", "rear")))
