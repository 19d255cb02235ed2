"""Units, fractions and sums as a person types them, and numbers as a person reads them."""

from core.quantities.errors import QuantityError
from core.quantities.reading import (
    parse_angle,
    parse_force,
    parse_length,
    parse_mass,
    parse_number,
    parse_stiffness,
    parse_stress,
    parse_torque_nm,
    unit_factor,
)
from core.quantities.units import UNITS, Dimension, Unit
from core.quantities.writing import (
    format_angle,
    format_length,
    format_mass,
    format_signed,
    fraction_of_inch,
    number,
    with_uncertainty,
)

__all__ = [
    "UNITS",
    "Dimension",
    "QuantityError",
    "Unit",
    "format_angle",
    "format_length",
    "format_mass",
    "format_signed",
    "fraction_of_inch",
    "number",
    "parse_angle",
    "parse_force",
    "parse_length",
    "parse_mass",
    "parse_number",
    "parse_stiffness",
    "parse_stress",
    "parse_torque_nm",
    "unit_factor",
    "with_uncertainty",
]
