"""Questions put to the builder: files, names, and what to do with unsaved work."""

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.look.look import Look
from app.look.style import button, dress, label
from app.table_ask import TableAsk, TableWish
from core.document.base import Ref
from core.document.codec import SUFFIX

Unsaved = Literal["save", "drop", "keep"]

CARS = f"Cars (*{SUFFIX})"
CURVES = "Comma-separated text (*.csv)"
PICTURES = "Picture in dots (*.png);;Picture in lines (*.svg)"
TABLES = "Spreadsheet (*.xlsx);;Comma-separated text (*.csv)"


class Asks:
    """Asks by dialogs; a test puts another in its place."""

    def __init__(self, look: Look, window: QWidget) -> None:
        """Ask over a window."""
        self._look = look
        self._window = window

    def open_file(self, folder: Path) -> Path | None:
        """A car to open; nothing if none is wanted."""
        name, _ = QFileDialog.getOpenFileName(self._window, "Open a car", str(folder), CARS)
        return Path(name) if name else None

    def save_file(self, suggested: Path) -> Path | None:
        """Where to save a car; nothing if it is not wanted."""
        name, _ = QFileDialog.getSaveFileName(self._window, "Save the car", str(suggested), CARS)
        return with_ending(Path(name), SUFFIX) if name else None

    def table_file(self, suggested: Path) -> Path | None:
        """Where to write the hardpoint table; nothing if it is not wanted."""
        return self._table_file("Export the hardpoint table", suggested)

    def donors_file(self, suggested: Path) -> Path | None:
        """Where to write a table of donors; nothing if it is not wanted."""
        return self._table_file("Write a table of the donors", suggested)

    def _table_file(self, title: str, suggested: Path) -> Path | None:
        name, kind = QFileDialog.getSaveFileName(self._window, title, str(suggested), TABLES)
        ending = ".csv" if "csv" in kind else ".xlsx"
        path = Path(name)
        if not name:
            return None
        return path if path.suffix.lower() in (".csv", ".xlsx") else with_ending(path, ending)

    def curves_file(self, suggested: Path) -> Path | None:
        """Where to write curves as a table; nothing if it is not wanted."""
        name, _ = QFileDialog.getSaveFileName(
            self._window, "Write the curves as a table", str(suggested), CURVES
        )
        return with_ending(Path(name), ".csv") if name else None

    def picture_file(self, suggested: Path) -> Path | None:
        """Where to write a picture; nothing if it is not wanted."""
        name, kind = QFileDialog.getSaveFileName(
            self._window, "Write the curves as a picture", str(suggested), PICTURES
        )
        ending, path = ".svg" if "svg" in kind else ".png", Path(name)
        if not name:
            return None
        return path if path.suffix.lower() in (".png", ".svg") else with_ending(path, ending)

    def table(self, datums: Sequence[tuple[str, Ref]]) -> TableWish | None:
        """From where a table is to measure, and in which unit; nothing if it is not wanted."""
        dialog = TableAsk(self._look, datums, self._window)
        done = dialog.exec()
        dialog.deleteLater()
        return dialog.wish() if done else None

    def unsaved(self, car: str) -> Unsaved:
        """What to do with work that no file holds."""
        dialog = Choice(
            self._look,
            f"{car} has unsaved work",
            "Save it first, or let it go? What you do not save cannot be brought back.",
            ("Keep working", "Don't save", "Save"),
            self._window,
        )
        answers: dict[str, Unsaved] = {"Save": "save", "Don't save": "drop"}
        return answers.get(dialog.ask(), "keep")

    def choose(self, title: str, words: str, answers: tuple[str, ...]) -> str:
        """One of some answers, each a sentence on its button; empty if none was given."""
        return Choice(self._look, title, words, answers, self._window).ask()

    def words(self, title: str, question: str, start: str = "") -> str | None:
        """A line of words; nothing if the question was turned down."""
        dialog = Line(self._look, title, question, start, self._window)
        return dialog.answer() if dialog.exec() else None


def with_ending(path: Path, ending: str) -> Path:
    """The path, ending so; what was typed stays in front of it."""
    has_it = path.suffix.lower() == ending
    return path if has_it else path.with_name(path.name + ending)


class Choice(QDialog):
    """A question with its answers on buttons; the last one is the usual answer."""

    def __init__(
        self, look: Look, title: str, words: str, answers: tuple[str, ...], parent: QWidget | None
    ) -> None:
        """Ask in words."""
        super().__init__(parent)
        self._answer = ""
        layout = _body(self, look, title, words)
        row = QHBoxLayout()
        row.addStretch(1)
        self.buttons: dict[str, QPushButton] = {}
        for answer in answers:
            made = button(answer, "filled" if answer == answers[-1] else "plain")
            made.clicked.connect(lambda _=False, answer=answer: self._take(answer))
            row.addWidget(made)
            self.buttons[answer] = made
        self.buttons[answers[-1]].setDefault(True)
        self.buttons[answers[-1]].setFocus(Qt.FocusReason.OtherFocusReason)
        layout.addLayout(row)

    def _take(self, answer: str) -> None:
        self._answer = answer
        self.accept()

    def ask(self) -> str:
        """The words on the button that was pressed; empty after Escape."""
        self.exec()
        self.deleteLater()
        return self._answer


class Line(QDialog):
    """A question that is answered by a line of words."""

    def __init__(
        self, look: Look, title: str, question: str, start: str, parent: QWidget | None
    ) -> None:
        """Ask, with a first answer to change."""
        super().__init__(parent)
        layout = _body(self, look, title, question)
        self.field = QLineEdit(start)
        self.field.selectAll()
        layout.addWidget(self.field)
        row = QHBoxLayout()
        row.addStretch(1)
        back = button("Leave it")
        back.clicked.connect(self.reject)
        keep = button("Keep", "filled")
        keep.setDefault(True)
        keep.clicked.connect(self.accept)
        row.addWidget(back)
        row.addWidget(keep)
        layout.addLayout(row)
        self.field.setFocus(Qt.FocusReason.OtherFocusReason)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)

    def answer(self) -> str:
        """What was typed."""
        self.deleteLater()
        return self.field.text().strip()


def _body(dialog: QDialog, look: Look, title: str, words: str) -> QVBoxLayout:
    dialog.setWindowTitle(title)
    dialog.setModal(True)
    dress(dialog, look)
    layout = QVBoxLayout(dialog)
    layout.setContentsMargins(*(look.px(n) for n in (22, 16, 22, 16)))
    layout.setSpacing(look.px(12))
    layout.addWidget(label(title, "title"))
    layout.addWidget(label(words, "lead"))
    dialog.setMinimumWidth(look.px(420))
    return layout
