"""The menu of the files that were opened last."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QMenu, QWidget

from app.settings import Settings

NONE = "None yet"


class RecentFiles(QMenu):
    """Made anew each time it opens: the files opened last, the newest first."""

    def __init__(
        self, settings: Settings, open_path: Callable[[Path], object], parent: QWidget
    ) -> None:
        """Offer what the settings remember."""
        super().__init__("Opened last", parent)
        self._settings, self._open = settings, open_path
        self.setToolTipsVisible(True)
        self.setProperty("role", "body")
        self.aboutToShow.connect(self.fill)
        self.fill()

    def fill(self) -> None:
        """Offer the files as they are remembered now; one that is gone cannot be chosen."""
        self.clear()
        for name in self._settings.values.recent:
            path = Path(name)
            is_there = path.is_file()
            words = path.name if is_there else f"{path.name}: not there any more"
            made = self.addAction(words.replace("&", "&&"))
            made.setToolTip(name)
            made.setEnabled(is_there)
            made.triggered.connect(partial(self._choose, path))
        if self.isEmpty():
            self.addAction(NONE).setEnabled(False)

    def _choose(self, path: Path, _checked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self._open(path)
