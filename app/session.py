"""The one mutable object of the window: the project, its past, its assessment, its file."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import NamedTuple

import msgspec
from PySide6.QtCore import QObject, Signal

from core.checks.rules import assess_all, to_look_at
from core.document.codec import read_project, wanted_meshes, write_project
from core.document.errors import FileRefusedError, JigplateError
from core.document.lookup import Lookup
from core.document.mesh_store import MeshStore
from core.document.project import Document, Project, empty_project
from core.engine.assess import Assessment
from core.engine.cells import NotComputedError, When
from core.engine.finding import Finding
from core.history import History, begin, record, redo, undo
from core.scene.cells import the_scene
from core.scene.records import Scene
from core.workshop.plain_address import in_plain_words

Edit = Callable[[Document], Document]


class State(NamedTuple):
    """What the window shows at one moment.

    Attributes:
        project: the project as it is.
        assessment: what is known of it; `assessment.document` is what was assessed.
        scene: what to draw.
        findings: every finding, in the order to look at them.
    """

    project: Project
    assessment: Assessment
    scene: Scene
    findings: tuple[Finding, ...]

    @property
    def document(self) -> Document:
        """The car as drawn."""
        return self.project.drawn


class Session(QObject):
    """Keeps the project; says `changed(before, after)` with two States and nothing else."""

    changed = Signal(object, object)

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin with an empty car that has no file."""
        super().__init__(parent)
        self.path: Path | None = None
        self._source: Path | None = None  # beside which its meshes are
        self._saved: Project | None = None
        self._meshes: Mapping[str, bytes] = {}
        self._history = begin(empty_project())
        self.state = self._assessed(self._history.present, None, When.RELEASE)

    @property
    def history(self) -> History:
        """The steps behind and ahead."""
        return self._history

    @property
    def meshes(self) -> Mapping[str, bytes]:
        """The meshes at hand, by SHA-256."""
        return self._meshes

    @property
    def is_changed(self) -> bool:
        """Whether there is work that no file holds."""
        return self._history.present != self._saved and self._history.can_undo

    def apply(
        self, words: str, edit: Edit, group: object = None, upto: When = When.RELEASE
    ) -> None:
        """Do an edit.

        Args:
            words: what it is called in undo, such as «Move K_L».
            edit: Document -> Document.
            group: edits of one group, such as one drag, are one step of undo.
            upto: LIVE inside a drag step; RELEASE when the hand lets go.

        Raises:
            JigplateError: the edit is refused, in a builder's words; nothing has changed.
        """
        try:
            document = edit(self.state.document)
        except JigplateError as error:
            error.args = (in_plain_words(Lookup(self.state.document), str(error)),)
            raise
        if document is self.state.document:
            return
        project = msgspec.structs.replace(self._history.present, drawn=document)
        self._become(record(self._history, project, words, group), upto)

    def settle(self) -> None:
        """End a drag: close its undo step and let everything catch up."""
        self._become(self._history._replace(group=None), When.RELEASE)

    def cancel(self, group: object) -> None:
        """Take back an edit under way, as Escape does in a drag; it leaves no trace."""
        if group is not None and self._history.group == group:
            back = undo(self._history)
            self._become(History(back.done, ()), When.RELEASE)

    def undo(self) -> None:
        """Take the last step back."""
        self._become(undo(self._history), When.RELEASE)

    def redo(self) -> None:
        """Bring the next undone step back."""
        self._become(redo(self._history), When.RELEASE)

    def new(self, name: str = "Unnamed car") -> None:
        """Begin an empty car without a file."""
        self._meshes, self._source = {}, None
        self._open(empty_project(name), None)

    def open(self, path: Path, *, as_copy: bool = False) -> None:
        """Open a file; with `as_copy` it must be saved under another name, as demo cars are.

        Raises:
            FileRefusedError: it cannot be read; what was open stays open.
        """
        project = read_project(path)
        self._meshes = load_meshes(project, MeshStore.beside(path))
        self._source = path
        self._open(project, None if as_copy else path)

    def save(self, path: Path) -> tuple[str, ...]:
        """Write the project and its meshes; the file's previous version is kept beside it.

        Returns:
            The SHA-256 of each mesh that the car refers to and that could not be put beside the
            file, because it is not whole at hand.

        Raises:
            FileRefusedError: the car contradicts itself, so that no file could hold it.
            OSError: the file is as it was.
        """
        store = MeshStore.beside(self._source) if self._source else None
        absent = write_project(self._history.present, path, store)
        self.path, self._source = path, path
        self._saved = self._history.present
        self.changed.emit(self.state, self.state)
        return absent

    def _open(self, project: Project, path: Path | None) -> None:
        self.path, self._saved = path, project
        before = self.state
        self._history = begin(project)
        self.state = self._assessed(project, None, When.RELEASE)
        self.changed.emit(before, self.state)

    def _become(self, history: History, upto: When) -> None:
        before = self.state
        self._history = history
        self.state = self._assessed(history.present, before.assessment, upto)
        self.changed.emit(before, self.state)

    def _assessed(self, project: Project, last: Assessment | None, upto: When) -> State:
        table = assess_all(project.drawn, self._meshes, last, upto, (the_scene,))
        try:
            scene = table.value(the_scene)
        except NotComputedError:
            scene = Scene()
        return State(project, table, scene, tuple(to_look_at(table)))


def load_meshes(project: Project, store: MeshStore) -> dict[str, bytes]:
    """The meshes of a project that are whole and at hand; the others are left out."""
    found: dict[str, bytes] = {}
    for sha256 in wanted_meshes(project):
        try:
            found[sha256] = store.get(sha256)
        except FileRefusedError:
            continue
    return found
