"""What the window remembers from one day to the next: looks, layout, files opened last."""

import os
import sys
from pathlib import Path
from typing import Any, Literal

import msgspec

from core.document.mesh_store import write_atomically

FOLDER_VARIABLE = "JIGPLATE_SETTINGS"
"""A folder named here is used instead of the usual one."""

LONGEST_RECENT = 8


class Layout(msgspec.Struct, frozen=True, kw_only=True):
    """Where the window was and how it was divided; nothing means: as fits the window's size.

    Attributes:
        place: left, top, width, height of the window, not maximised.
        maximised: whether it filled the screen.
        columns: widths of order of work, car, panel.
        rows: heights of car, with the curves below it, and travel strip.
        shows_curves: whether the curves stood between them.
        curves: their height as it was set by hand; 0 as fits the window.
    """

    place: tuple[int, int, int, int] | None = None
    maximised: bool = False
    columns: tuple[int, int, int] | None = None
    rows: tuple[int, int] | None = None
    shows_curves: bool = False
    curves: int = 0


class Remembered(msgspec.Struct, frozen=True, kw_only=True):
    """All that is remembered; a file that lacks some of it, or has more, is read all the same."""

    theme: Literal["light", "dark", "system"] = "system"
    scale: float = 1.0
    layout: Layout = Layout()
    recent: tuple[str, ...] = ()
    folder: str = ""
    welcomed: bool = False
    less_motion: bool = False


class Settings:
    """What is remembered, kept in one file in a folder of the user's own."""

    def __init__(self, folder: Path) -> None:
        """Read what is there; what cannot be read counts as nothing remembered."""
        self.folder = folder
        self.values = _read(self.file)

    @property
    def file(self) -> Path:
        """The file itself."""
        return self.folder / "settings.json"

    @property
    def log(self) -> Path:
        """The file that bugs and Qt's warnings are written to."""
        return self.folder / "jigplate.log"

    @property
    def recovery(self) -> Path:
        """The folder that unsaved work is kept in."""
        return self.folder / "recovery"

    def remember(self, **changes: Any) -> None:  # noqa: ANN401 - fields of `Remembered`
        """Change what is remembered and write it; a disk that refuses only costs the memory."""
        changed = msgspec.structs.replace(self.values, **changes)
        if changed == self.values:
            return
        self.values = changed
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            write_atomically(self.file, msgspec.json.format(msgspec.json.encode(changed)))
        except OSError:
            return

    def remember_file(self, path: Path) -> None:
        """Put a file first among those opened last."""
        name = str(path.resolve())
        others = tuple(old for old in self.values.recent if old != name)
        recent = (name, *others)[:LONGEST_RECENT]
        self.remember(recent=recent, folder=str(path.resolve().parent))


def usual_folder() -> Path:
    """The folder for settings on this system, or the one that the environment names."""
    named = os.environ.get(FOLDER_VARIABLE)
    if named:
        return Path(named)
    if sys.platform == "win32":
        return Path(os.environ.get("APPDATA", Path.home())) / "Jigplate"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "Jigplate"
    return Path(os.environ.get("XDG_CONFIG_HOME") or Path.home() / ".config") / "jigplate"


def _read(file: Path) -> Remembered:
    try:
        return msgspec.json.decode(file.read_bytes(), type=Remembered)
    except (OSError, msgspec.DecodeError, UnicodeDecodeError):
        return Remembered()
