"""Opening, saving and exporting: what is asked, what is done, and how it is told."""

from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from app.asks import Asks
from app.cli.car import Loaded
from app.notices import Notices, WayOn
from app.recovery import Keeper, Kept, car_name, discard
from app.session import Session
from app.settings import Settings
from app.table_ask import TableWish
from core.document.codec import SUFFIX
from core.document.errors import JigplateError
from core.document.lookup import Lookup, sides
from core.document.mesh_store import MeshStore
from core.engine.assess import compute
from core.workshop.datums import measured_from
from core.workshop.files import TableFileError, write_table
from core.workshop.hardpoint_table import Head, hardpoint_table
from core.workshop.hardpoints import Hardpoint, hardpoints
from core.workshop.table import Table, TableError

DEMO = Path(__file__).resolve().parents[1] / "assets" / "demo-car.jigplate"
FROM_THE_CAR = TableWish()
"""A table as it is wanted unless something else is said."""


class FileWork(QObject):
    """The file work of one window.

    Every job returns whether it was done. What could not be done is told in words, and what was
    open stays open.
    """

    opened = Signal()
    """Another car is in front, whether from a file or an empty one."""
    leaving = Signal()
    """The open car may be about to go; what was only for show is put right before it is asked."""

    def __init__(
        self,
        session: Session,
        keeper: Keeper,
        asks: Asks,
        notices: Notices,
        settings: Settings,
    ) -> None:
        """Work for a session."""
        super().__init__()
        self._session = session
        self._keeper = keeper
        self.asks = asks
        self._notices = notices
        self._settings = settings

    # --- beginning and opening ---------------------------------------------------------------

    def new(self) -> bool:
        """Begin an empty car."""
        if not self.may_leave():
            return False
        self._session.new()
        self._another()
        return True

    def open(self) -> bool:
        """Ask for a file and open it."""
        path = self.asks.open_file(self._folder())
        return path is not None and self.open_path(path)

    def open_path(self, path: Path) -> bool:
        """Open a file; the demo car as a copy, so that it cannot be written over."""
        if path.resolve() == DEMO.resolve():
            return self.open_demo()
        if not self.may_leave():
            return False
        try:
            self._session.open(path)
        except JigplateError as error:
            self._notices.refuse(f"{error}. What was open is still open.")
            return False
        self._settings.remember_file(path)
        self._another()
        return True

    def open_demo(self) -> bool:
        """Open the demo car as a copy, so that it cannot be written over."""
        if not self.may_leave():
            return False
        try:
            self._session.open(DEMO, as_copy=True)
        except JigplateError as error:
            self._notices.refuse(f"{error}. What was open is still open.")
            return False
        self._another()
        return True

    def _another(self) -> None:
        self._keeper.saved()
        self.opened.emit()

    # --- saving ------------------------------------------------------------------------------

    def save(self) -> bool:
        """Save, asking for a file if there is none."""
        path = self._session.path
        return self.save_as() if path is None else self.save_to(path)

    def save_as(self) -> bool:
        """Ask for a file and save there."""
        name = f"{_file_name(car_name(self._session.history.present))}{SUFFIX}"
        suggested = self._session.path or self._folder() / name
        path = self.asks.save_file(suggested)
        return path is not None and self.save_to(path)

    def save_to(self, path: Path) -> bool:
        """Save to a file; the version that was there is kept beside it."""
        if path.resolve() == DEMO.resolve():
            self._notices.refuse("The demo car is not written over: save it under another name.")
            return False
        try:
            absent = self._session.save(path)
        except (OSError, JigplateError) as error:
            reason = error.strerror if isinstance(error, OSError) and error.strerror else error
            self._notices.refuse(
                f"{path.name} could not be saved: {reason}. The file is as it was, and your work "
                "is still here.",
                WayOn("Save elsewhere…", self.save_as),
            )
            return False
        self._keeper.saved()
        self._settings.remember_file(path)
        self._tell_saved(path, len(absent))
        return True

    def _tell_saved(self, path: Path, absent: int) -> None:
        """Say that it was saved, and which of its meshes could not be put beside it."""
        if not absent:
            self._notices.tell(f"Saved to {path.name}.")
            return
        meshes = "one mesh" if absent == 1 else f"{absent} meshes"
        self._notices.refuse(
            f"Saved to {path.name}, but without {meshes} that the car refers to: not whole beside "
            "the file it came from. What needs them is not known until they are put into "
            f"{MeshStore.beside(path).folder.name}."
        )

    def may_leave(self) -> bool:
        """Whether the open car may go: nothing is unsaved, or it was saved, or is not wanted."""
        self.leaving.emit()
        if not self._keeper.has_unsaved:
            return True
        answer = self.asks.unsaved(car_name(self._session.history.present))
        if answer == "save":
            return self.save()
        return answer == "drop"

    # --- recovery ----------------------------------------------------------------------------

    def take_up(self, kept: Kept) -> bool:
        """Open work that an earlier run left unsaved."""
        try:
            self._keeper.take_up(kept)
        except JigplateError as error:
            self._notices.refuse(f"{error}. The copy stays in {kept.folder}.")
            return False
        self.opened.emit()
        self._notices.tell("Your unsaved work is back. Save it to keep it.")
        return True

    def forget(self, kept: Kept) -> None:
        """Throw such work away."""
        discard(kept)

    # --- exporting ---------------------------------------------------------------------------

    def export_hardpoints(self) -> bool:
        """Ask from where to measure and for a file, and write the hardpoint table."""
        lookup = Lookup(self._session.state.document)
        datums = [
            (lookup.label(ref), ref) for datum in lookup.document.datums for ref in sides(datum)
        ]
        wish = self.asks.table(datums)
        if wish is None:
            return False
        stem = _file_name(car_name(self._session.history.present))
        path = self.asks.table_file(self._folder() / f"{stem}-hardpoints.xlsx")
        return path is not None and self.export_hardpoints_to(path, wish)

    def export_hardpoints_to(self, path: Path, wish: TableWish = FROM_THE_CAR) -> bool:
        """Write the hardpoint table to a file, as a workbook or as text by its ending."""
        today = datetime.now().astimezone().date()
        try:
            points = compute(self._session.state.document, self._session.meshes, hardpoints)
            write_table(self._table(points, wish, today), path, today)
        except (JigplateError, TableError, TableFileError) as error:
            self._notices.refuse(f"The table was not written: {error}")
            return False
        missing = sum(point.place is None for point in points)
        more = f" {missing} of them have no known place." if missing else ""
        self._notices.tell(f"{len(points)} hardpoints written to {path.name}.{more}")
        return True

    def _table(self, points: Sequence[Hardpoint], wish: TableWish, today: date) -> Table:
        document, meshes = self._session.state.document, self._session.meshes
        version = Loaded(self._session.history.present, {}, ()).version
        head = Head(document.cars[0] if document.cars else None, version, today)
        origin = None if wish.datum is None else measured_from(document, meshes, wish.datum)
        return hardpoint_table(points, head, wish.unit, origin)

    def _folder(self) -> Path:
        if self._session.path is not None:
            return self._session.path.parent
        named = Path(self._settings.values.folder) if self._settings.values.folder else Path.home()
        return named if named.is_dir() else Path.home()


def _file_name(car: str) -> str:
    """A car's name as part of a file's name."""
    kept = "".join(letter if letter.isalnum() else "-" for letter in car.casefold())
    return "-".join(part for part in kept.split("-") if part) or "car"
