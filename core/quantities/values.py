"""An exact value with its dimension and its place in the typed text."""

from dataclasses import dataclass
from fractions import Fraction

from core.quantities.units import Dimension


@dataclass(frozen=True, slots=True)
class Value:
    """An exact value in house units.

    Attributes:
        magnitude: in mm, kg, degrees, newtons and their products.
        dimension: what it measures.
        start: where its text begins.
        end: where its text ends.
    """

    magnitude: Fraction
    dimension: Dimension
    start: int
    end: int
