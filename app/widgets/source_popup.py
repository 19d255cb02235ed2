"""What decided a figure, opened in place: why it is so, its source, its doubt, what holds it."""

import msgspec
from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.look.look import Look
from app.look.style import label
from app.selection import Selection
from app.session import Edit, Session, State
from app.widgets.binding import Bound
from app.widgets.field import Sentence, as_sentence
from app.widgets.figures import in_full, read_figure
from app.widgets.tabs import Tabs
from app.widgets.word_button import word_button
from app.widgets.words_line import WordsLine
from core.document.base import Fact, Source
from core.document.errors import JigplateError
from core.document.paths import covers
from core.edits.branches import say_source_of
from core.edits.values import hold, rejoin, release, set_free
from core.quantities import QuantityError
from core.study.why import why

SOURCES: dict[Source, str] = {
    "in_hand": "in hand",
    "measured": "measured",
    "chosen": "chosen",
    "guessed": "guessed",
}
FIRST_LINES = 4
"""Lines of the reasons shown at once; the rest opens on asking."""

JOIN, SET_APART = "Join left and right again here", "Set the right one apart here"


class SourcePopup(QFrame):
    """A card below a figure that tells what decided it and lets that be said anew; Esc shuts it."""

    closed = Signal()

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        bound: Bound,
        parent: QWidget | None = None,
    ) -> None:
        """Open it for a figure in the car."""
        super().__init__(parent)
        self._session, self._selection, self._look, self._bound = session, selection, look, bound
        self.setProperty("ground", "card")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._box = QVBoxLayout(self)
        side = look.px(10)
        self._box.setContentsMargins(side, look.px(8), side, look.px(8))
        self._box.setSpacing(look.px(6))
        self._all_lines = False
        self._reasons = QVBoxLayout()
        self._reasons.setSpacing(look.px(1))
        self.more = word_button("All of it")
        self.more.clicked.connect(self._show_all)
        self._box.addLayout(self._reasons)
        self._box.addWidget(self.more, 0, Qt.AlignmentFlag.AlignLeft)
        self.sources = self._source_tabs()
        self.words = self._words_of_source()
        self.hold_reason, self.hold_button, self.free_button = self._hold_row()
        self.apart_button = word_button("")
        self.apart_button.clicked.connect(self._apart_or_together)
        self._box.addWidget(self.apart_button, 0, Qt.AlignmentFlag.AlignLeft)
        self.sentence = Sentence(look, self)
        self._box.addWidget(self.sentence)
        session.changed.connect(self._session_changed)
        self.refresh()

    # What it is made of.

    def _source_tabs(self) -> Tabs[Source]:
        tabs = Tabs(self._look, SOURCES, "where it comes from", self)
        tabs.chosen.connect(self.say_source)
        self._box.addWidget(tabs)
        return tabs

    def _words_of_source(self) -> dict[str, WordsLine]:
        grid = QGridLayout()
        grid.setHorizontalSpacing(self._look.px(8))
        grid.setVerticalSpacing(self._look.px(4))
        made: dict[str, WordsLine] = {}
        rows = (
            ("uncertainty", "likely error ±"),
            ("tolerance", "build it within ±"),
            ("how", "how got"),
            ("when", "when"),
        )
        for number, (name, words) in enumerate(rows):
            line = WordsLine(self._look, self)
            line.setProperty("role", "table")
            line.setAccessibleName(words)
            line.returnPressed.connect(lambda n=name: self._keep_words(n))
            line.left.connect(lambda n=name: self._keep_words(n))
            line.escaped.connect(self.refresh)
            grid.addWidget(label(words, "small", "ink2"), number, 0)
            grid.addWidget(line, number, 1)
            made[name] = line
        self._box.addLayout(grid)
        return made

    def _hold_row(self) -> tuple[WordsLine, QPushButton, QPushButton]:
        reason = WordsLine(self._look, self)
        reason.setProperty("role", "table")
        reason.setPlaceholderText("why it must stay")
        reason.setAccessibleName("why it must stay")
        do_hold, do_free = word_button("Hold it", "plain"), word_button("Set free", "plain")
        reason.returnPressed.connect(self.hold)
        do_hold.clicked.connect(self.hold)
        do_free.clicked.connect(self.set_free)
        row = QHBoxLayout()
        row.setSpacing(self._look.px(6))
        for widget in (reason, do_hold, do_free):
            row.addWidget(widget)
        self._box.addLayout(row)
        return reason, do_hold, do_free

    # What it shows.

    def refresh(self) -> None:
        """Show what is known of the figure now."""
        if not self._bound.is_there:
            return
        fact = self._bound.fact() or Fact()
        self._tell_reasons()
        self.sources.show_chosen(fact.source)
        for name, line in self.words.items():
            if not (line.hasFocus() and line.isModified()):
                line.setText(self._text(fact, name))
        held = self._bound.hold()
        self.free_button.setVisible(held is not None)
        self.hold_reason.setVisible(held is None)
        self.hold_button.setVisible(held is None)
        self._offer_sides()

    def _text(self, fact: Fact, name: str) -> str:
        value = getattr(fact, name)
        if isinstance(value, float):
            return f"{in_full(value, self._bound.unit)} {self._bound.unit}".strip()
        return str(value or "")

    def _tell_reasons(self) -> None:
        while (item := self._reasons.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        lines = self.reasons()
        shown = lines if self._all_lines else lines[:FIRST_LINES]
        for line in shown:
            self._reasons.addWidget(self._reason(line))
        self.more.setVisible(len(shown) < len(lines))

    def _reason(self, line: str) -> QLabel:
        depth = (len(line) - len(line.lstrip())) // 2
        made = label(line.strip(), "small", "ink" if depth == 0 else "ink2")
        made.setContentsMargins(self._look.px(10.0 * depth), 0, 0, 0)
        made.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        return made

    def reasons(self) -> tuple[str, ...]:
        """Why the figure is what it is, a line each."""
        try:
            return why(self._session.state.assessment, self._bound.address)
        except JigplateError as error:
            return (as_sentence(error),)

    def _show_all(self) -> None:
        self._all_lines = True
        self._tell_reasons()

    def _offer_sides(self) -> None:
        thing = self._bound.thing
        self.apart_button.setVisible(thing is not None and thing.pair)
        self.apart_button.setText(JOIN if self._is_own() else SET_APART)

    def _is_own(self) -> bool:
        thing, path = self._bound.thing, self._bound.address.path
        return thing is not None and any(covers(own.of, path) for own in thing.right)

    # What it does.

    def say_source(self, source: Source) -> None:
        """Say where the figure comes from; how its whole part was got says nothing of it then."""
        known = self._fact()
        if known.of != self._bound.address.path and known.source != source:
            known = Fact(tolerance=known.tolerance, held=known.held, free=known.free)
        fact = msgspec.structs.replace(known, source=source)
        if source in ("in_hand", "measured"):
            fact = msgspec.structs.replace(fact, free=False)
        self._say(fact)

    def _fact(self) -> Fact:
        return self._bound.fact() or Fact()

    def _say(self, fact: Fact) -> None:
        address, name = self._bound.address, self._bound.said()
        self._try(f"Say where {name} comes from", lambda d: say_source_of(d, address, fact))

    def _keep_words(self, name: str) -> None:
        line = self.words[name]
        if not line.isModified():
            return
        text = line.text().strip()
        value: object = text
        if name in ("uncertainty", "tolerance"):
            try:
                value = read_figure(text, self._bound.unit) if text else None
            except QuantityError as error:
                self.sentence.say(str(error))
                return
        line.setModified(False)
        try:
            fact = msgspec.structs.replace(self._fact(), **{name: value})
        except ValueError as error:
            self.sentence.say(as_sentence(error))
            return
        self._say(fact)

    def hold(self) -> None:
        """Hold the figure for the reason given."""
        address, reason = self._bound.address, self.hold_reason.text()
        done = self._try(f"Hold {self._bound.said()}", lambda d: hold(d, address, reason))
        if done:
            self.hold_reason.clear()

    def set_free(self) -> None:
        """Let the figure move again."""
        address = self._bound.address
        self._try(f"Set {self._bound.said()} free", lambda d: set_free(d, address))

    def _apart_or_together(self) -> None:
        ref, path = self._bound.address
        name = self._bound.said()
        if self._is_own():
            self._try(f"Join left and right of {name}", lambda d: rejoin(d, ref, self._own_path()))
        else:
            self._try(f"Set the right {name} apart", lambda d: release(d, ref, path))

    def _own_path(self) -> str:
        thing, path = self._bound.thing, self._bound.address.path
        assert thing is not None
        return next(own.of for own in thing.right if covers(own.of, path))

    def _try(self, words: str, edit: Edit) -> bool:
        try:
            self._session.apply(words, edit)
        except JigplateError as error:
            self.sentence.say(as_sentence(error))
            self.refresh()
            return False
        self.sentence.clear()
        return True

    def _session_changed(self, before: State, after: State) -> None:
        if before.document is not after.document and self.isVisible():
            self.refresh()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc shuts it."""
        if event.key() == Qt.Key.Key_Escape:
            self.shut()
            self.closed.emit()
            event.accept()
        else:
            super().keyPressEvent(event)

    def shut(self) -> None:
        """Take the card away."""
        self.hide()
        self.deleteLater()
