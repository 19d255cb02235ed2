"""What the tests hold gaps against, and the program itself has no use for."""

import math
from collections.abc import Sequence

from core.clearance.bodies import Body
from core.clearance.gaps import Gap, gaps
from core.clearance.lines import LineGroup
from core.geometry.frames import Frame


def least_of_all(body: Body, place: Frame, groups: Sequence[LineGroup]) -> Gap | None:
    """The least gap to any line of any group, or None if there is no group."""
    return min(gaps(body, place, groups), key=lambda found: found.gap, default=None)


def chord_error(bend_radius: float, step_rad: float) -> float:
    """How far at most a chord of a bend lies inside its arc, mm.

    A gap to the outside of a bend is over-read by no more than this, one to its inside is
    under-read.

    Args:
        bend_radius: centre-line radius of the bend, mm.
        step_rad: angle from one point on the arc to the next.

    Source:
        Height of a circular segment, R (1 - cos(step / 2)).
    """
    return bend_radius * (1.0 - math.cos(step_rad / 2.0))
