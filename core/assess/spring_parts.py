"""Springs, bump stops and tyres of each corner as they are entered, and the wheel as drawn."""

from dataclasses import dataclass, replace

from core.assess.beams import held_wheel
from core.assess.dampers import carrier, damper_at_design, rocker_at_design
from core.assess.travels import solved
from core.document.base import Ref
from core.document.links import Damper
from core.document.running_gear import Corner, Tyre
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array
from core.suspension.damper import damper_per_wheel_travel
from core.suspension.makers import Arm
from core.suspension.poses import Poses
from core.suspension.rigid_axle_wheel import AxleWheel
from core.suspension.rocker import Rocker
from core.suspension.springs import Stop
from core.suspension.travel import at


@dataclass(frozen=True)
class Springs:
    """The springs of a corner by their own rates; one of the two there is.

    Attributes:
        coil: N/mm, round the damper; None where no rate is entered.
        bar_nm_per_deg: of a torsion bar; None where there is none.
    """

    coil: float | None
    bar_nm_per_deg: float | None


@cell(When.LIVE)
def springs_of(read: Reader, corner: Ref) -> Springs:
    """What springs a corner.

    Raises:
        NotComputedError: no rate is entered; says of what to enter it.
    """
    thing = read.thing(Corner, corner)
    damper, bar = thing.damper, thing.torsion_bar
    if damper is None and bar is None:
        msg = f"neither a damper nor a torsion bar is entered for {read.label(corner)}"
        raise NotComputedError(msg)
    coil = None if damper is None else damper.spring_rate
    if coil is None and bar is None:
        msg = f"the spring rate of {read.label(corner)} is not known"
        raise NotComputedError(msg)
    return Springs(coil, None if bar is None else bar.rate_nm_per_deg)


def damper_of(read: Reader, corner: Ref) -> Damper:
    """The damper of a corner.

    Raises:
        NotComputedError: none is entered.
    """
    damper = read.thing(Corner, corner).damper
    if damper is None:
        msg = f"no damper is entered for {read.label(corner)}"
        raise NotComputedError(msg)
    return damper


@cell(When.LIVE)
def tyre_rate(read: Reader, corner: Ref) -> float | None:
    """What a corner's tyre gives upright, N/mm; None where it is not known."""
    tyre = read.thing(Corner, corner).tyre
    return None if tyre is None else read.thing(Tyre, tyre).vertical_stiffness


@cell(When.LIVE)
def pose_at_design(read: Reader, corner: Ref) -> Poses:
    """A corner as it is drawn, a pose of shape (); its travel need not be known."""
    return solved(read(held_wheel, corner), at(0.0), read.label(corner))


@cell(When.LIVE)
def pose_in_roll(read: Reader, corner: Ref) -> Poses:
    """The same, read as the body rolls: on a rigid axle the other wheel falls as this one rises."""
    held = read(held_wheel, corner)
    if not isinstance(held, AxleWheel):
        return read(pose_at_design, corner)
    return solved(replace(held, drive="roll"), at(0.0), read.label(corner))


@cell(When.LIVE)
def damper_ratio(read: Reader, corner: Ref) -> float:
    """How many mm the damper shortens for each mm the wheel rises, at design."""
    return float(_per_wheel(read(pose_at_design, corner), read, corner))


def _per_wheel(poses: Poses, read: Reader, corner: Ref) -> Array:
    try:
        return damper_per_wheel_travel(poses, read(damper_at_design, corner))
    except ValueError as error:  # a rocker at dead centre
        raise NotComputedError(str(error)) from error


@cell(When.LIVE)
def twisted_by(read: Reader, corner: Ref) -> Arm | Rocker:
    """What twists a corner's torsion bar."""
    bar = read.thing(Corner, corner).torsion_bar
    if bar is None:
        msg = f"no torsion bar is entered for {read.label(corner)}"
        raise NotComputedError(msg)
    if bar.on == "rocker":
        return read(rocker_at_design, corner)
    arm = carrier(read, corner, bar.on)
    assert arm is not None  # only the upright is none, and it twists nothing
    return arm


@cell(When.LIVE)
def bump_stop(read: Reader, corner: Ref) -> Stop | None:
    """The rubber on a damper's rod; None where none is entered, or not where or how hard it is."""
    damper = read.thing(Corner, corner).damper
    if damper is None or damper.bump_stop is None or damper.closed_length is None:
        return None
    stop = damper.bump_stop
    return None if stop.rate is None else Stop(damper.closed_length + stop.length, stop.rate)


@cell(When.LIVE)
def entered_force(read: Reader, corner: Ref) -> float | None:
    """What the coil of a corner pushes with at design by its lengths, N; None if not entered.

    Raises:
        NotComputedError: by them it lies loose at design.
    """
    damper = read.thing(Corner, corner).damper
    if damper is None or damper.spring_rate is None:
        return None
    free, seats = damper.spring_free_length, damper.spring_seats
    if free is None or seats is None:
        return None
    pressed = free - (float(read(damper_at_design, corner).drawn_length) - seats)
    if pressed < 0.0:
        msg = (
            f"by its lengths the spring of {read.label(corner)} lies {-pressed:.1f} loose at "
            "design: look at its free length and its seats"
        )
        raise NotComputedError(msg)
    return damper.spring_rate * pressed
