"""A corner settled: a proposal of where its points may go, beside what is drawn; taken or dropped.

The room goes downhill from the drawing, so what is proposed is the best near by and no more. What
is told of it is worked out again from the car with the coordinates changed, by the same cells that
draw the curves and by every rule.
"""

from math import isfinite

from core.assess.curves import CornerCurves
from core.engine.cells import NotComputedError
from core.study.rests import StudyError
from core.study.settle_aims import AIMS, told
from core.study.settle_records import Offered, Proposal, Settling
from core.study.settle_shown import proposal
from core.study.settle_task import Progress, aims_of, freedoms_of, known, stays
from core.suspension.holding import NotHeldError
from core.suspension.settling import settle
from core.suspension.travel import at


def offered(curves: CornerCurves) -> tuple[Offered, ...]:
    """The aims that a corner has, with their figures as drawn; those that are not known are not."""
    found = (Offered(k, told(k, curves)) for k in AIMS.values() if k.curve in curves.keys)
    return tuple(each for each in found if isfinite(each.present))


def propose(asked: Settling, progress: Progress) -> Proposal:
    """Where the points of a corner might go, nearest to what is wanted of it.

    Args:
        asked: what may move and what is wanted.
        progress: told the count of drawings tried; may raise to stop.

    Raises:
        StudyError: nothing may move, nothing is wanted, or what is named is not there.
        HeldError: a coordinate that was to move is held.
        NotComputedError: the corner cannot be solved, and why.
    """
    freed = tuple(freedoms_of(asked))
    if not freed or not asked.wishes:
        raise StudyError("settling needs a coordinate that may move and something to settle for")
    drawn = known(asked)
    freedoms = tuple(freedom for _, freedom in freed)
    aims = (*aims_of(asked, drawn, progress), stays(tuple(each for each, _ in freed), freedoms))
    try:
        found = settle(drawn.linkage, freedoms, aims, at(drawn.heights))
    except NotHeldError as error:
        raise NotComputedError(f"the upright is not held: {error}".rstrip(".")) from error
    return proposal(asked, tuple(each for each, _ in freed), freedoms, found)
