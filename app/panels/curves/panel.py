"""The dock of curves: one axle over travel or steer, read where the travel strip stands."""

from typing import NamedTuple

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.asks import Asks
from app.look.look import Look
from app.look.style import label, set_property
from app.look.tokens import ColourName
from app.panels.curves.before import Before
from app.panels.curves.figures import OF_SPRING, offered, told, usual
from app.panels.curves.files import CurveFiles
from app.panels.curves.head import Head
from app.panels.curves.plots import Plots
from app.pose import Pose
from app.selection import Selection
from app.session import Session, State
from app.widgets.asking import ask
from app.widgets.following import Following
from app.widgets.rows import say
from app.widgets.word_button import word_button
from core.assess.axle_curves import SIDES, AxleCurves, Extra, curves_of_axle
from core.assess.curves import Along
from core.document.project import Document
from core.engine.cells import NotComputedError
from core.scene.posed import PosedCorner
from core.study.order import Order

ENTER = (
    "Enter the axle and its two corners: links, upright, wheel, and how far they bump and droop. "
    "Camber, toe-in and the rest over travel follow from them."
)
NOT_STEERED = "Nothing steers the {end} wheels, so there is nothing to draw over steer."
HEIGHT = 240.0


class Asked(NamedTuple):
    """Which curves are worked out."""

    end: str
    along: Along
    extra: Extra


