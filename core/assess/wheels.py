"""Wheels and tyres from what they bolt to: wheel centres, radii, widths."""

from dataclasses import dataclass

from core.assess.places import array, vec
from core.document.base import Ref, Vec3
from core.document.running_gear import Corner, Tyre, Wheel
from core.driveline.tyre import MM_PER_INCH, tyre_size
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import unit


@cell(When.LIVE)
def wheel_centre(read: Reader, corner: Ref) -> Vec3:
    """Centre of a wheel, mm, car frame: hub face + (spacer - offset) along the spin axis."""
    thing = read.thing(Corner, corner)
    if thing.wheel is None:
        msg = f"no wheel is named for {read.label(corner)}"
        raise NotComputedError(msg)
    out = thing.upright.spacer - read.thing(Wheel, thing.wheel).offset
    return vec(array(thing.upright.hub_face) + unit(array(thing.upright.spin_axis)) * out)


@dataclass(frozen=True)
class TyreFigures:
    """A tyre by its size.

    Attributes:
        section: width, mm.
        unloaded_radius: mm.
        rim_radius: mm.
    """

    section: float
    unloaded_radius: float
    rim_radius: float


@cell(When.LIVE)
def tyre_figures(read: Reader, corner: Ref) -> TyreFigures:
    """Section, free radius and rim radius of a corner's tyre, by the rule of its size."""
    ref = read.thing(Corner, corner).tyre
    if ref is None:
        msg = f"no tyre is named for {read.label(corner)}"
        raise NotComputedError(msg)
    tyre = read.thing(Tyre, ref)
    try:
        size = tyre_size(tyre.size)
    except ValueError as error:
        msg = f"the tyre of {read.label(corner)}: {error}"
        raise NotComputedError(msg) from error
    radius = tyre.unloaded_radius or size.unloaded_radius
    return TyreFigures(float(size.section), radius, size.rim_code * MM_PER_INCH / 2)
