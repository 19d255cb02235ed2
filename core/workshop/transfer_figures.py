"""Figures of the car in a corner and under braking: roll, and load that moves between wheels."""

from collections.abc import Iterator

from core.assess.transfer import in_corner, shift_per_g
from core.balance.masses import GRAVITY
from core.engine.cells import NotComputedError, Reader
from core.quantities import number
from core.workshop.figure import Figure

ROLL = "roll of the body in a corner of 1 g"
SHARE = "load moved sideways that moves on the front axle"
SHIFT = "load that moves to the front axle at 1 g of braking"

FOR_GRANTED = (
    "roll centres staying where they are at rest, the frame stiff, what is unsprung as high as "
    "the wheel centres"
)
"""What is taken for granted in a corner."""


def transfer_figures(read: Reader) -> Iterator[Figure]:
    """Roll, and load that moves; each that is not known says why."""
    yield _shift(read)
    try:
        found = read(in_corner)
    except NotComputedError as error:
        yield Figure(ROLL, None, "deg", str(error))
        yield Figure(SHARE, None, "%", str(error))
        return
    tyres = "on their tyres" if found.has_tyres else "tyres taken for stiff"
    yield Figure(ROLL, found.roll_deg_per_g, "deg", f"{tyres}; {FOR_GRANTED}")
    moved = ", ".join(
        f"{end} {number(each.whole / GRAVITY, 1)} kg"
        for end, each in (("front", found.front), ("rear", found.rear))
    )
    yield Figure(SHARE, 100.0 * found.front_share, "%", f"at 1 g {moved}")


def _shift(read: Reader) -> Figure:
    try:
        return Figure(
            SHIFT, read(shift_per_g) / GRAVITY, "kg", "springs and links do not change it"
        )
    except NotComputedError as error:
        return Figure(SHIFT, None, "kg", str(error))
