"""The table of units, each with its exact factor and the source of that factor.

House units are mm, kg, degree and newton; a factor says how many house units one unit is.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Dimension:
    """Powers of the four kinds of measure that units here are made of.

    Angle is kept apart from pure numbers so that degrees cannot be added to a ratio.
    """

    length: int = 0
    mass: int = 0
    angle: int = 0
    force: int = 0

    def __mul__(self, other: "Dimension") -> "Dimension":
        """Return the dimension of a product."""
        return Dimension(
            self.length + other.length,
            self.mass + other.mass,
            self.angle + other.angle,
            self.force + other.force,
        )

    def __truediv__(self, other: "Dimension") -> "Dimension":
        """Return the dimension of a quotient."""
        return self * other.power(-1)

    def power(self, exponent: int) -> "Dimension":
        """Return the dimension of a whole power."""
        return Dimension(
            self.length * exponent,
            self.mass * exponent,
            self.angle * exponent,
            self.force * exponent,
        )


PURE = Dimension()
LENGTH = Dimension(length=1)
MASS = Dimension(mass=1)
ANGLE = Dimension(angle=1)
FORCE = Dimension(force=1)
TORQUE = FORCE * LENGTH
STIFFNESS = FORCE / LENGTH
STRESS = FORCE / LENGTH.power(2)

_WORDS: Mapping[Dimension, str] = MappingProxyType(
    {
        PURE: "a pure number",
        LENGTH: "a length",
        LENGTH.power(2): "an area (length times length)",
        LENGTH.power(3): "a volume",
        MASS: "a mass",
        ANGLE: "an angle",
        FORCE: "a force",
        TORQUE: "a torque",
        STIFFNESS: "a stiffness",
        STRESS: "a stress",
        LENGTH.power(-1): "a number divided by a length",
        MASS * LENGTH: "a mass times a length",
    }
)


def in_words(dimension: Dimension) -> str:
    """Return the dimension in words for a sentence, such as "a length"."""
    return _WORDS.get(dimension, "a mixture of units")


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit as it may be typed.

    Attributes:
        names: the ways to type it, the usual one first.
        factor: how many house units (mm, kg, degree, N and their products) one of it is, exact.
        dimension: what it measures.
        source: where the factor comes from.
    """

    names: tuple[str, ...]
    factor: Fraction
    dimension: Dimension
    source: str

    @property
    def name(self) -> str:
        """Return the usual way to type it."""
        return self.names[0]


_SI = "BIPM, The International System of Units, 9th edition, 2019"
_YARD = (
    "International yard and pound agreement of 1959 (US Federal Register 24 FR 5348, "
    "1 July 1959): 1 yd = 0.9144 m, 1 lb = 0.45359237 kg, both exact"
)
_POUND_FORCE = f"{_YARD}; standard gravity 9.80665 m/s2, 3rd CGPM, 1901"
_PI = Fraction("3.14159265358979323846264338327950288419716939937510")
_INCH = Fraction(254, 10)
_POUND = Fraction("0.45359237")
_POUND_FORCE_N = _POUND * Fraction("9.80665")

INCH = Unit(("in", "inch", "inches"), _INCH, LENGTH, _YARD)
FOOT = Unit(("ft", "foot", "feet"), 12 * _INCH, LENGTH, _YARD)
DEGREE = Unit(("deg", "degree", "degrees", "\u00b0"), Fraction(1), ANGLE, _SI)
ARC_MINUTE = Unit(("arcmin",), Fraction(1, 60), ANGLE, _SI)
ARC_SECOND = Unit(("arcsec",), Fraction(1, 3600), ANGLE, _SI)

UNITS: tuple[Unit, ...] = (
    Unit(("mm",), Fraction(1), LENGTH, _SI),
    Unit(("cm",), Fraction(10), LENGTH, _SI),
    Unit(("m",), Fraction(1000), LENGTH, _SI),
    INCH,
    FOOT,
    Unit(("thou",), _INCH / 1000, LENGTH, _YARD),
    DEGREE,
    Unit(("rad",), 180 / _PI, ANGLE, f"{_SI}; pi to 50 decimals"),
    ARC_MINUTE,
    ARC_SECOND,
    Unit(("kg",), Fraction(1), MASS, _SI),
    Unit(("g",), Fraction(1, 1000), MASS, _SI),
    Unit(("lb", "lbs"), _POUND, MASS, _YARD),
    Unit(("N",), Fraction(1), FORCE, _SI),
    Unit(("kN",), Fraction(1000), FORCE, _SI),
    Unit(("lbf",), _POUND_FORCE_N, FORCE, _POUND_FORCE),
    Unit(("Nm",), Fraction(1000), TORQUE, _SI),
    Unit(("Pa",), Fraction(1, 10**6), STRESS, _SI),
    Unit(("kPa",), Fraction(1, 1000), STRESS, _SI),
    Unit(("MPa",), Fraction(1), STRESS, _SI),
    Unit(("GPa",), Fraction(1000), STRESS, _SI),
    Unit(("psi",), _POUND_FORCE_N / _INCH**2, STRESS, _POUND_FORCE),
)

BY_NAME: Mapping[str, Unit] = MappingProxyType(
    {name: unit for unit in UNITS for name in unit.names}
)

# The marks ' and " mean feet and inches, except where an angle is asked for.
LENGTH_MARKS: Mapping[str, Unit] = MappingProxyType({"'": FOOT, '"': INCH, "''": INCH})
ANGLE_MARKS: Mapping[str, Unit] = MappingProxyType(
    {"'": ARC_MINUTE, '"': ARC_SECOND, "''": ARC_SECOND}
)

# Units that are written in a row without a sign, such as 5 ft 6 in: the smaller one, and how
# many of it make one of the larger.
SMALLER: Mapping[Unit, tuple[Unit, int]] = MappingProxyType(
    {FOOT: (INCH, 12), DEGREE: (ARC_MINUTE, 60), ARC_MINUTE: (ARC_SECOND, 60)}
)
