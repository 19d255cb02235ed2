"""One pass over the cells: takes over what holds, runs what does not, leaves slow cells behind."""

from collections.abc import Iterable, Mapping
from typing import Any, TypeVar, cast

from core.document.base import Entity, Ref
from core.document.paths import NoSuchPathError
from core.engine.cells import Cell, CellKey, NotComputedError, P, When
from core.engine.entries import Entry, NotYet, NoValue, computed, tokens_of
from core.engine.same import same
from core.engine.view import (
    DocumentKey,
    Key,
    KindKey,
    LabelKey,
    MeshKey,
    OfKindKey,
    Recording,
    View,
    token,
)

T = TypeVar("T")
E = TypeVar("E", bound=Entity)
Table = Mapping[CellKey, Entry]


class Run:
    """One pass over the cells.

    Attributes:
        entries: the new table.
        behind: cells in it that have not caught up.
        ran: cells that were run, in order.
    """

    def __init__(
        self,
        view: View,
        upto: When,
        old: Table | None = None,
        was_behind: frozenset[CellKey] = frozenset(),
        touched: frozenset[object] = frozenset(),
    ) -> None:
        """Prepare a pass.

        Args:
            view: the document.
            upto: slower cells than this are not run.
            old: the table of another document.
            was_behind: cells in it whose reads are of still another document.
            touched: tokens of all that differs between the two documents.
        """
        self.view = view
        self.upto = upto
        self.old: Table = old or {}
        self.was_behind = was_behind
        self.touched = touched
        self.entries: dict[CellKey, Entry] = {
            key: entry
            for key, entry in self.old.items()
            if entry.rests_on.isdisjoint(touched) and key not in was_behind
        }
        self.behind: set[CellKey] = set()
        self.ran: list[CellKey] = []
        self.has_lost_reads = False
        self._open: dict[CellKey, None] = {}

    def entry(self, key: CellKey) -> Entry:
        """The entry of a cell, from before if nothing it read differs, else worked out."""
        found = self.entries.get(key)
        if found is None:
            self._refuse_circle(key)
            self._open[key] = None
            try:
                found = self.entries[key] = self._found(key, self.old.get(key))
            finally:
                del self._open[key]
        return found

    def _refuse_circle(self, key: CellKey) -> None:
        if key in self._open:
            names = " -> ".join(str(k.cell) for k in self._open)
            msg = f"cells read one another in a circle: {names} -> {key.cell}"
            raise RuntimeError(msg)

    def _found(self, key: CellKey, old: Entry | None) -> Entry:
        is_late = key.cell.when > self.upto
        may_hold = not old.is_missing if old else False
        if old and may_hold and not (is_late and key in self.was_behind) and self._holds(key, old):
            return self._resting(old)
        if is_late:
            self.behind.add(key)
            return old or Entry(NotYet(), ())
        return self._compute(key, old)

    def _holds(self, key: CellKey, old: Entry) -> bool:
        """Whether every read of an old entry would give the same value now."""
        is_late = key.cell.when > self.upto
        changed = None if key in self.was_behind else self.touched
        return all(
            self._cell_holds(read, value, for_late=is_late)
            if isinstance(read, CellKey)
            else self._value_holds(read, value, changed)
            for read, value in old.reads
        )

    def _cell_holds(self, key: CellKey, value: object, *, for_late: bool) -> bool:
        """Whether a cell has still that value; nothing is run for the sake of one that is late."""
        if for_late and key.cell.when <= self.upto and key not in self.entries:
            return False
        entry = self.entry(key)
        return same(entry.value, value) and key not in self.behind

    def _value_holds(
        self, key: DocumentKey, value: object, changed: frozenset[object] | None
    ) -> bool:
        if changed is not None and token(key) not in changed:
            return True
        try:
            return same(self.view.value(key), value)
        except (KeyError, NoSuchPathError):
            return False

    def _compute(self, key: CellKey, old: Entry | None) -> Entry:
        reader = _Reader(self, key)
        try:
            value = key.cell.run(reader, *key.args)
            if isinstance(value, Recording):
                value = value.whole()
        except NotComputedError as error:
            value = NoValue(str(error))
        reads = reader.close()
        if old is not None:
            if same(old.value, value):
                value = old.value  # an equal new value stops the wave, and is quick to compare
            self.has_lost_reads |= any(cell not in reads for cell in old.cells)
        self.ran.append(key)
        cells = tuple(read for read in reads if isinstance(read, CellKey))
        return self._resting(Entry(value, tuple(reads.items()), cells, tokens_of(reads)))

    def _resting(self, entry: Entry) -> Entry:
        """An entry that says what it rests on now: a cell of equal value may have read others."""
        rests_on = entry.own.union(*(self.entries[cell].rests_on for cell in entry.cells))
        return entry if rests_on == entry.rests_on else entry._replace(rests_on=rests_on)

    def keep_behind(self) -> None:
        """Take over, as they were, the cells that those left behind had read.

        Only once all else has been run: nothing that is run may see them.
        """
        todo = list(self.behind)
        while todo:
            for key in self.entries[todo.pop()].cells:
                if key not in self.entries and key in self.old:
                    self.entries[key] = self.old[key]
                    self.behind.add(key)
                    todo.append(key)

    def drop_all_but(self, roots: Iterable[CellKey]) -> None:
        """Drop the entries that nothing asked for leads to any more."""
        reached: dict[CellKey, Entry] = {}
        todo = list(roots)
        while todo:
            key = todo.pop()
            if key not in reached and key in self.entries:
                reached[key] = self.entries[key]
                todo += reached[key].cells
        self.entries = reached
        self.behind &= reached.keys()