class CurvesPanel(Following):
    """Curves of both corners of an axle, side by side, at one cursor with the travel strip."""

    closed = Signal()
    """It was asked to be put away."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the curves of the session's car, of the axle that the step in front is about."""
        super().__init__(session, parent)
        self._selection, self._look = selection, look
        self.files = CurveFiles(session, Asks(look, self), self._say)
        self.pose = Pose.of(selection)
        self.along: Along = "travel"
        self._picked: str | None = None
        self.axle: AxleCurves | None = None
        self._offered: tuple[Along, tuple[str, ...]] | None = None
        self._chosen: dict[Along, tuple[str, ...]] = {}
        self._last: tuple[Document, Asked, AxleCurves] | None = None
        self._before = Before(session, self)
        self._before_axle: tuple[State, Asked, AxleCurves | None] | None = None
        self._build()
        self._before.gone.connect(self._refresh_now)
        self.pose.changed.connect(self._point)
        selection.step_changed.connect(self._to_step)

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 1, 0, 0)
        column.setSpacing(0)
        self.head = Head(self._look)
        self.note = label("", "small", "ink2")
        self.said = label("", "small", "ink2")
        self.empty, self.empty_words = QWidget(), label("", "body", "ink2")
        self.enter = word_button("Enter a corner")
        inside = self._inside = QVBoxLayout(self.empty)
        inside.addWidget(self.empty_words)
        inside.addWidget(self.enter, 0, Qt.AlignmentFlag.AlignLeft)
        inside.addStretch(1)
        self.plots = Plots(self._look)
        for widget in (self.head, self.note, self.said):
            column.addWidget(widget)
        column.addWidget(self.plots, 1)
        column.addWidget(self.empty, 1)
        self.note.hide()
        self.said.hide()
        self._connect()
        self._look.changed.connect(self._refit)
        self._refit()

    def _connect(self) -> None:
        head = self.head
        head.ends.chosen.connect(self.show_end)
        head.along.chosen.connect(self.show_along)
        head.choices.chosen.connect(self._choose)
        head.table.clicked.connect(lambda: self.files.write_table(self.end))
        head.picture.clicked.connect(self._write_picture)
        head.shut.clicked.connect(self.closed)
        self.plots.cursor_moved.connect(self._moved)
        self.enter.clicked.connect(self._enter)

    def _refit(self) -> None:
        px = self._look.px
        for words in (self.note, self.said):
            words.setContentsMargins(px(14), 0, px(14), 0)
        self._inside.setContentsMargins(px(14), px(8), px(14), px(8))
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        """As high as the dock usually is."""
        return QSize(self._look.px(600), self._look.px(HEIGHT))

    def heightForWidth(self, width: int) -> int:
        """As much as the head and whole plots need."""
        notes = sum(words.height() for words in (self.note, self.said) if words.isVisible())
        return self.head.heightForWidth(width) + notes + self.plots.wanted_height + 1

    # --- what is shown --------------------------------------------------------------------------

    @property
    def end(self) -> str:
        """The end of the car whose axle is drawn: what was picked, else what the step is about."""
        document, step = self._session.state.document, self._selection.step
        return self._picked or _end_of(document, step) or Order(document).driven_end

    def show_end(self, end: str) -> None:
        """Draw the axle of an end until another step comes to the front."""
        self._picked = end
        self._refresh_now()

    def show_along(self, along: Along) -> None:
        """Draw over travel or over steer."""
        self.along = along
        self._refresh_now()

    def _to_step(self) -> None:
        if _end_of(self._session.state.document, self._selection.step) is not None:
            self._picked = None
        self._refresh_now()

    def _choose(self, keys: tuple[str, ...]) -> None:
        self._chosen[self.along] = keys
        self._refresh_now()

    def _follow(self, before: State, after: State) -> None:
        if not self._session.history.can_undo and before.document is not after.document:
            self._picked = None  # perhaps another car
        self._before.follow(before, after)
        super()._follow(before, after)

    def _refresh_now(self) -> None:
        if self.isVisible():
            self.refresh(self._session.state)
        else:
            self._waits = True

    def refresh(self, state: State) -> None:
        """Show how things are now."""
        self.head.ends.show_chosen(self.end)
        self.head.along.show_chosen(self.along)
        try:
            self.axle = self._curves(state)
        except NotComputedError as error:
            self._tell_empty(state, f"Don't know, because {error}. {ENTER}")
            return
        if self.along == "steer" and not self.axle.is_steered:
            self._tell_empty(state, NOT_STEERED.format(end=self.end))
            return
        self._tell(self.axle)

    @property
    def _asked(self) -> Asked:
        """What is to be worked out for what is drawn: springs take long, and only if chosen."""
        keys = self._chosen.get(self.along, ())
        wants_springs = self.along == "travel" and bool(set(keys) & set(OF_SPRING))
        return Asked(self.end, self.along, "springs" if wants_springs else "")

    def _curves(self, state: State) -> AxleCurves:
        """The curves in front; asked once for a car."""
        asked, last = self._asked, self._last
        if last is None or last[0] is not state.document or last[1] != asked:
            last = self._last = (state.document, asked, ask(state, curves_of_axle, *asked))
        return last[2]

    def _curves_before(self) -> AxleCurves | None:
        state, asked, known = self._before.state, self._asked, self._before_axle
        if state is None:
            self._before_axle = None
            return None
        if known is None or known[0] is not state or known[1] != asked:
            try:
                found = ask(state, curves_of_axle, *asked)
            except NotComputedError:
                found = None
            known = self._before_axle = (state, asked, found)
        return known[2]

    def _tell_empty(self, state: State, words: str) -> None:
        self.axle = None
        say(self.empty_words, words)
        has_axle = any(axle.end == self.end for axle in state.document.axles)
        self.enter.setText("Enter a corner" if has_axle else "Enter an axle")
        self.enter.setVisible(words != NOT_STEERED.format(end=self.end))
        self._show_plots(on=False)

    def _enter(self) -> None:
        has_axle = any(axle.end == self.end for axle in self._session.state.document.axles)
        self._selection.make_wanted.emit("corners" if has_axle else "axles")

    def _show_plots(self, *, on: bool) -> None:
        self.plots.setVisible(on)
        self.empty.setVisible(not on)
        for word in (self.head.figures, self.head.table, self.head.picture):
            word.setVisible(on)
        if not on:
            self.note.hide()

    def _tell(self, axle: AxleCurves) -> None:
        keys = self._chosen.get(self.along) or usual(axle, self.along)
        if self._offered != (self.along, keys) and not self.head.choices.isVisible():
            self._offered = (self.along, keys)
            self.head.choices.offer(offered(self.along), keys)
        self.plots.tell(axle, self._curves_before(), self.along, keys)
        half = told(axle) if axle.curves and axle.why else ""
        say(self.note, f"Don't know one side, because {half}." if half else "")
        self.note.setVisible(bool(half))
        self._show_plots(on=True)
        self._point()

    # --- the cursor -----------------------------------------------------------------------------

    def _point(self) -> None:
        """Read the curves where the travel strip stands."""
        if self.axle is None or not self.isVisible():
            return
        if self.along == "steer":
            self.plots.set_cursor(_held(self.pose.rack, self.axle.stops))
        elif self.pose.has_wheels_at_design:
            self.plots.set_cursor(0.0)
        else:
            self.plots.set_cursor(*self._rises(self.axle))

    def _rises(self, axle: AxleCurves) -> tuple[float, float]:
        """How far the left and the right wheel stand up, mm."""
        posed = {
            each.standing.corner: each.standing.rise
            for each in self.pose.car(self._session.state).corners
            if isinstance(each, PosedCorner)
        }
        usual_rise = _held(self.pose.bump, axle.stops)
        left, right = (posed.get(axle.corners[side], usual_rise) for side in SIDES)
        return left, right

    def _moved(self, along: float) -> None:
        if self.along == "steer":
            self.pose.set_wheels(rack=along)
        else:
            self.pose.set_wheels(bump=along)

    def _write_picture(self) -> None:
        if self.plots.row is not None:
            self.files.write_picture(self.plots.row, self.end, self.along)

    def _say(self, words: str, ink: ColourName) -> None:
        """Say how it went, below the head."""
        say(self.said, words)
        set_property(self.said, "ink", ink)
        self.said.setVisible(bool(words))

    # --- Qt -------------------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape puts the curves away, where nothing inside had a use for the key."""
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
            event.accept()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Lay the ground, and the line to the car."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.colour("panel"))
        painter.setPen(QPen(self._look.colour("rule"), 1))
        painter.drawLine(0, 0, self.width(), 0)
        painter.end()


def _end_of(document: Document, step: str) -> str | None:
    """The end of the car that a step is about; none where it is about none."""
    driven = Order(document).driven_end
    other = "front" if driven == "rear" else "rear"
    return {"rear": driven, "front": other}.get(step)


def _held(value: float, stops: tuple[float | None, float | None]) -> float:
    """A place along, as far as the stops let it."""
    low, high = stops
    held = value if high is None else min(value, high)
    return held if low is None else max(held, low)
