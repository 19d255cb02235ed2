"""The size text on a tyre and the unloaded radius by rule."""

import re
from dataclasses import dataclass

MM_PER_INCH = 25.4

_TEXT = re.compile(r"P?(\d{3})/(\d{2})\s?Z?R\s?(\d{2})(?:\s\d{2,3}[A-Z])?", re.ASCII)
_SECTIONS = range(105, 406, 5)
_ASPECTS = range(20, 91, 5)
_RIMS = range(10, 25)


@dataclass(frozen=True, slots=True)
class TyreSize:
    """A radial car tyre by its size text.

    Attributes:
        section: section width, mm.
        aspect_percent: section height over section width.
        rim_code: rim diameter, inches.
        section_height: by the rule, whole mm.
        diameter: unloaded, mm, from the rim diameter in inches without rounding it.
    """

    section: int
    aspect_percent: int
    rim_code: int
    section_height: int
    diameter: float

    @property
    def unloaded_radius(self) -> float:
        """Half the diameter, mm; the radius under load is smaller and must be measured."""
        return self.diameter / 2.0


def tyre_size(text: str) -> TyreSize:
    """The size a text such as 205/50R15 says.

    Raises:
        ValueError: if the text is not such a size; an aspect ratio left out is not guessed.

    Source:
        Section height = section x aspect / 100 rounded to 1 mm, a half rounds up: UN Regulation 30
        and ISO 4000-1 (from memory).
    """
    match = _TEXT.fullmatch(text.strip().upper())
    if match is None:
        raise ValueError(f"{text!r} is no tyre size; write section/aspect R rim, as 205/50R15")
    section, aspect, rim = (int(part) for part in match.groups())
    if section not in _SECTIONS or aspect not in (*_ASPECTS, 82) or rim not in _RIMS:
        raise ValueError(f"no tyre is made as {text!r}: check section, aspect and rim")
    height = _whole_half_up(section * aspect)
    return TyreSize(section, aspect, rim, height, rim * MM_PER_INCH + 2 * height)


def _whole_half_up(hundredths: int) -> int:
    """Hundredths to whole numbers, a half rounding up, in whole numbers so that a half is exact."""
    return (hundredths + 50) // 100