class _Reader:
    """Gives one run of a cell its inputs and writes them down."""

    def __init__(self, run: Run, key: CellKey) -> None:
        self._run = run
        self._view = run.view
        self._key = key
        self._reads: dict[Key, Any] = {}
        self._is_closed = False

    def close(self) -> dict[Key, Any]:
        """All that was read; from now on nothing more can be."""
        self._is_closed = True
        return self._reads

    def _note(self, key: Key, value: object) -> None:
        if self._is_closed:
            msg = f"{self._key.cell} gave away a part of the document that it had not looked at"
            raise RuntimeError(msg)
        self._reads[key] = value

    def _of(self, key: DocumentKey) -> Any:  # noqa: ANN401 - values of any kind
        value = self._view.value(key)
        self._note(key, value)
        return value

    def thing(self, kind: type[E], ref: Ref) -> E:
        if not self._of(OfKindKey(kind, ref)):
            msg = f"{self._view.lookup.label(ref)} is no {kind.__name__}"
            raise TypeError(msg)
        return cast("E", Recording(self._view.piece(ref), ref, "", self._note))

    def all(self, kind: type[Entity]) -> tuple[Ref, ...]:
        return cast("tuple[Ref, ...]", self._of(KindKey(kind)))

    def has(self, kind: type[Entity], ref: Ref) -> bool:
        return bool(self._of(OfKindKey(kind, ref)))

    def label(self, ref: Ref) -> str:
        return str(self._of(LabelKey(ref)))

    def mesh(self, sha256: str) -> bytes:
        if not self._of(MeshKey(sha256)):
            msg = f"the mesh {sha256[:12]}… is not at hand"
            raise NotComputedError(msg)
        return self._view.meshes[sha256]

    def __call__(self, cell: Cell[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        if cell.when > self._key.cell.when:
            msg = f"{self._key.cell} is run sooner than {cell}, so it may not read it"
            raise RuntimeError(msg)
        key = cell_key(cell, *args, **kwargs)
        entry = self._run.entry(key)
        self._note(key, entry.value)
        return cast("T", computed(entry.value))


def cell_key(cell: Cell[P, T], *args: P.args, **kwargs: P.kwargs) -> CellKey:
    """The key of a cell for its arguments; stand-ins among them are read whole.

    Raises:
        TypeError: an argument was given by name, so that one cell could have two keys.
    """
    if kwargs:
        msg = f"give {cell} its arguments in order, not by name"
        raise TypeError(msg)
    whole = tuple(arg.whole() if isinstance(arg, Recording) else arg for arg in args)
    return CellKey(cast("Cell[..., Any]", cell), whole)
