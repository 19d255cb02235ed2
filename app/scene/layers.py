"""What a drawer of records needs to know beside the records: colours, groups, what is chosen."""

from dataclasses import dataclass, field
from typing import Protocol

import numpy as np
from PySide6.QtGui import QColor

from app.look.tokens import ColourName
from app.scene.groups import SEEN_THROUGH, SOFT, Group, Grouping, Shown
from app.scene.skin import Bytes
from core.document.base import Ref, SteelState
from core.scene.records import Look as RecordLook
from core.scene.records import TubeRecord


class Palette(Protocol):
    """Where colours come from."""

    def colour(self, name: ColourName, opacity: float = 1.0) -> QColor:
        """A colour by its meaning."""
        ...


COLOUR_OF_LOOK: dict[RecordLook, ColourName] = {
    "steel": "tube",
    "link": "link",
    "card": "shaft",
    "upright": "upright",
    "tyre": "tyre",
    "soft": "soft",
    "hot": "hoop",
}
COLOUR_OF_STATE: dict[SteelState, ColourName] = {
    "planned": "steel_planned",
    "cut": "steel_cut",
    "bent": "steel_bent",
    "tacked": "steel_tacked",
    "welded": "steel_welded",
    "spoilt": "steel_spoilt",
}


@dataclass(frozen=True, eq=False)
class Layers:
    """How to show records now.

    Attributes:
        palette: colours of the theme in force.
        grouping: the group of each thing.
        shown: how each group is shown.
        by_state: whether steel is told apart by how far it is made.
        chosen: what is selected.
    """

    palette: Palette
    grouping: Grouping
    shown: dict[Group, Shown]
    by_state: bool = False
    chosen: frozenset[Ref] = field(default_factory=frozenset)
    known: dict[ColourName, Bytes] = field(default_factory=dict["ColourName", "Bytes"])
    """Colours asked for already."""

    def how(self, ref: Ref) -> Shown:
        """Whether a thing is shown, seen through or hidden."""
        return self.shown[self.grouping.of(ref)]

    def opacity_of_tube(self, tube: TubeRecord) -> float:
        """How much of a tube is seen; told apart by state, what is only planned is seen through."""
        share = self.opacity(tube.ref, "steel")
        return min(share, SEEN_THROUGH) if self.by_state and tube.state == "planned" else share

    def opacity(self, ref: Ref, look: RecordLook) -> float:
        """How much of a thing is seen: 0 hidden, 1 in full."""
        how = self.how(ref)
        if how == "hidden":
            return 0.0
        if how == "see-through":
            return SEEN_THROUGH
        return SOFT if look == "soft" else 1.0

    def tint(self, ref: Ref, name: ColourName) -> Bytes:
        """The colour of a thing as red, green, blue; what is chosen is tinted so."""
        colour = self.tint_of_line(name)
        return _mixed(colour, self.tint_of_line("sel"), 0.72) if ref in self.chosen else colour

    def tint_of_line(self, name: ColourName) -> Bytes:
        """A colour by name as red, green, blue."""
        found = self.known.get(name)
        if found is None:
            found = self.known[name] = rgb(self.palette.colour(name))
        return found


def rgb(colour: QColor) -> Bytes:
    """A colour as red, green, blue of 0 to 255."""
    return np.array([colour.red(), colour.green(), colour.blue()], dtype=np.uint8)


def _mixed(one: Bytes, other: Bytes, share: float) -> Bytes:
    return np.asarray((1.0 - share) * one + share * other, dtype=np.uint8)
