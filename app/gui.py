"""Starting the window."""

import os
import sys
from pathlib import Path

from PySide6.QtCore import QObject, QRectF, Qt
from PySide6.QtGui import QPainter, QPixmap, QSessionManager
from PySide6.QtWidgets import QApplication, QSplashScreen

from app.collector import Collector
from app.look.look import Look
from app.look.program_mark import paint_program_mark, program_icon
from app.look.style import palette
from app.settings import Settings, usual_folder

NO_DISPLAY = 2
INTERRUPTED = 130  # 128 and the number of SIGINT, as shells tell it


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


class _Everywhere(QObject):
    """Keeps the palette of the whole program in step, for what is no child of the window."""

    def __init__(self, program: QApplication, look: Look) -> None:
        super().__init__(look)
        self._program, self._look = program, look
        look.changed.connect(self.follow)
        self.follow()

    def follow(self) -> None:
        """Take on the colours in force."""
        self._program.setPalette(palette(self._look))


def _show(program: QApplication, settings: Settings, path: Path | None) -> int:
    look = Look(settings.values.theme, settings.values.scale)
    splash = _splash(look)
    splash.show()
    program.processEvents()
    # What draws takes a second or more to import, so only a window pays for it.
    from app.crash import Crash, Log  # noqa: PLC0415
    from app.selection import Selection  # noqa: PLC0415
    from app.session import Session  # noqa: PLC0415
    from app.window import MainWindow  # noqa: PLC0415

    window = MainWindow(Session(), Selection(), look, settings)
    crash = Crash(Log(settings.log), window.keeper.keep)
    _Everywhere(program, look)
    window.watch(crash)

    def end_of_day(_manager: QSessionManager) -> None:
        window.keeper.keep()

    def interrupted() -> None:
        window.leave_at_once()
        program.exit(INTERRUPTED)

    program.commitDataRequest.connect(end_of_day)
    crash.interrupted.connect(interrupted)
    crash.install()
    try:
        window.show()
        splash.finish(window)
        window.begin(path)
        return program.exec()
    finally:
        crash.remove()


def _splash(look: Look) -> QSplashScreen:
    """The program's mark, while what draws is being loaded."""
    width, height = look.px(320), look.px(120)
    picture = QPixmap(width, height)
    picture.fill(look.colour("page"))
    painter = QPainter(picture)
    mark = QRectF(look.px(28), look.px(36), look.px(48), look.px(48))
    paint_program_mark(painter, mark, look.colour("ink"), look.colour("page"))
    painter.setPen(look.colour("ink"))
    painter.setFont(look.font("car"))
    painter.drawText(
        QRectF(look.px(96), 0, width, height), Qt.AlignmentFlag.AlignVCenter, "Jigplate"
    )
    painter.end()
    return QSplashScreen(picture)
