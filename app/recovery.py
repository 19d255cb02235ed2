"""Unsaved work kept aside while it is being done, and offered again after a bad end."""

import shutil
import uuid
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

import msgspec
from PySide6.QtCore import QLockFile, QObject, QTimer, Slot

from app.session import Session
from core.document.codec import SUFFIX, write_project
from core.document.errors import JigplateError
from core.document.mesh_store import MeshStore
from core.document.project import Project

EVERY_MS = 60_000


class _About(msgspec.Struct, frozen=True, kw_only=True):
    """What a kept copy is a copy of."""

    name: str
    path: str | None
    when: str


class Kept(NamedTuple):
    """Work that an earlier run of the program left unsaved.

    Attributes:
        folder: where it is kept.
        file: the copy.
        name: what the car is called.
        path: the file it was opened from or saved to, if there was one.
        when: when the copy was made, in the words of the clock on the wall.
    """

    folder: Path
    file: Path
    name: str
    path: Path | None
    when: str


class Keeper(QObject):
    """Keeps a copy of unsaved work, every minute of changes and whenever it is asked to."""

    def __init__(
        self,
        session: Session,
        folder: Path,
        parent: QObject | None = None,
        every_ms: int = EVERY_MS,
    ) -> None:
        """Watch a session; copies go below `folder`, in a folder of this run's own."""
        super().__init__(parent)
        self._session = session
        self._folder = folder / uuid.uuid4().hex
        self._lock: QLockFile | None = None
        self._kept: Project | None = None
        self.recovered = False
        """Whether the open work came from such a copy, and no file holds it yet."""
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(every_ms)
        self._timer.timeout.connect(self._on_time)
        session.changed.connect(self._on_change)

    @property
    def file(self) -> Path:
        """Where the copy is, or would be."""
        return self._folder / f"car{SUFFIX}"

    @property
    def has_unsaved(self) -> bool:
        """Whether closing now would lose work."""
        return self.recovered or self._session.is_changed

    @Slot(object, object)
    def _on_change(self, _before: object, _after: object) -> None:
        if self.has_unsaved and not self._timer.isActive():
            self._timer.start()

    @Slot()
    def _on_time(self) -> None:
        try:
            self.keep()
        except (OSError, JigplateError):
            self._timer.start()  # perhaps the disk has room again by then

    def keep(self) -> Path | None:
        """Where unsaved work is now kept; nothing if there is none.

        Raises:
            OSError: the folder or the disk refuses.
            FileRefusedError: the car contradicts itself, so that no file could hold it.
        """
        if not self.has_unsaved:
            return None
        project = self._session.history.present
        if project is not self._kept or not self.file.exists():
            self._write(project)
        return self.file

    def _write(self, project: Project) -> None:
        self._folder.mkdir(parents=True, exist_ok=True)
        self._own()
        store = MeshStore.beside(self.file)
        for data in self._session.meshes.values():
            store.add(data)
        write_project(project, self.file)
        about = _About(name=car_name(project), path=_text(self._session.path), when=_now())
        (self._folder / "about.json").write_bytes(msgspec.json.encode(about))
        self._kept = project

    def _own(self) -> None:
        if self._lock is None:
            self._lock = QLockFile(str(self._folder / "lock"))
            self._lock.setStaleLockTime(0)
            self._lock.tryLock(0)

    def take_up(self, kept: Kept) -> None:
        """Open work that an earlier run left, and keep it where it is until it is saved.

        Raises:
            FileRefusedError: it cannot be read; it stays where it is, and so does what was open.
        """
        self._session.open(kept.file, as_copy=True)
        self._folder, self._lock = kept.folder, None
        self._own()
        self.recovered = True
        self._kept = self._session.history.present

    def saved(self) -> None:
        """The work is in a file of its own: drop the copy."""
        self.recovered = False
        self.drop()

    def drop(self) -> None:
        """Throw the copy away, for it is saved or not wanted."""
        self.let_go()
        self._kept = None
        shutil.rmtree(self._folder, ignore_errors=True)

    def close(self) -> None:
        """Stop watching; what is kept stays."""
        self._timer.stop()

    def let_go(self) -> None:
        """Leave what is kept to the next run of the program, as its end would."""
        self.close()
        if self._lock is not None:
            self._lock.unlock()
            self._lock = None


def left_behind(folder: Path) -> list[Kept]:
    """Copies that no running program owns, newest first."""
    found = [kept for place in _places(folder) if (kept := _orphan(place)) is not None]
    return sorted(found, key=lambda kept: kept.when, reverse=True)


def discard(kept: Kept) -> None:
    """Throw a copy away for good."""
    shutil.rmtree(kept.folder, ignore_errors=True)


def _places(folder: Path) -> Iterator[Path]:
    try:
        yield from sorted(folder.iterdir())
    except OSError:
        return


def _orphan(place: Path) -> Kept | None:
    file = place / f"car{SUFFIX}"
    if not file.is_file():
        return None
    lock = QLockFile(str(place / "lock"))
    lock.setStaleLockTime(0)
    if not lock.tryLock(0):
        return None
    lock.unlock()
    try:
        about = msgspec.json.decode((place / "about.json").read_bytes(), type=_About)
    except (OSError, msgspec.DecodeError):
        about = _About(name="a car", path=None, when="")
    return Kept(place, file, about.name, Path(about.path) if about.path else None, about.when)


def car_name(project: Project) -> str:
    """What the car of a project is called."""
    cars = project.drawn.cars
    return cars[0].name if cars else "Unnamed car"


def _text(path: Path | None) -> str | None:
    return None if path is None else str(path)


def _now() -> str:
    return datetime.now().astimezone().isoformat(sep=" ", timespec="minutes")[:16]
