"""Figures of a rigid axle worth knowing: how far it shifts, winds up and steers."""

from collections.abc import Callable, Iterator

import numpy as np

from core.assess.beam_motion import over_heave, slopes_of
from core.document.base import Ref
from core.engine.cells import NotComputedError, Reader
from core.geometry.types import Array
from core.quantities import number
from core.workshop.figure import Figure

Found = tuple[float, str]


def beam_figures(read: Reader, axle: Ref) -> Iterator[Figure]:
    """The figures of one rigid axle; each that is not known says why."""
    name = read.label(axle)
    asked: tuple[tuple[str, str, Callable[[Reader, Ref], Found]], ...] = (
        ("lateral shift over travel", "mm", _shift),
        ("wind-up over travel", "deg", _wind_up),
        ("roll steer", "deg/deg", _roll_steer),
    )
    for what, unit, find in asked:
        try:
            value, note = find(read, axle)
        except NotComputedError as error:
            yield Figure(f"{what}, {name}", None, unit, str(error))
        else:
            yield Figure(f"{what}, {name}", value, unit, note)


def _shift(read: Reader, axle: Ref) -> Found:
    found = read(over_heave, axle)
    return _range(found.aside, found.along, "mm", ("to the left", "to the right"))


def _wind_up(read: Reader, axle: Ref) -> Found:
    found = read(over_heave, axle)
    return _range(found.nose_up_deg, found.along, "deg", ("nose up", "nose down"))


def _range(values: Array, along: Array, unit: str, ways: tuple[str, str]) -> Found:
    """From the least to the most of it over the travel of both wheels alike."""
    if not np.isfinite(values).all():
        raise NotComputedError("it does not reach its whole travel")
    ends = [(float(values[k]), float(along[k])) for k in (values.argmin(), values.argmax())]
    said = [
        f"{number(abs(value), 2)} {unit} {ways[0] if value > 0.0 else ways[1]} at "
        f"{number(abs(at), 0)} of {'bump' if at > 0.0 else 'droop'}"
        for value, at in ends
        if abs(value) > LEAST
    ]
    return ends[1][0] - ends[0][0], "; ".join(said) or "over the travel of both wheels"


LEAST = 0.005
"""Half of the last digit shown."""


def _roll_steer(read: Reader, axle: Ref) -> Found:
    slope = read(slopes_of, axle).roll_steer
    note = "turn to the left for each degree the body rolls, left side up, at the design position"
    return slope, note
