"""The size of a tyre as tables list it, which the program itself has no use for."""

from math import floor

from core.driveline.tyre import MM_PER_INCH, TyreSize


def listed_diameter(size: TyreSize) -> int:
    """Diameter with the rim rounded to whole mm first, as size tables list it, mm."""
    return half_up(size.rim_code * MM_PER_INCH) + 2 * size.section_height


def half_up(value: float) -> int:
    """The nearest whole number; a half goes up."""
    return floor(value + 0.5)
