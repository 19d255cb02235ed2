"""The one typeface, in four cuts, and the sizes that each use of it has."""

from pathlib import Path
from typing import Literal, NamedTuple

from PySide6.QtGui import QFont, QFontDatabase

FAMILY = "IBM Plex Sans Condensed"
FONTS = Path(__file__).resolve().parents[2] / "assets" / "fonts"

FontRole = Literal[
    "car",  # the car's name
    "title",  # of a step or card
    "lead",  # one sentence that leads
    "finding",  # what a finding says
    "head",  # of a section, of a tag
    "body",  # menus, buttons, running text
    "field",  # a figure in a field
    "field_strong",
    "table",  # figures in rows
    "small",  # second lines, sources, units
    "worked_out",  # a result, not a source
    "rule",  # numerals on a rule: the least size there is
]


class Cut(NamedTuple):
    """Size in pixels at scale 1, weight, and whether it leans."""

    size: float
    weight: QFont.Weight
    italic: bool = False


_NORMAL, _MEDIUM, _STRONG = QFont.Weight.Normal, QFont.Weight.Medium, QFont.Weight.DemiBold

CUTS: dict[FontRole, Cut] = {
    "car": Cut(21, _STRONG),
    "title": Cut(20, _STRONG),
    "lead": Cut(14, _NORMAL),
    "finding": Cut(14, _MEDIUM),
    "head": Cut(13, _STRONG),
    "body": Cut(13, _NORMAL),
    "field": Cut(14, _NORMAL),
    "field_strong": Cut(14, _STRONG),
    "table": Cut(13.5, _NORMAL),
    "small": Cut(12.5, _NORMAL),
    "worked_out": Cut(13, _NORMAL, italic=True),
    "rule": Cut(11, _MEDIUM),
}


def load_fonts() -> bool:
    """Whether the typeface is there for Qt to use; loads its files the first time."""
    if FAMILY in QFontDatabase.families():
        return True
    for file in sorted(FONTS.glob("*.ttf")):
        QFontDatabase.addApplicationFont(str(file))
    return FAMILY in QFontDatabase.families()


def font(role: FontRole, scale: float) -> QFont:
    """The font for a use, at a scale.

    Outlines are not pulled to the pixel grid: at these sizes that made words like «fine» and
    «fill» hard to tell apart.
    """
    cut = CUTS[role]
    made = QFont(FAMILY)
    made.setPixelSize(max(1, int(cut.size * scale + 0.5)))
    made.setWeight(cut.weight)
    made.setItalic(cut.italic)
    made.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return made
