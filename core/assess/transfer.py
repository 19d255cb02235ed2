"""Load that moves between the wheels as the car corners, brakes and gains speed; its roll.

At the load the car is drawn at. What is unsprung is taken to be as high as the wheel centres.
"""

from dataclasses import dataclass
from math import degrees, inf

from core.assess.axles import ground, roll_centre, track, wheelbase
from core.assess.bars import RollStiffness, roll_stiffness
from core.assess.linkages import tyre_radius
from core.assess.on_wheels import OnWheels, on_wheels
from core.assess.pairs import axle_at, pair_of
from core.balance.masses import GRAVITY
from core.balance.transfer import (
    AxleTransfer,
    RollingAxle,
    cornering,
    shift_fore_and_aft,
)
from core.document.base import Ref
from core.document.running_gear import Corner
from core.engine.cells import NotComputedError, Reader, When, cell

DEGREES = degrees(1.0)
"""In a radian."""


@cell(When.RELEASE)
def shift_per_g(read: Reader) -> float:
    """The load that moves from the rear to the front axle for each g of braking, N.

    Raises:
        NotComputedError: the weight of the car, or how high it is, is not known.
    """
    found = read(on_wheels, None)
    return shift_fore_and_aft(found.mass_kg, 1.0, _height(found), read(wheelbase))


def _height(found: OnWheels) -> float:
    if found.height is None:
        msg = f"how high the centre of gravity is is not known: {found.why_no_height}"
        raise NotComputedError(msg)
    return found.height


@dataclass(frozen=True)
class _Unsprung:
    """What is unsprung of both wheels of an axle: kg, and mm of its middle over the ground."""

    kg: float
    height: float


def _unsprung(read: Reader, pair: tuple[Ref, Ref]) -> _Unsprung:
    masses = {ref: read.thing(Corner, ref).unsprung_mass_kg for ref in pair}
    known = {ref: kg for ref, kg in masses.items() if kg is not None}
    for ref in pair:
        if ref not in known:
            msg = f"the unsprung mass of {read.label(ref)} is not known"
            raise NotComputedError(msg)
    whole = sum(known.values())
    moment = sum(kg * read(tyre_radius, ref) for ref, kg in known.items())
    return _Unsprung(whole, moment / whole)


@dataclass(frozen=True)
class InCorner:
    """A car in a steady corner; everything grows with the g of the corner.

    Attributes:
        roll_deg_per_g: of the body, out of the corner.
        front: N that move from the inner to the outer wheel for each g, on the front axle.
        rear: on the rear axle.
        front_share: of all that moves, on the front axle, 0 to 1.
        lifts_at_g: at which the first inner wheel carries nothing.
        lifts: at which end that wheel is.
        has_tyres: whether all tyres give; else those of an axle are taken for stiff.
        is_exact: whether the force in the springs is reckoned with on both axles.
    """

    roll_deg_per_g: float
    front: AxleTransfer
    rear: AxleTransfer
    front_share: float
    lifts_at_g: float
    lifts: str
    has_tyres: bool
    is_exact: bool


@cell(When.RELEASE)
def in_corner(read: Reader) -> InCorner:
    """The car in a steady corner.

    Raises:
        NotComputedError: springs, weight or unsprung mass are not known, or do not hold the body.
    """
    found = read(on_wheels, None)
    stiffness = {end: read(roll_stiffness, read(axle_at, end)) for end in ("front", "rear")}
    loose = {end: _unsprung(read, read(pair_of, read(axle_at, end))) for end in stiffness}
    loads = {"front": found.front_kg, "rear": found.rear_kg}
    axles = {end: _axle(read, end, loads[end], loose[end], stiffness[end]) for end in stiffness}
    moment = sum(each.kg * each.height for each in loose.values())
    sprung = found.mass_kg - sum(each.kg for each in loose.values())
    try:
        turned = cornering(
            axles["front"], axles["rear"], (found.mass_kg * _height(found) - moment) / sprung, 1.0
        )
    except ValueError as error:
        raise NotComputedError(str(error)) from error
    moved = {"front": turned.front, "rear": turned.rear}
    lifts = {end: _lifts_at(loads[end], moved[end].whole) for end in loads}
    first = min(lifts, key=lifts.__getitem__)
    return InCorner(
        turned.roll_rad * DEGREES,
        turned.front,
        turned.rear,
        turned.front_share,
        lifts[first],
        first,
        has_tyres=all(each.has_tyres for each in stiffness.values()),
        is_exact=all(each.is_exact for each in stiffness.values()),
    )


def _lifts_at(load_kg: float, moved: float) -> float:
    """The g at which half an axle's load has moved; infinite where none moves outwards."""
    return load_kg * GRAVITY / 2.0 / moved if moved > 0.0 else inf


def _axle(
    read: Reader, end: str, load_kg: float, loose: _Unsprung, held: RollStiffness
) -> RollingAxle:
    axle = read(axle_at, end)
    if load_kg <= loose.kg:
        msg = f"the unsprung mass of {read.label(axle)} is more than all its wheels carry"
        raise NotComputedError(msg)
    try:
        return RollingAxle(
            sprung_kg=load_kg - loose.kg,
            unsprung_kg=loose.kg,
            unsprung_height=loose.height,
            roll_centre_height=read(roll_centre, axle)[1] - read(ground, axle),
            roll_stiffness=held.whole * DEGREES,
            track=read(track, axle),
        )
    except ValueError as error:
        raise NotComputedError(str(error)) from error
