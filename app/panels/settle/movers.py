"""Which coordinates may move: for each point a box for each axis, and how far either way."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.look.look import Look
from app.widgets.elided import ElidedLabel
from app.widgets.fold_line import FoldLine
from app.widgets.free_figure import FreeFigure
from app.widgets.tick_box import TickBox
from core.document.base import Ref
from core.document.lookup import Lookup
from core.study.corner_points import AXIS_WORDS
from core.study.settle_places import EACH_WAY, Axis, MayMove
from core.study.settle_records import Freed

WORDS: dict[Axis, str] = {"x": "along", "y": "across", "z": "up"}
"""A box has room for one short word."""

Key = tuple[Ref, Axis]


class Movers(QWidget):
    """Boxes and figures, those of the upright folded; made anew when there are other points."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show none yet."""
        super().__init__(parent)
        self._look = look
        self._there: tuple[tuple[Ref, str, str], ...] = ()
        self.boxes: dict[Key, TickBox] = {}
        self.rooms: dict[Ref, FreeFigure] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self.fold = FoldLine(look)
        self._chassis, self._rest = QWidget(), QWidget()
        for part in (self._chassis, self.fold, self._rest):
            self._column.addWidget(part)
        self.fold.toggled.connect(self._rest.setVisible)
        self._rest.hide()

    def tell(self, lookup: Lookup, found: Sequence[MayMove]) -> None:
        """Show the coordinates of a corner; what was ticked stays, what is held cannot be."""
        there = tuple((each.ref, each.axis, lookup.label(each.ref)) for each in found)
        if there != self._there:
            self._there = there
            self._make(lookup, found)
        for each in found:
            self._tell_box(lookup, each)

    def freed(self) -> tuple[Freed, ...]:
        """What may move, and how far."""
        return tuple(
            Freed(ref, axis, self.rooms[ref].value)
            for (ref, axis), box in self.boxes.items()
            if box.isChecked() and box.isEnabled()
        )

    def keep(self) -> bool:
        """Keep what is being typed; whether all of it can be."""
        kept = [room.keep() for room in self.rooms.values()]
        return all(kept)

    def _tell_box(self, lookup: Lookup, each: MayMove) -> None:
        box = self.boxes[each.ref, each.axis]
        box.setEnabled(not each.held)
        if each.held:
            box.setChecked(False)
        name = f"{lookup.label(each.ref)}, {AXIS_WORDS[each.axis]}"
        box.setAccessibleName(f"{name} may move")
        box.setToolTip(f"{name}: {each.held}." if each.held else f"{name} may move.")

    def _make(self, lookup: Lookup, found: Sequence[MayMove]) -> None:
        was = {key: box.isChecked() for key, box in self.boxes.items()}
        rooms = {ref: room.value for ref, room in self.rooms.items()}
        self.boxes, self.rooms = {}, {}
        points: dict[Ref, list[MayMove]] = {}
        for each in found:
            points.setdefault(each.ref, []).append(each)
        halves: tuple[list[QWidget], list[QWidget]] = ([], [])
        for ref, coordinates in points.items():
            row = self._row(lookup.label(ref), coordinates, was, rooms.get(ref, EACH_WAY))
            halves[coordinates[0].body != "chassis"].append(row)
        self._chassis = self._replaced(self._chassis, halves[0], is_shown=True)
        self._rest = self._replaced(self._rest, halves[1], is_shown=self.fold.isChecked())
        self.fold.setText(f"Points on the upright ({len(halves[1])})")
        self.fold.setVisible(bool(halves[1]))

    def _replaced(self, old: QWidget, rows: list[QWidget], *, is_shown: bool) -> QWidget:
        made = QWidget()
        column = QVBoxLayout(made)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(self._look.px(2))
        for row in rows:
            column.addWidget(row)
        self._column.replaceWidget(old, made)
        old.hide()
        old.deleteLater()
        if old is self._rest:
            self.fold.toggled.disconnect(old.setVisible)
            self.fold.toggled.connect(made.setVisible)
        made.setVisible(is_shown)
        return made

    def _row(
        self, name: str, coordinates: list[MayMove], was: dict[Key, bool], each_way: float
    ) -> QWidget:
        made = QWidget()
        column = QVBoxLayout(made)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(ElidedLabel(name, "table"))
        line = QHBoxLayout()
        line.setSpacing(self._look.px(2))
        for each in coordinates:
            box = self.boxes[each.ref, each.axis] = TickBox(self._look, WORDS[each.axis])
            box.setChecked(was.get((each.ref, each.axis), each.is_on))
            line.addWidget(box)
        ref = coordinates[0].ref
        room = self.rooms[ref] = FreeFigure(self._look, "mm", each_way, 0.0)
        room.setAccessibleName(f"{name}: how far it may move either way, mm")
        line.addWidget(ElidedLabel("±", "table", "ink2"), 0, Qt.AlignmentFlag.AlignRight)
        line.addWidget(room)
        column.addLayout(line)
        return made
