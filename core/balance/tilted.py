"""Height of the centre of gravity by weighing the front axle level and with the tail raised.

The suspension is blocked, the brakes are off, and the wheels can roll: what moves or sticks spoils
the reading. A car that stands so can roll away or tip: chock the wheels that carry it, and keep
out from under it.
"""

from dataclasses import dataclass
from math import hypot, isfinite, radians, sin, tan

from core.balance.wheels import AxleLoads


@dataclass(frozen=True, kw_only=True)
class TiltedWeighing:
    """Readings under the front axle, with the rear axle raised.

    Attributes:
        level: kg, what each axle carries on the level.
        raised_front_kg: kg, what the front axle carries with the tail raised.
        angle_deg: how far the car is turned from the level, tail up above zero.
        wheelbase: mm.
        front_radius: mm, of the front wheels' centres above their scales.
        rear_radius: mm, of the rear ones.
    """

    level: AxleLoads
    raised_front_kg: float
    angle_deg: float
    wheelbase: float
    front_radius: float
    rear_radius: float

    def __post_init__(self) -> None:
        """Refuse what cannot be weighed so.

        Raises:
            ValueError: if the angle is not above 0 and below 90, or a figure not above zero.
        """
        figures = (sum(self.level), self.raised_front_kg, self.wheelbase, self.front_radius)
        if not all(isfinite(each) and each > 0.0 for each in (*figures, self.rear_radius)):
            raise ValueError("weights, wheelbase and radii must be above zero")
        if not 0.0 < self.angle_deg < 90.0:  # noqa: PLR2004 - upright
            raise ValueError("the tail must be raised by an angle between 0 and 90 degrees")


def height_by_tilting(weighed: TiltedWeighing) -> float:
    """Return the height of the centre of gravity above level ground, mm.

    Moments about the rear contacts, with the car turned by phi about its wheels:
    F l' = W (a2 cos phi + (h - Rr) sin phi), l' = l cos phi + (Rf - Rr) sin phi.

    Source:
        R. N. Jazar, Vehicle Dynamics, 2008, p. 43, equations 2.27 to 2.32, for wheels of one
        radius: h = R + (F l / W - a2) cot phi; here the radii may differ.
    """
    whole, phi = sum(weighed.level), radians(weighed.angle_deg)
    behind = weighed.level.front / whole * weighed.wheelbase
    step = weighed.front_radius - weighed.rear_radius
    lever = weighed.raised_front_kg / whole * (weighed.wheelbase + step * tan(phi))
    return weighed.rear_radius + (lever - behind) / tan(phi)


@dataclass(frozen=True)
class HeightDoubt:
    """How far off the height is for each kind of misreading.

    Attributes:
        per_kg: mm for each kg misread under the raised front axle.
        per_degree: mm for each degree of the angle misread.
        plus_minus: mm, both together for the doubts given.
    """

    per_kg: float
    per_degree: float
    plus_minus: float


def height_doubt(weighed: TiltedWeighing, load_kg: float, angle_deg: float) -> HeightDoubt:
    """Return the doubt of the height that comes from the doubt of load and angle.

    The slopes of `height_by_tilting`, squares added; the level weights count as sure.

    Args:
        weighed: the readings.
        load_kg: likely error of the load under the raised front axle.
        angle_deg: likely error of the angle.
    """
    whole, phi = sum(weighed.level), radians(weighed.angle_deg)
    share = weighed.raised_front_kg / whole
    step = weighed.front_radius - weighed.rear_radius
    per_kg = (weighed.wheelbase + step * tan(phi)) / tan(phi) / whole
    drop = (share - weighed.level.front / whole) * weighed.wheelbase
    per_degree = -radians(drop / sin(phi) ** 2)
    return HeightDoubt(per_kg, per_degree, hypot(per_kg * load_kg, per_degree * angle_deg))
