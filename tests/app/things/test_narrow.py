"""Words where there is little room: they go on below, or end in three dots and tell all."""

from PySide6.QtCore import QEvent, QPoint
from PySide6.QtGui import QHelpEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QToolTip, QVBoxLayout, QWidget

from app.look.look import Look
from app.widgets.elided import ElidedLabel
from app.widgets.flow import Flow
from app.widgets.words_line import WordsLine
from tests.app.things.conftest import Show

LONG = "PU-4T transverse four-cylinder with end-on five-speed gearbox"


class Bar(QWidget):
    """Three words at the left, two at the right."""

    def __init__(self) -> None:
        super().__init__()
        self.flow = Flow()
        self.words = [QLabel(word) for word in ("plan", "side", "front", "frame", "engine")]
        for number, word in enumerate(self.words):
            if number == 3:
                self.flow.begin_second()
            word.setFixedSize(60, 20)
            self.flow.addWidget(word)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(self.flow)
        column.addStretch(1)


def tooltip_of(widget: QWidget) -> str:
    QToolTip.hideText()
    QApplication.processEvents()
    place = QPoint(4, 4)
    event = QHelpEvent(QEvent.Type.ToolTip, place, widget.mapToGlobal(place))
    QApplication.sendEvent(widget, event)
    return QToolTip.text()


def test_words_stand_at_both_ends_of_one_row_where_there_is_room(show: Show) -> None:
    bar = Bar()
    show(bar, 400, 200)

    assert {word.y() for word in bar.words} == {bar.words[0].y()}
    assert bar.words[2].geometry().right() == 179
    assert bar.words[4].geometry().right() == 399


def test_each_end_gets_rows_of_its_own_where_there_is_none(show: Show) -> None:
    bar = Bar()
    show(bar, 200, 200)

    assert [word.y() // 20 for word in bar.words] == [0, 0, 0, 1, 1]
    bar.resize(130, 200)
    QTest.qWait(10)

    assert [word.y() // 20 for word in bar.words] == [0, 0, 1, 2, 2]
    boxes = [word.geometry() for word in bar.words]
    assert not any(a.intersects(b) for a in boxes for b in boxes if a is not b)
    assert bar.flow.heightForWidth(130) == 60


def test_a_label_that_is_cut_short_tells_all_of_it(show: Show) -> None:
    label = ElidedLabel(LONG)
    show(label, 120, 30)
    assert label.minimumSizeHint().width() < 120

    assert label.is_cut_short()
    assert tooltip_of(label) == LONG
    label.resize(900, 30)
    assert not label.is_cut_short()


def test_a_line_of_words_that_is_cut_short_shows_dots_at_rest_and_all_when_typed_in(
    show: Show, look: Look
) -> None:
    line, other = WordsLine(look), WordsLine(look)
    both = QWidget()
    column = QVBoxLayout(both)
    column.addWidget(line)
    column.addWidget(other)
    show(both, 160, 90)
    line.setText(LONG)
    other.setFocus()
    QTest.qWait(10)
    at_rest = line.grab().toImage()

    assert line.is_cut_short()
    assert tooltip_of(line) == LONG
    line.setFocus()
    line.setCursorPosition(0)
    QTest.qWait(10)
    assert line.grab().toImage() != at_rest
    line.setText("short")
    assert not line.is_cut_short()
