"""The top line: mark, menus of words, unsaved work, the gauges, finding, undo and redo."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Slot
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QMenu,
    QMenuBar,
    QSizePolicy,
    QToolButton,
    QWidget,
)

from app.look import icons
from app.look.icons import IconName
from app.look.look import Look
from app.look.program_mark import paint_program_mark
from app.look.style import button, label
from app.menus import Bound

HEIGHT = 44
FOLD_BELOW = 1500
"""Narrower than this, at scale 1, the menus fold behind one sign."""


class TopLine(QFrame):
    """Always there; `gauges` is given to it."""

    def __init__(
        self, look: Look, bound: Bound, gauges: QWidget, find: Callable[[], None], parent: QWidget
    ) -> None:
        """Put the line together."""
        super().__init__(parent)
        self._look = look
        self.setProperty("ground", "page")
        self._unsaved = label("", "small", "ink2")
        self._unsaved.setWordWrap(False)
        self._menus = bound.menus(self)
        self.bar = _bar(self._menus)
        self.folded = _sign_button("menu", "Menus")
        self.folded.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.folded.setMenu(_folded(self._menus, self))
        self.undo = _sign_button("undo", "Undo")
        self.undo.setDefaultAction(bound["undo"])
        self.redo = _sign_button("redo", "Redo")
        self.redo.setDefaultAction(bound["redo"])
        self.finder = button("Find    Ctrl K", "word")
        self.finder.setAccessibleName("Find anything")
        self.finder.setToolTip("Find anything")
        self.finder.clicked.connect(lambda _=False: find())
        self._lay_out(gauges)
        look.changed.connect(self._refit)
        self._refit()

    def _lay_out(self, gauges: QWidget) -> None:
        line = QHBoxLayout(self)
        line.setContentsMargins(14, 0, 10, 0)
        line.setSpacing(6)
        line.addWidget(_Mark(self._look))
        line.addSpacing(4)
        line.addWidget(self.folded)
        line.addWidget(self.bar)
        line.addWidget(self._unsaved)
        line.addSpacing(8)
        line.addWidget(gauges, 1)
        line.addSpacing(8)
        for widget in (self.finder, self.undo, self.redo):
            line.addWidget(widget)

    def show_unsaved(self, words: str) -> None:
        """Show that there is unsaved work; nothing when there is none."""
        self._unsaved.setText(words)
        self._unsaved.setVisible(bool(words))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold the menus when the line gets short."""
        super().resizeEvent(event)
        self._fold()

    def _fold(self) -> None:
        is_short = self.width() < FOLD_BELOW * self._look.scale
        self.bar.setVisible(not is_short)
        self.folded.setVisible(is_short)

    @Slot()
    def _refit(self) -> None:
        self.setFixedHeight(self._look.px(HEIGHT))
        for made in (self.folded, self.undo, self.redo):
            made.setIconSize(QSize(self._look.px(20), self._look.px(20)))
        self.folded.setIcon(icons.icon(self._look, "menu"))
        self.undo.defaultAction().setIcon(icons.icon(self._look, "undo"))
        self.redo.defaultAction().setIcon(icons.icon(self._look, "redo"))
        self.finder.setIconSize(QSize(self._look.px(16), self._look.px(16)))
        self.finder.setIcon(icons.icon(self._look, "find", "ink2"))
        self._fold()


def _bar(menus: Sequence[QMenu]) -> QMenuBar:
    bar = QMenuBar()
    bar.setNativeMenuBar(False)
    bar.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
    for menu in menus:
        bar.addMenu(menu)
    return bar


def _folded(menus: Sequence[QMenu], parent: QWidget) -> QMenu:
    made = QMenu(parent)
    made.setProperty("role", "body")
    for menu in menus:
        made.addMenu(menu)
    return made


def _sign_button(name: IconName, words: str) -> QToolButton:
    made = QToolButton()
    made.setObjectName(f"sign_{name}")
    made.setAutoRaise(True)
    made.setToolTip(words)
    made.setAccessibleName(words)
    made.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonIconOnly)
    made.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    return made


class _Mark(QWidget):
    """The program's mark."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self.setAccessibleName("Jigplate")
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """As high as the line allows."""
        return QSize(self._look.px(24), self._look.px(24))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw it in ink on the page."""
        painter = QPainter(self)
        look = self._look
        box = QRectF(self.rect())
        paint_program_mark(painter, box, look.colour("ink"), look.colour("page"))
        painter.end()
