"""Rigid axles, from the document to the room of suspensions; and any wheel, on one or by itself."""

from core.assess.linkages import holders_of, linkage, rods_of, wheel_at_design
from core.assess.pairs import is_on_rigid_axle, is_rigid, pair_of, stands_on
from core.document.base import Ref
from core.document.running_gear import Axle, Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.suspension.holding import NotHeldError
from core.suspension.linkage import Linkage
from core.suspension.rigid_axle import RigidAxle
from core.suspension.rigid_axle_poses import AxlePoses
from core.suspension.rigid_axle_solve import solve_axle
from core.suspension.rigid_axle_travel import AxleTravel
from core.suspension.rigid_axle_wheel import wheel_of


@cell(When.LIVE)
def rigid_axle(read: Reader, axle: Ref) -> RigidAxle:
    """A rigid axle with what holds it.

    Raises:
        NotComputedError: it is none, nothing holds it, or its corners are entered as if they moved
            by themselves.
    """
    if not read(is_rigid, axle):
        msg = f"{read.label(axle)} is no rigid axle"
        raise NotComputedError(msg)
    pair = read(pair_of, axle)
    for corner in pair:
        _refuse_own_links(read, corner)
    thing = read.thing(Axle, axle)
    held = (*rods_of(read, thing.links), *holders_of(read, thing.holders))
    if not held:
        msg = f"nothing is entered that holds {read.label(axle)}"
        raise NotComputedError(msg)
    try:
        return RigidAxle(held, *(wheel_at_design(read, corner) for corner in pair))
    except ValueError as error:
        msg = f"{read.label(axle)}: {error}"
        raise NotComputedError(msg) from error


def solve_beam(read: Reader, axle: Ref, travel: AxleTravel) -> AxlePoses:
    """The poses of a rigid axle.

    Raises:
        NotComputedError: it is not held as it must be; says which motion is left free or what
            fights.
    """
    try:
        return solve_axle(read(rigid_axle, axle), travel)
    except NotHeldError as error:
        msg = f"{read.label(axle)} is not held: {error}".rstrip(".")
        raise NotComputedError(msg) from error


def _refuse_own_links(read: Reader, corner: Ref) -> None:
    thing = read.thing(Corner, corner)
    is_own = thing.linkage not in ("rigid_axle", "other")
    if is_own or thing.links or thing.arms or thing.holders:
        name, axle = read.label(corner), read.label(thing.axle)
        msg = (
            f"{name} is on {axle}, a rigid axle, and has links of its own: enter what holds the "
            f"axle at {axle}, and the linkage of both its corners as rigid axle"
        )
        raise NotComputedError(msg)


@cell(When.LIVE)
def held_wheel(read: Reader, corner: Ref) -> Linkage:
    """A wheel with what holds it: its own linkage, or the beam, whose other wheel rises with it."""
    if not read(is_on_rigid_axle, corner):
        return read(linkage, corner)
    axle = read.thing(Corner, corner).axle
    return wheel_of(read(rigid_axle, axle), stands_on(read, corner))
