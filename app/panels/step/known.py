"""Which figures a step asks for, by address; and the fields that show them."""

from typing import NamedTuple

from PySide6.QtWidgets import QGridLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.selection import Selection
from app.session import Session
from app.widgets.binding import Drawn
from app.widgets.number_field import NumberField
from core.document.base import Ref
from core.document.lookup import Lookup, sides
from core.document.project import Document
from core.document.running_gear import Corner
from core.document.sides import on_side
from core.engine.address import Address
from core.study.order import Place


class Asked(NamedTuple):
    """One figure: what it is called here, and where it is."""

    words: str
    address: Address


def asked(document: Document, place: Place) -> list[Asked]:
    """The figures that a step, or a part of the driven end, asks for; those that are entered."""
    step, part = place
    if step == "front":
        return [*_rack(document), *_corners(document, driven=False)]
    if step != "rear" or part is None:
        return []
    if part == "links":
        return _corners(document, driven=True)
    make = {"unit": _unit, "shafts": _shafts, "out": _out}.get(part)
    return [] if make is None else make(document)


def _unit(document: Document) -> list[Asked]:
    return [
        Asked(words, Address(Ref(unit.id), path))
        for unit in document.power_units
        for words, path in (
            ("fore and aft, bell-housing face", "origin.x"),
            ("sideways, bell-housing face", "origin.y"),
            ("height of the crank axis", "origin.z"),
            ("mass, wet", "mass_kg"),
        )
    ]


def _shafts(document: Document) -> list[Asked]:
    found: list[Asked] = []
    lookup = Lookup(document)
    hubs: dict[Ref, None] = {}
    wheels: dict[Ref, None] = {}
    for shaft in document.drive_shafts:
        for ref in sides(shaft):
            name = f"{ref.side} shaft" if ref.side != "one" else lookup.label(ref)
            if shaft.length is not None:
                found.append(Asked(f"{name}, joint to joint", Address(ref, "length")))
            corner = on_side(shaft, ref.side).corner
            thing = on_side(lookup.by_id[corner.id], corner.side)
            if isinstance(thing, Corner):
                hubs.update({thing.hub: None} if thing.hub else {})
                wheels.update({thing.wheel: None} if thing.wheel else {})
    found += [Asked("outer joint to hub face", Address(hub, "joint_to_face")) for hub in hubs]
    found += [Asked("wheel offset", Address(wheel, "offset")) for wheel in wheels]
    return found


def _corners(document: Document, *, driven: bool) -> list[Asked]:
    axles = {axle.id for axle in document.axles if axle.driven == driven}
    return [
        Asked(f"{words}, {corner.name}", Address(sides(corner)[0], path))
        for corner in document.corners
        if corner.axle.id in axles
        for words, path in (("droop to its stop", "droop"), ("bump to its stop", "bump"))
    ]


def _rack(document: Document) -> list[Asked]:
    racks = {axle.rack for axle in document.axles if axle.rack and not axle.driven}
    return [
        Asked(words, Address(Ref(rack.id), path))
        for rack in document.racks
        if Ref(rack.id) in racks or len(document.axles) < 2
        for words, path in (
            ("rack, fore and aft", "centre.x"),
            ("rack, height", "centre.z"),
            ("ball to ball", "ball_spacing"),
            ("used each way", "used_each_way"),
        )
    ]


def _out(document: Document) -> list[Asked]:
    shops = [
        Asked("height of the dolly", Address(Ref(shop.id), "dolly_height"))
        for shop in document.workshops[:1]
    ]
    ways = [
        Asked("how far it must go", Address(Ref(way.id), "distance"))
        for way in document.ways_out[:1]
    ]
    return [*ways, *shops]


class KnownFields(QWidget):
    """Fields for what a step asks for; made anew only when other figures are asked for."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show no field yet."""
        super().__init__(parent)
        self._session, self._selection, self._look = session, selection, look
        self._drawn = Drawn(session)
        self._asked: list[Asked] = []
        self.fields: dict[str, NumberField] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setColumnStretch(0, 1)
        self._grid.setHorizontalSpacing(look.px(8))
        self._grid.setVerticalSpacing(look.px(4))

    def show_place(self, place: Place) -> bool:
        """Show the figures of a step or part; whether there are any."""
        wanted = asked(self._session.state.document, place)
        if wanted != self._asked:
            self._make(wanted)
        return bool(wanted)

    def _make(self, wanted: list[Asked]) -> None:
        for at in reversed(range(self._grid.count())):
            item = self._grid.takeAt(at)
            widget = None if item is None else item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._asked = wanted
        self.fields = {}
        for row, each in enumerate(wanted):
            field = NumberField(
                self._session, self._selection, self._look, each.address, drawn=self._drawn
            )
            self.fields[each.words] = field
            self._grid.addWidget(label(each.words, "table"), row, 0)
            self._grid.addWidget(field, row, 1)
