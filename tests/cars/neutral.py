"""Reading of the neutral source files: plain JSON of invented cars, with some things said twice."""

import json
import re
from pathlib import Path
from typing import Any

import numpy as np

from core.document.base import Axes, Box, Vec3
from core.geometry.types import Array

Plain = dict[str, Any]
HERE = Path(__file__).parent
ENDS = ("front", "rear")
SIDES = ("left", "right")


class ConversionError(ValueError):
    """A neutral file that contradicts itself or says what the converter does not know."""


def read_neutral(path: Path) -> Plain:
    """The content of a neutral file."""
    content: Plain = json.loads(path.read_text(encoding="utf-8"))
    return content


def number(value: Any) -> float:  # noqa: ANN401 - JSON
    """A number of the file as a float, so that 30 and 30.0 are written alike."""
    return float(value) + 0.0


def number_or_none(value: Any) -> float | None:  # noqa: ANN401 - JSON
    """The same where the file may have no value."""
    return None if value is None else number(value)


def place(values: Any) -> Vec3:  # noqa: ANN401 - JSON
    """Three numbers of the file as a place or a direction."""
    x, y, z = values
    return Vec3(number(x), number(y), number(z))


def place_or_none(values: Any) -> Vec3 | None:  # noqa: ANN401 - JSON
    """The same where the file may have no value."""
    return None if values is None else place(values)


def box(thing: Plain, suffix: str = "") -> Box:
    """The box from `min` to `max` of an entry."""
    return Box(low=place(thing["min" + suffix]), high=place(thing["max" + suffix]))


def axes(thing: Plain) -> Axes:
    """Three directions named x, y, z."""
    return Axes(x=place(thing["x"]), y=place(thing["y"]), z=place(thing["z"]))


def array(values: Any) -> Array:  # noqa: ANN401 - JSON
    """Numbers of the file as an array of their own shape."""
    return np.array(values, dtype=np.float64)


def matched(pattern: str, text: str, what: str) -> tuple[str, ...]:
    """The groups of a pattern that must fit the whole of a text.

    Raises:
        ConversionError: it does not fit.
    """
    found = re.fullmatch(pattern, text)
    if found is None:
        msg = f"{what}: «{text}» is not understood"
        raise ConversionError(msg)
    return found.groups()


def driven_end(car: Plain) -> str:
    """The end of the car whose wheels the power unit drives."""
    end: str = car["power_unit"].get("driven_axle", "rear")
    return end


def fits(pattern: str, path: str, between: str) -> bool:
    """Whether a path has the steps of a pattern, in which `*` stands for any one step."""
    wanted, steps = pattern.split(between), path.split(between)
    return len(wanted) == len(steps) and all(
        want in ("*", step) for want, step in zip(wanted, steps, strict=True)
    )
