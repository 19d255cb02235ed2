"""A figure on a scribed dimension line: typed with units and sums, nudged, refused in words."""

import itertools

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QSizePolicy, QWidget

from app.look.look import Look
from app.look.tags import SourceTag
from app.selection import Selection
from app.session import Session
from app.widgets.binding import Binding, Bound, Draft, Drawn
from app.widgets.field import MEANWHILE, Field
from app.widgets.field_sources import line_of, tag_of
from app.widgets.figure_line import DONT_KNOW, FigureLine
from app.widgets.figures import at_rest, in_full, read_figure, step_of
from app.widgets.source_popup import SourcePopup
from core.engine.address import Address
from core.quantities import QuantityError


class FigureRow(QWidget):
    """A figure and its tag side by side, or the tag below where there is no room for it."""

    def __init__(self, look: Look, line: FigureLine, tag: SourceTag, parent: QWidget) -> None:
        """Put the two into a row."""
        super().__init__(parent)
        self._line, self._tag, self._gap = line, tag, look.px(8)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.setMinimumWidth(line.sizeHint().width())
        self._box = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(self._gap)
        left = Qt.AlignmentFlag.AlignLeft
        self._box.addWidget(line, 0, left)
        self._box.addWidget(tag, 0, left)
        self._box.addStretch(1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the tag where there is room for it."""
        super().resizeEvent(event)
        wanted = self._line.sizeHint().width() + self._gap + self._tag.sizeHint().width()
        fits = wanted <= self.width()
        self._box.setDirection(
            QBoxLayout.Direction.LeftToRight if fits else QBoxLayout.Direction.TopToBottom
        )
        self._box.setSpacing(self._gap if fits else 2)


class NumberField(Field):
    """A figure with its unit, the tag of where it comes from, and what holds it."""

    _drags = itertools.count()

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        at: Address | Binding,
        parent: QWidget | None = None,
        *,
        drawn: Drawn | None = None,
    ) -> None:
        """Show the figure at an address, or wait for one."""
        super().__init__(session, selection, look, at, parent, drawn=drawn)
        self._typed = False
        self._before: object = None
        self._group: object = None
        self.line = FigureLine(look, self)
        self.line.setAccessibleName(self.binding.words)
        self.line.is_in_form = isinstance(self.binding, Draft)
        self.line.setPlaceholderText("" if self.line.is_in_form else DONT_KNOW)
        self.tag = SourceTag(look, "guessed", "", self)
        self.popup: SourcePopup | None = None
        self._connect()
        self.finish(FigureRow(look, self.line, self.tag, self))

    def _connect(self) -> None:
        self.line.textEdited.connect(self._text_edited)
        self.line.returnPressed.connect(self.keep_typed)
        self.line.escaped.connect(self.restore)
        self.line.nudged.connect(self.nudge)
        self.line.entered.connect(self._entered)
        self.line.left.connect(self._left)
        self.tag.clicked.connect(self.toggle_source)
        self.setFocusProxy(self.line)

    # What is shown.

    @property
    def is_count(self) -> bool:
        """Whether it is counted, not measured."""
        return self.binding.shape.what == "count"

    @property
    def typed(self) -> str | None:
        """What has been typed and is not kept yet."""
        return self.line.text() if self._typed else None

    def take_up(self, text: str) -> None:
        """Go on with a text that was being typed."""
        self._before = self.binding.value()
        self._typed = True
        self.line.setText(text)

    def refresh(self) -> None:
        """Show the figure as it is now; what is being typed stays."""
        value = self.binding.value()
        if self._typed:
            self._tell_meanwhile(value)
        else:
            self.line.show_figure(self._text(value), self.binding.unit)
            self._show_source(value)

    def _text(self, value: object) -> str:
        if isinstance(value, bool) or not isinstance(value, int | float):
            return ""
        write = in_full if self.line.hasFocus() else at_rest
        return write(value, self.binding.unit)

    def _tell_meanwhile(self, value: object) -> None:
        if value == self._before:
            return
        self._before = value
        figure = DONT_KNOW if value is None else f"{self._text(value)} {self.binding.unit}".strip()
        self.sentence.say(f"Meanwhile it became {figure}. {MEANWHILE}", ink="ink2")

    def _show_source(self, value: object) -> None:
        fact, hold = self.binding.fact(), self.binding.hold()
        self.line.line = line_of(value, fact, hold, is_draft=isinstance(self.binding, Draft))
        kind, words, told = tag_of(fact, hold)
        self.tag.say(kind, words)
        self.tag.setToolTip(told)
        self.tag.setVisible(isinstance(self.binding, Bound) and value is not None)
        self.line.setAccessibleDescription(f"{self.binding.unit}, {self.tag.text()}")
        help_ = getattr(self.binding, "help", "")
        self.line.setToolTip(help_[:1].upper() + help_[1:])
        self.line.update()

    # What is typed.

    def _entered(self) -> None:
        if not self._typed:
            self.line.setText(self._text(self.binding.value()))
            self.line.selectAll()

    def _text_edited(self) -> None:
        if not self._typed:
            self._typed, self._before = True, self.binding.value()
        if self.line.line == "wrong":
            self.line.line = "rest"
            self.sentence.clear()

    def _left(self) -> None:
        self.settle()
        if self._group is not None:
            self._group = None
            self.session.settle()
        if not self._typed:
            self.refresh()

    def settle(self) -> bool:
        """Keep what has been typed; whether nothing is left open."""
        return self.keep_typed() if self._typed else True

    def keep_typed(self) -> bool:
        """Keep what has been typed, or say what is wrong with it; whether it was kept."""
        if not self._typed:
            return True
        text = self.line.text()
        if not text.strip():
            return self._keep_nothing()
        try:
            value = read_figure(text, self.binding.unit, is_count=self.is_count)
        except QuantityError as error:
            return self._wrong(str(error))
        return self._keep(int(value) if self.is_count else value)

    def _keep_nothing(self) -> bool:
        if self.binding.shape.optional or isinstance(self.binding, Draft):
            return self._keep(None)
        return self._wrong("This figure cannot be left open. Esc brings the old one back.")

    def _keep(self, value: float | None) -> bool:
        if not self.offer(value):
            self.line.line = "wrong"
            self.line.update()
            return False
        self.let_go()
        return True

    def let_go(self) -> None:
        """Show what is kept."""
        self._typed = False
        self.refresh()
        self.line.selectAll()

    def _wrong(self, words: str) -> bool:
        self.line.line = "wrong"
        self.line.update()
        self.sentence.say(words)
        return False

    def restore(self) -> None:
        """Bring back what was there: what was typed goes, and what the arrows did."""
        self._typed = False
        self.sentence.clear()
        if self._group is not None:
            self.session.cancel(self._group)
            self._group = None
        self.refresh()
        self.line.selectAll()

    def nudge(self, steps: float) -> None:
        """Move the figure by its last digit at rest, so many times; one step of undo for a run."""
        if self._typed and not self.keep_typed():
            return
        value = self.binding.value()
        if isinstance(value, bool) or not isinstance(value, int | float):
            return
        if self._group is None:
            self._group = ("nudge", self.address, next(self._drags))
        moved = value + steps * step_of(self.binding.unit, is_count=self.is_count)
        moved = round(moved, 9)
        if self.offer(int(moved) if self.is_count else moved, group=self._group):
            self.refresh()
            self.line.selectAll()

    # Where it comes from.

    def toggle_source(self) -> None:
        """Open what decided the figure, or shut it."""
        if self.popup is not None:
            self.popup.shut()
            self.popup = None
            return
        if isinstance(self.binding, Bound):
            self.popup = SourcePopup(self.session, self.selection, self.look, self.binding, self)
            self.popup.closed.connect(self._popup_closed)
            self.body.addWidget(self.popup)
            self.popup.setFocus(Qt.FocusReason.OtherFocusReason)

    def _popup_closed(self) -> None:
        self.popup = None
        self.line.setFocus(Qt.FocusReason.OtherFocusReason)
