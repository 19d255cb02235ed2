"""The centre of gravity as a mark in the view."""

from dataclasses import dataclass

from core.assess.on_wheels import ground_height, on_wheels
from core.assess.weights import weight_at_design
from core.document.base import Vec3
from core.engine.cells import NotComputedError, Reader, When, cell
from core.quantities import number


@dataclass(frozen=True)
class WeightMark:
    """Where the weight of the car is at the load it is drawn at.

    Attributes:
        at: centre of gravity, mm, car frame.
        text: what stands beside it.
        is_whole: whether everything on the car is weighed; else it is that of what is.
    """

    at: Vec3
    text: str
    is_whole: bool


@cell(When.RELEASE)
def weight_mark(read: Reader) -> WeightMark:
    """The centre of gravity at the load the car is drawn at; of what is weighed, if not of all.

    Raises:
        NotComputedError: nothing is weighed.
    """
    try:
        found = read(on_wheels, None)
    except NotComputedError:
        return _of_what_is_known(read)
    if found.height is None:
        return _of_what_is_known(read)
    at = Vec3(found.x, found.y, found.height + read(ground_height))
    return WeightMark(at, f"{number(found.mass_kg, 0)} kg", is_whole=True)


def _of_what_is_known(read: Reader) -> WeightMark:
    weight = read(weight_at_design)
    if weight.centre is None:
        msg = "nothing in the car is weighed"
        raise NotComputedError(msg)
    if not weight.unknown_because:
        return WeightMark(weight.centre, f"{number(weight.least_kg, 0)} kg", is_whole=True)
    words = f"{number(weight.least_kg, 0)} kg, as far as it is weighed"
    return WeightMark(weight.centre, words, is_whole=False)
