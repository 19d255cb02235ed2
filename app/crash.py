"""Bugs: the work is kept aside first, then written to the log, then told once."""

import faulthandler
import platform
import sys
import traceback
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import TextIO

from PySide6.QtCore import (
    QMessageLogContext,
    QObject,
    Qt,
    QtMsgType,
    Signal,
    Slot,
    qInstallMessageHandler,
    qVersion,
)
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog, QHBoxLayout, QPlainTextEdit, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import button, dress, label

LARGEST_LOG = 1_000_000


class Log:
    """A file that words are added to; when it gets large it is begun anew, the old one kept."""

    def __init__(self, file: Path) -> None:
        """Write to `file`; a folder that cannot be made only costs the log."""
        self.file = file
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            if file.exists() and file.stat().st_size > LARGEST_LOG:
                file.replace(file.with_suffix(".old.log"))
        except OSError:
            return

    def write(self, words: str) -> None:
        """Add words with the time before them."""
        when = datetime.now().astimezone().isoformat(sep=" ", timespec="seconds")
        try:
            with self.file.open("a", encoding="utf-8") as stream:
                stream.write(f"{when}  {words}\n")
        except OSError:
            return


class Crash(QObject):
    """Catches what nobody else has caught.

    Every bug is logged, and work is kept aside each time; the report is shown for the first one
    alone, for a bug in painting comes fifty times a second.
    """

    reported = Signal(str, object)
    """What went wrong, as Python tells it, and where the work was kept (or nothing)."""

    interrupted = Signal()
    """Somebody pressed Ctrl+C in the terminal."""

    def __init__(
        self, log: Log, keep_aside: Callable[[], Path | None], parent: QObject | None = None
    ) -> None:
        """Use a log, and a way to keep unsaved work aside."""
        super().__init__(parent)
        self._log = log
        self._keep_aside = keep_aside
        self._told = False
        self._hook = sys.excepthook
        self._faults: TextIO | None = None

    def install(self) -> None:
        """Catch from now on; Qt's own warnings go to the log too."""
        sys.excepthook = self.caught
        qInstallMessageHandler(self._qt_says)
        try:
            self._faults = self._log.file.with_suffix(".faults.log").open("w", encoding="utf-8")
            faulthandler.enable(self._faults)
        except OSError:
            self._faults = None

    def remove(self) -> None:
        """Leave things as they were."""
        sys.excepthook = self._hook
        qInstallMessageHandler(None)
        if self._faults is not None:
            faulthandler.disable()
            self._faults.close()

    def caught(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        """Take in an exception that reached the top."""
        if issubclass(kind, KeyboardInterrupt):
            self.interrupted.emit()
            return
        self.take(error.with_traceback(trace))

    def take(self, error: BaseException) -> None:
        """Keep work aside, log, and report the first time."""
        kept: Path | None = None
        words = "".join(traceback.format_exception(error))
        try:
            kept = self._keep_aside()
        except Exception as second:  # noqa: BLE001 - whatever it is, the first bug must be told
            words += "\nKeeping the work aside failed as well:\n"
            words += "".join(traceback.format_exception(second))
        self._log.write(words)
        if not self._told:
            self._told = True
            self.reported.emit(words, kept)

    def told_again(self) -> None:
        """Report the next bug too."""
        self._told = False

    def _qt_says(self, kind: QtMsgType, _context: QMessageLogContext, words: str) -> None:
        if kind is not QtMsgType.QtDebugMsg:
            self._log.write(f"Qt ({kind.name.removeprefix('Qt').removesuffix('Msg')}): {words}")


class CrashReport(QDialog):
    """Tells of a bug: what it means for the work, and what to send to whoever mends it."""

    def __init__(
        self, look: Look, words: str, kept: Path | None, parent: QWidget | None = None
    ) -> None:
        """Show what went wrong and where the work is."""
        super().__init__(parent)
        self.setWindowTitle("Something went wrong inside the program")
        self.setModal(True)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dress(self, look)
        self.wants_to_close = False
        self.details = details(words)
        text = QPlainTextEdit(self.details)
        text.setReadOnly(True)
        text.setMinimumSize(look.px(560), look.px(180))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(*(look.px(n) for n in (22, 16, 22, 16)))
        layout.setSpacing(look.px(10))
        layout.addWidget(label("Something went wrong inside the program", "title"))
        layout.addWidget(label(_about_work(kept), "lead"))
        layout.addWidget(text)
        layout.addLayout(self._buttons())

    def _buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        copy = button("Copy the details")
        copy.clicked.connect(self._copy)
        self.leave = button("Close the program")
        self.leave.clicked.connect(self._leave)
        stay = button("Keep working", "filled")
        stay.clicked.connect(self.accept)
        row.addWidget(copy)
        row.addStretch(1)
        row.addWidget(self.leave)
        row.addWidget(stay)
        return row

    @Slot()
    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.details)

    @Slot()
    def _leave(self) -> None:
        self.wants_to_close = True
        self.accept()


def _about_work(kept: Path | None) -> str:
    if kept is None:
        return (
            "This is a fault of the program, not of your car. Nothing was unsaved. "
            "Keep an eye on what you see from here on; starting anew is better."
        )
    return (
        f"This is a fault of the program, not of your car. Your unsaved work is kept in {kept} and "
        "is offered again at the next start. Save it under a new name, then start anew."
    )


def details(words: str) -> str:
    """What to send to whoever mends it: versions and what Python said; nothing about the car."""
    system = f"{platform.system()} {platform.release()}"
    return f"Python {platform.python_version()}, Qt {qVersion()}, {system}\n\n{words}"
