"""The tubes at the joint that carries a pick-up, and what of its force they take along them."""

from dataclasses import dataclass

import numpy as np

from core.assess.frame import carried_by, network, standing
from core.assess.places import array, vec
from core.document.base import Ref, Vec3
from core.document.running_gear import Rack
from core.engine.cells import NotComputedError, Reader, When, cell
from core.loads.along import share_along, ways_at


@dataclass(frozen=True)
class TubesThere:
    """The tubes at the joint that carries a pick-up.

    Attributes:
        joint: that the bracket stands on.
        tubes: that come there.
        ways: unit, in which they lead away; of a tube that bends there both.
        reach: of the bracket, mm: by it the force also turns the joint.
    """

    joint: Ref
    tubes: tuple[Ref, ...]
    ways: tuple[Vec3, ...]
    reach: float

    def taken_along(self, force: Vec3) -> float:
        """The part of a force on the joint, 0 to 1, that they take by push and pull alone."""
        return share_along(array(force), np.array(self.ways).reshape(-1, 3))


@cell(When.RELEASE)
def tubes_at(read: Reader, pick_up: Ref) -> TubesThere:
    """The tubes at the joint whose bracket carries a pick-up.

    Raises:
        NotComputedError: no bracket carries it, or it does not stand on a joint of tubes.
    """
    if read.has(Rack, pick_up):
        msg = f"{read.label(pick_up)} hands it on to its feet, which are not followed"
        raise NotComputedError(msg)
    bracket = dict(read(carried_by)).get(pick_up)
    if bracket is None:
        msg = f"nothing says what carries {read.label(pick_up)}"
        raise NotComputedError(msg)
    stands, frame = read(standing, bracket), read(network)
    index = frame.index(stands.on)
    if index is None or stands.reach is None:
        msg = f"the bracket of {read.label(pick_up)} does not stand on a joint of tubes"
        raise NotComputedError(msg)
    there = [
        (ref, member)
        for ref, member in zip(frame.tubes, frame.network.members, strict=True)
        if any(visit.node == index for visit in member.visits)
    ]
    at = frame.network.places[index]
    ways = tuple(vec(way) for _, member in there for way in ways_at(member.line, at))
    return TubesThere(stands.on, tuple(ref for ref, _ in there), ways, stands.reach)
