"""The fields of the form that carries a donor's corner over, and what they ask for."""

from collections.abc import Mapping
from typing import Final, Literal

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.panels.donors.pick import Pick
from app.widgets.binding import Draft
from app.widgets.draft_form import NotGivenError
from app.widgets.field import Field
from app.widgets.field_rows import FieldContext, Rows
from core.document.base import Entity, Ref
from core.document.project import Document
from core.edits.donor import CarryOver, HubPlace, Station
from core.edits.names import free_name
from core.workshop.field_shapes import Shape

End = Literal["front", "rear"]
Which = Literal["both", "left", "right"]
Rack = Literal["ahead", "behind"]

ENDS: Final[Mapping[End, str]] = {"front": "front", "rear": "rear"}
SIDES: Final[Mapping[Which, str]] = {
    "both": "left and right",
    "left": "left alone",
    "right": "right alone",
}
TURNED: Final = {False: "as on the donor", True: "turned end for end"}
RACK: Final[Mapping[Rack | None, str]] = {
    None: "not settled yet",
    "ahead": "to lie ahead",
    "behind": "to lie behind",
}
BY_HUB: Final = {True: "of the hub face", False: "of the wheel"}

_HELP: Final = {
    "x": "of the hub face, or of the wheel centre; sums such as 2490 - 12.5 and inches will do",
    "outboard": "the hub face from the centre plane of the car, on either side",
    "half track": "the middle of the tyre on the ground from the centre plane of the car",
    "tyre": "that this car stands on there: its loaded radius is the height of the hub",
    "wheel": "of this car: its offset leads from the hub face to the middle of the tyre",
    "hub": "of this car",
}
_LISTS: Final = {
    "donor": "donor_corners",
    "tyre": "tyres",
    "wheel": "wheels",
    "hub": "hubs",
}
_KINDS: Final = {
    "donor": "donor_corner",
    "tyre": "tyre",
    "wheel": "wheel",
    "hub": "hub",
}


class AskedFields(QWidget):
    """What is asked for; figures and names wait in drafts, the rest is picked from lists."""

    changed = Signal()
    """Something else is asked for."""

    def __init__(self, context: FieldContext, parent: QWidget | None = None) -> None:
        """Ask for a corner of which nothing is given yet."""
        super().__init__(parent)
        look = context.look
        self._by_hand: set[str] = set()
        self._context = context
        self.drafts: dict[str, Draft] = {}
        self.fields: dict[str, Field] = {}
        self.end = Pick(look, ENDS, "end of this car")
        self.by_hub = Pick(look, BY_HUB, "what is placed")
        self.side = Pick(look, SIDES, "side")
        self.turned = Pick(look, TURNED, "way round")
        self.rack = Pick(look, RACK, "steering rack")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.px(6))
        self.hub_rows, self.wheel_rows = Rows(look), Rows(look)
        for rows in (self._first(), self.hub_rows, self.wheel_rows, self._last()):
            column.addWidget(rows)
        self._add(self.hub_rows, "outboard", Shape("number"))
        self._add(self.wheel_rows, "half track", Shape("number"))
        for pick in (self.end, self.by_hub, self.side, self.turned, self.rack):
            pick.picked.connect(self._picked)
        self.end.picked.connect(lambda: self._by_hand.add("end"))
        self._show_place()

    def _first(self) -> Rows:
        rows = Rows(self._context.look)
        self._add(rows, "donor", Shape("reference", kinds=(_KINDS["donor"],)))
        rows.add("end", self.end)
        self._add(rows, "name", Shape("text"))
        rows.add("place", self.by_hub)
        self._add(rows, "x", Shape("number"), "x ahead")
        return rows

    def _last(self) -> Rows:
        rows = Rows(self._context.look)
        for name in ("tyre", "wheel", "hub"):
            shape = Shape("reference", optional=True, kinds=(_KINDS[name],))
            self._add(rows, name, shape, f"{name} here")
        for words, pick in (("side", self.side), ("way round", self.turned), ("rack", self.rack)):
            rows.add(words, pick)
        return rows

    def _add(self, rows: Rows, name: str, shape: Shape, words: str = "") -> None:
        unit = "mm" if shape.what == "number" else ""
        draft = Draft(shape, words or name, unit, _HELP.get(name, ""))
        field = self._context.field_for(draft, shape, rows)
        field.kept.connect(lambda: self._kept(name))
        self.drafts[name], self.fields[name] = draft, field
        rows.add(draft.words, field)

    def _kept(self, name: str) -> None:
        self._by_hand.add(name)
        self.changed.emit()

    def _picked(self) -> None:
        self._show_place()
        self.changed.emit()

    def _show_place(self) -> None:
        self.hub_rows.setVisible(self.by_hub.value)
        self.wheel_rows.setVisible(not self.by_hub.value)

    # --- what follows the car -------------------------------------------------------------------

    def follow(self, document: Document, end: End) -> None:
        """Offer what suits a car at an end, wherever nothing was given by hand."""
        if "end" not in self._by_hand:
            self.end.put(end)
        for name, field in _LISTS.items():
            self._offer(name, getattr(document, field))
        if "name" not in self._by_hand:
            taken = (corner.name for corner in document.corners)
            self._put("name", free_name(taken, f"{self.end.value} corner"))

    def _offer(self, name: str, things: tuple[Entity, ...]) -> None:
        """What is gone goes; the only one, or the newest donor, is offered."""
        now = self.drafts[name].value()
        if isinstance(now, Ref) and now.id not in {thing.id for thing in things}:
            self._put(name, None)
            self._by_hand.discard(name)
        is_plain = len(things) == 1 or (name == "donor" and bool(things))
        if name not in self._by_hand:
            self._put(name, _piece(things[-1]) if is_plain else None)

    def choose_donor(self, ref: Ref) -> None:
        """Ask for a donor's corner."""
        self._put("donor", ref)
        self._kept("donor")

    def _put(self, name: str, value: object) -> None:
        if value != self.drafts[name].value():
            self.drafts[name].keep(value)
            self.fields[name].refresh()

    # --- what is asked --------------------------------------------------------------------------

    def settle(self) -> bool:
        """Keep all that is typed; whether all of it can be."""
        other = "half track" if self.by_hub.value else "outboard"
        kept = [field.settle() for name, field in self.fields.items() if name != other]
        return all(kept)

    def asked(self) -> CarryOver:
        """What is asked for.

        Raises:
            NotGivenError: something that it takes is not given yet.
        """
        donor, name = self.drafts["donor"].value(), self.drafts["name"].value()
        where = "outboard" if self.by_hub.value else "half track"
        x, aside = self.drafts["x"].value(), self.drafts[where].value()
        needed = {"donor": donor, "name": name, "x ahead": x, where: aside}
        missing = [words for words, value in needed.items() if value in (None, "")]
        if missing or not isinstance(donor, Ref):
            raise NotGivenError(f"Still to be given: {', '.join(missing)}.")
        assert isinstance(x, int | float)
        assert isinstance(aside, int | float)
        return CarryOver(
            donor=donor,
            end=self.end.value,
            name=str(name),
            at=HubPlace(x, aside) if self.by_hub.value else Station(x, aside),
            tyre=self._ref("tyre"),
            wheel=self._ref("wheel"),
            hub=self._ref("hub"),
            side=self.side.value,
            turned=self.turned.value,
            rack=self.rack.value,
        )

    def _ref(self, name: str) -> Ref | None:
        value = self.drafts[name].value()
        return value if isinstance(value, Ref) else None


def _piece(thing: Entity) -> Ref:
    return Ref(thing.id, "left" if thing.pair else "one")
