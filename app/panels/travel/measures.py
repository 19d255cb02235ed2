"""What a steel rule measures, and how far it goes."""

from typing import NamedTuple

from core.quantities import number, parse_angle, parse_length


class Measure(NamedTuple):
    """What a rule measures.

    Attributes:
        unit: as it is spoken.
        sign: as it is written after a figure.
        fine: step of the wheel and the arrow keys, and of the mouse.
        coarse: the same with Shift.
    """

    unit: str
    sign: str
    fine: float
    coarse: float

    def words(self, value: float) -> str:
        """A figure with its unit; no more decimals than it has."""
        return number(value, 1).removesuffix(".0") + self.sign

    def read(self, text: str) -> float:
        """A figure as it is typed, in any unit.

        Raises:
            QuantityError: it cannot be read.
        """
        return float(parse_angle(text) if self.unit == "degrees" else parse_length(text))


MM = Measure("mm", " mm", 1.0, 10.0)
DEGREES = Measure("degrees", "°", 0.1, 1.0)


class Span(NamedTuple):
    """How far a rule goes.

    Attributes:
        least: not above 0, which is the design position.
        most: not below 0.
        posts: stops that stand on it.
        notes: what is written under its left end and its right end.
    """

    least: float
    most: float
    posts: tuple[float, ...] = ()
    notes: tuple[str, str] = ("", "")
