"""Where wheels and rack stand, in words."""

from core.quantities import number

SHOWN = 0.05
"""Half of the last digit that a rack travel is shown with, mm."""


def height_words(at: float) -> str:
    """A wheel height in words."""
    if abs(at) < 0.05:  # noqa: PLR2004 - half of the last digit shown
        return "the design position"
    return f"{number(abs(at), 0)} of {'bump' if at > 0 else 'droop'}"


def position_words(bump: float, rack: float = 0.0, other: float | None = None) -> str:
    """A position in words.

    Args:
        bump: wheel height, mm.
        rack: mm to the left.
        other: height of the other wheel of a rigid axle, mm; none, it is on none.
    """
    said = height_words(bump)
    if abs(rack) > SHOWN:
        said += f", rack {number(abs(rack), 0)} {'left' if rack > 0 else 'right'}"
    if other is not None and abs(other - bump) > SHOWN:
        said += f", the other wheel at {height_words(other)}"
    return said
