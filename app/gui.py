"""Starting the window."""

import os
import sys
from pathlib import Path

from PySide6.QtGui import QSessionManager
from PySide6.QtWidgets import QApplication

from app.collector import Collector
from app.look.look import Look
from app.look.program_mark import program_icon
from app.settings import Settings, usual_folder

NO_DISPLAY = 2


def run(path: Path | None = None, settings_folder: Path | None = None) -> int:
    """Show the window until it is closed; the exit code of the program.

    Args:
        path: a file to open; without one the ways to begin are shown.
        settings_folder: where settings, log and unsaved work go; the usual place without one.
    """
    os.environ.setdefault("QT_API", "pyside6")
    if not has_display():
        sys.stderr.write(f"{NO_DISPLAY_WORDS}\n")
        return NO_DISPLAY
    program = application()
    settings = Settings(settings_folder or usual_folder())
    collector = Collector()
    try:
        return _show(program, settings, path)
    finally:
        collector.close()


NO_DISPLAY_WORDS = (
    "There is no screen to open a window on; without one, use the commands: "
    "jigplate check FILE, jigplate assess FILE, jigplate export hardpoints FILE TABLE, "
    "jigplate why FILE ADDRESS."
)


def has_display() -> bool:
    """Whether Qt has a screen to draw on; on Linux only the environment tells without trying."""
    if sys.platform in ("win32", "darwin") or os.environ.get("QT_QPA_PLATFORM"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def application() -> QApplication:
    """The one QApplication, named and styled."""
    program = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(program, QApplication)
    program.setApplicationName("Jigplate")
    program.setApplicationDisplayName("Jigplate")
    program.setStyle("Fusion")
    program.setWindowIcon(program_icon())
    return program


def _show(program: QApplication, settings: Settings, path: Path | None) -> int:
    # What draws takes a second or more to import, so only a window pays for it.
    from app.crash import Crash, Log  # noqa: PLC0415
    from app.selection import Selection  # noqa: PLC0415
    from app.session import Session  # noqa: PLC0415
    from app.window import MainWindow  # noqa: PLC0415

    look = Look(settings.values.theme, settings.values.scale)
    window = MainWindow(Session(), Selection(), look, settings)
    crash = Crash(Log(settings.log), window.keeper.keep)
    crash.install()
    window.watch(crash)

    def end_of_day(_manager: QSessionManager) -> None:
        window.keeper.keep()

    program.commitDataRequest.connect(end_of_day)
    try:
        window.show()
        window.begin(path)
        return program.exec()
    finally:
        crash.remove()
