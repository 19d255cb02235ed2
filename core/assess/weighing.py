"""The car on scales: which weighing counts, what each wheel carried, how high its centre is."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.assess.linkages import tyre_radius
from core.assess.pairs import axle_at, pair_of, side_of, stands_on
from core.assess.places import array
from core.assess.wheels import wheel_centre
from core.balance.raising import Raised, angle_to_raise
from core.balance.tilted import TiltedWeighing, height_by_tilting, height_doubt
from core.balance.wheels import AxleLoads
from core.document.base import Ref
from core.document.records import Weighing
from core.document.running_gear import Axle, Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array

READINGS = 4
"""Of single wheels that the height rests on: the front ones level, and with the tail raised."""

By = Literal["weighing", "wheel", "other wheel"]


@dataclass(frozen=True)
class Weighed:
    """What a wheel carries off scales.

    Attributes:
        kg: what it carries.
        by: a weighing, the figure of the wheel itself, or that of the wheel on the other side,
            which goes for both until this one has its own.
        ref: the weighing or the corner that says so.
    """

    kg: float
    by: By
    ref: Ref


@cell(When.RELEASE)
def weighing_of(read: Reader, case: Ref | None) -> Ref | None:
    """The weighing that counts for a load case; without one, for the load the car is drawn at."""
    found = [ref for ref in read.all(Weighing) if read.thing(Weighing, ref).load_case == case]
    return found[-1] if found else None


@cell(When.RELEASE)
def weighed(read: Reader, corner: Ref, case: Ref | None = None) -> Weighed | None:
    """What a wheel carries off scales in a load case; none where it was not weighed so."""
    weighing = read(weighing_of, case)
    kg = None if weighing is None else _reading(read, weighing, corner)
    if weighing is not None and kg is not None:
        return Weighed(kg, "weighing", weighing)
    own = read.thing(Corner, corner).weight_kg if case is None else None
    if own is None:
        return None
    return Weighed(own, "other wheel" if _follows_left(read, corner) else "wheel", corner)


def _reading(read: Reader, weighing: Ref, corner: Ref) -> float | None:
    end = read.thing(Axle, read.thing(Corner, corner).axle).end
    found: float | None = getattr(
        read.thing(Weighing, weighing), f"{end}_{stands_on(read, corner)}_kg"
    )
    return found


def _follows_left(read: Reader, corner: Ref) -> bool:
    """Whether a right corner has no weight of its own, so that the left one's goes for both."""
    if side_of(corner) == "left":
        return False
    stored = read.thing(Corner, Ref(corner.id, "left"))
    return not any(own.of == "weight_kg" for own in stored.right)


@dataclass(frozen=True)
class Tilted:
    """The height of the centre of gravity by weighing with the tail raised.

    Attributes:
        height: mm, over level ground.
        angle_deg: that the car was turned by.
        per_kg: mm, for each kg misread under the raised front wheels.
        per_mm: mm, for each mm that the height of the tail was misread.
        plus_minus: mm, by the likely errors that are entered; None where none is.
    """

    height: float
    angle_deg: float
    per_kg: float
    per_mm: float
    plus_minus: float | None


def was_tilted(read: Reader, weighing: Ref) -> bool:
    """Whether anything was read with the tail raised."""
    thing = read.thing(Weighing, weighing)
    return thing.raised_front_kg is not None or thing.tail_raised is not None


def tilted_of(read: Reader, ref: Ref, level: AxleLoads) -> Tilted:
    """The height of the centre of gravity by a weighing with the tail raised.

    Args:
        read: reads the car.
        ref: the weighing.
        level: what the axles carry on the level, off the same scales.

    Raises:
        NotComputedError: a reading is missing, or the readings cannot be so.
    """
    thing = read.thing(Weighing, ref)
    front, raised = thing.raised_front_kg, thing.tail_raised
    if front is None or raised is None:
        missed = "what the front wheels carry then" if front is None else "how far the tail went up"
        msg = f"{missed} is not entered in {read.label(ref)}"
        raise NotComputedError(msg)
    doubt = thing.scales_uncertainty_kg, thing.raised_uncertainty
    try:
        found = _tilted(_wheels(read), (level, front, raised), doubt)
    except ValueError as error:
        msg = f"{read.label(ref)}: {error}"
        raise NotComputedError(msg) from error
    if found.height <= 0.0:
        msg = f"by {read.label(ref)} the centre of gravity is in the ground: look at its readings"
        raise NotComputedError(msg)
    return found


@dataclass(frozen=True, eq=False)
class _Wheels:
    """Middles of the front and of the rear wheel centres, (3,) mm, and their radii, mm."""

    front: Array
    rear: Array
    front_radius: float
    rear_radius: float

    def angle_deg(self, raised: float) -> float:
        """How far the car is turned with its rear wheels so many mm higher."""
        return angle_to_raise(self.rear, Raised("tail", self.front), raised)


def _wheels(read: Reader) -> _Wheels:
    pairs = [read(pair_of, read(axle_at, end)) for end in ("front", "rear")]
    middles = [np.mean([array(read(wheel_centre, ref)) for ref in pair], axis=0) for pair in pairs]
    radii = [float(np.mean([read(tyre_radius, ref) for ref in pair])) for pair in pairs]
    return _Wheels(middles[0], middles[1], radii[0], radii[1])


def _tilted(
    wheels: _Wheels,
    readings: tuple[AxleLoads, float, float],
    doubt: tuple[float | None, float | None],
) -> Tilted:
    level, front, raised = readings
    angle = wheels.angle_deg(raised)
    known = TiltedWeighing(
        level=level,
        raised_front_kg=front,
        angle_deg=angle,
        wheelbase=float(wheels.front[0] - wheels.rear[0]),
        front_radius=wheels.front_radius,
        rear_radius=wheels.rear_radius,
    )
    per_mm_deg = wheels.angle_deg(raised + 0.5) - wheels.angle_deg(raised - 0.5)
    scales, tape = (each or 0.0 for each in doubt)
    off = height_doubt(known, scales * READINGS**0.5, tape * per_mm_deg)
    return Tilted(
        height_by_tilting(known),
        angle,
        off.per_kg,
        off.per_degree * per_mm_deg,
        None if doubt == (None, None) else off.plus_minus,
    )
