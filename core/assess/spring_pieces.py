"""What springs a corner, as forces for the room of loads: damper, rocker, torsion bar."""

from collections.abc import Iterator

from core.assess.corner_pieces import UPRIGHT, Leg, Piece, Posed
from core.assess.dampers import damper_at_design, rocker_at_design
from core.assess.places import array, place
from core.assess.spring_parts import damper_of
from core.document.links import Damper, Rocker
from core.engine.cells import NotComputedError
from core.geometry.types import Array
from core.loads.statics import CHASSIS, bearing, rod, twist

DAMPER, ROD, PIVOT, BAR = "damper", "rod of the rocker", "rocker pivot", "torsion bar"


def spring(posed: Posed) -> Iterator[Piece]:
    """What carries the load: the damper with its coil, or the torsion bar."""
    thing = posed.thing
    if thing.torsion_bar is None:
        damper = damper_of(posed.read, posed.corner)
        if damper.lower_on == "rocker":
            yield _rocker(posed, _rocker_of(posed))
        yield _damper(posed, damper)
        return
    if thing.damper is not None and thing.damper.spring_rate is not None:
        name = posed.read.label(posed.corner)
        msg = f"what coil and torsion bar of {name} carry each is not told here"
        raise NotComputedError(msg)
    if thing.torsion_bar.on == "rocker":
        yield _rocker(posed, _rocker_of(posed))
    yield _torsion(posed, thing.torsion_bar.on)


def _rocker_of(posed: Posed) -> Rocker:
    assert posed.thing.rocker is not None  # `_loaded` asks for it
    return posed.thing.rocker


def _damper(posed: Posed, damper: Damper) -> Piece:
    eye, upper = _eye(posed, damper), posed.fixed(damper.upper)
    on = UPRIGHT if damper.lower_on == "upright" else posed.bodies[damper.lower_on]
    return Piece(
        rod(DAMPER, on, CHASSIS, upper, eye),
        seats=((damper.upper, DAMPER),),
        balls=((damper.lower, DAMPER),) if on == UPRIGHT else (),
        legs=(Leg(DAMPER, DAMPER, upper, eye),),
    )


def _eye(posed: Posed, damper: Damper) -> Array:
    if damper.lower_on == "rocker":
        return posed.on_rocker(posed.read(damper_at_design, posed.corner).lower)
    return posed.moving(damper.lower, damper.lower_on)


def _rocker(posed: Posed, rocker: Rocker) -> Piece:
    body, pivot = posed.bodies["rocker"], posed.fixed(rocker.pivot)
    inner = posed.on_rocker(array(posed.read(place, rocker.rod_inner)))
    outer = posed.moving(rocker.rod_outer, rocker.rod_on)
    on = UPRIGHT if rocker.rod_on == "upright" else posed.bodies[rocker.rod_on]
    return Piece(
        (
            *bearing(PIVOT, body, CHASSIS, pivot, array(rocker.pivot_axis)),
            *rod(ROD, on, body, inner, outer),
        ),
        seats=((rocker.pivot, PIVOT),),
        balls=((rocker.rod_outer, ROD),) if on == UPRIGHT else (),
        legs=(Leg(ROD, ROD, inner, outer),),
    )


def _torsion(posed: Posed, on: str) -> Piece:
    if on == "rocker":
        rocker = posed.read(rocker_at_design, posed.corner)
        at, axis = rocker.pivot, rocker.axis
    else:
        arm = posed.arms[on].arm
        at, axis = arm.front, arm.front - arm.rear
    return Piece(twist(BAR, posed.bodies[on], CHASSIS, at, axis))
