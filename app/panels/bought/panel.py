"""The list of bought parts over the step; a part that is clicked is chosen."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.bought.row import BoughtRow
from app.selection import Selection
from app.session import Session, State
from app.widgets.rows import Section, say
from app.widgets.word_button import word_button
from core.document.lookup import Lookup
from core.study.bought import BoughtPart, bought_parts

NONE = (
    "None yet. Enter the engine and gearbox, shafts, hubs, wheels and tyres as they are bought; "
    "anything else that must be bought is a part."
)
IN_HAND_BY = (
    "In hand is what the source of its figures says, or the part itself; a weight that was "
    "measured does not say that the part was kept."
)


class BoughtList(QWidget):
    """Every bought part: those that are not in hand first, longest awaited at the top."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show where the bought parts stand."""
        super().__init__(parent)
        self._session, self._selection, self._look = session, selection, look
        self.rows: list[BoughtRow] = []
        self._shown: tuple[BoughtPart, ...] | None = None
        self.words = label("", "lead")
        self.missing = Section(look, "Not in hand")
        self.there = Section(look, "In hand")
        self.none = label(NONE, "body", "ink2")
        self.table = word_button("All parts in a table")
        self.new = word_button("New part…")
        self._lay_out()
        self.table.clicked.connect(lambda: selection.list_wanted.emit("parts"))
        self.new.clicked.connect(lambda: selection.make_wanted.emit("parts"))
        session.changed.connect(self._session_changed)
        selection.changed.connect(self._show_chosen)
        self.refresh()

    def _lay_out(self) -> None:
        px = self._look.px
        inner = QWidget()
        column = QVBoxLayout(inner)
        column.setContentsMargins(0, 0, 0, px(12))
        column.setSpacing(0)
        head = QVBoxLayout()
        head.setContentsMargins(px(22), px(12), px(22), px(10))
        head.setSpacing(px(4))
        head.addWidget(self.words)
        head.addWidget(self.none)
        head.addWidget(label(IN_HAND_BY, "small", "ink2"))
        row = QHBoxLayout()
        row.addWidget(self.table)
        row.addWidget(self.new)
        row.addStretch(1)
        head.addLayout(row)
        column.addLayout(head)
        column.addWidget(self.missing)
        column.addWidget(self.there)
        column.addStretch(1)
        area = QScrollArea(self)
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidget(inner)
        area.viewport().setAutoFillBackground(False)
        inner.setAutoFillBackground(False)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(area)

    def refresh(self) -> None:
        """Show the parts as they are now."""
        found = bought_parts(self._session.state.document)
        if found.parts == self._shown:
            return
        self._shown = found.parts
        say(self.words, f"{found.in_hand} of {found.wanted} in hand")
        self.words.setVisible(bool(found.parts))
        self.none.setVisible(not found.parts)
        for old in self.rows:
            old.hide()
            old.deleteLater()
        self.rows = [self._row(part) for part in found.parts]
        for section, is_in_hand in ((self.missing, False), (self.there, True)):
            many = sum(part.is_in_hand is is_in_hand for part in found.parts)
            section.setVisible(bool(many))
            section.say("In hand" if is_in_hand else "Not in hand", str(many))
        self._show_chosen()

    def _row(self, part: BoughtPart) -> BoughtRow:
        name = Lookup(self._session.state.document).by_id[part.ref.id].name
        row = BoughtRow(self._look, part, name)
        row.clicked.connect(lambda: self._selection.choose(part.ref))
        (self.there if part.is_in_hand else self.missing).body.addWidget(row)
        return row

    def _show_chosen(self) -> None:
        ids = {ref.id for ref in self._selection.refs}
        for row in self.rows:
            row.setChecked(row.part.ref.id in ids)

    def _session_changed(self, before: State, after: State) -> None:
        if before.document is not after.document:
            self.refresh()
