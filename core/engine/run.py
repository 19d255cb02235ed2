"""One pass over the cells: takes over what holds, runs what does not, leaves slow cells behind."""

from collections.abc import Iterable, Mapping
from typing import Any, Final, TypeVar

from core.document.base import Entity, Ref
from core.document.paths import NoSuchPathError
from core.engine.cells import Cell, CellKey, NotComputedError, P, When
from core.engine.entries import Entry, NotYet, NoValue
from core.engine.same import same
from core.engine.view import (
    KIND,
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
AnyCell = Cell[..., Any]


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
        self.entries = _untouched(self.old, was_behind, touched)
        self.behind: set[CellKey] = set()
        self.ran: list[CellKey] = []
        self.has_lost_reads = False
        self._open: list[CellKey] = []
        self._changed_rests: set[CellKey] = set()

    def entry(self, key: CellKey) -> Entry:
        """The entry of a cell, from before if nothing it read differs, else worked out."""
        found = self.entries.get(key)
        if found is None:
            found = self._worked_out(key)
        elif found is _OPEN:
            names = " -> ".join(str(k.cell) for k in self._open[self._open.index(key) :])
            msg = f"cells read one another in a circle: {names} -> {key.cell}"
            raise RuntimeError(msg)
        return found

    def _worked_out(self, key: CellKey) -> Entry:
        self.entries[key] = _OPEN
        self._open.append(key)
        try:
            found = self.entries[key] = self._found(key, self.old.get(key))
        except BaseException:
            del self.entries[key]
            raise
        finally:
            self._open.pop()
        return found

    def _found(self, key: CellKey, old: Entry | None) -> Entry:
        is_late = key.cell.when > self.upto
        if old is not None and not old.is_missing and self._holds(key, old, is_late=is_late):
            is_as_it_was = not self._changed_rests and key not in self.was_behind
            return old if is_as_it_was else self._rewired(key, old, old)
        if is_late:
            self.behind.add(key)
            return old or Entry(NotYet(), ())
        return self._compute(key, old)

    def _holds(self, key: CellKey, old: Entry, *, is_late: bool) -> bool:
        """Whether every read of an old entry would give the same value now.

        The values first: a cell that was read after one that differs may not be asked for again.
        """
        if key in self.was_behind:
            return not is_late and self._values_hold(old) and self._cells_hold(old, is_late=False)
        values_hold = old.own.isdisjoint(self.touched) or self._values_hold(old, self.touched)
        return values_hold and self._cells_hold(old, is_late=is_late)

    def _values_hold(self, old: Entry, touched: frozenset[object] | None = None) -> bool:
        """Whether the document has the values read of it still; those not touched are not asked."""
        try:
            return all(
                same(self.view.value(read), value)
                for read, value in old.reads
                if not isinstance(read, CellKey) and (touched is None or token(read) in touched)
            )
        except (KeyError, NoSuchPathError):
            return False

    def _cells_hold(self, old: Entry, *, is_late: bool) -> bool:
        """Whether the cells read have the same values still; a late one has nothing run for it."""
        entries, behind = self.entries, self.behind
        for key, value in zip(old.cells, old.held, strict=True):
            entry = entries.get(key)
            if entry is None or entry is _OPEN:
                if is_late and key.cell.when <= self.upto:
                    return False
                entry = self.entry(key)
            if (entry.value is not value and not same(entry.value, value)) or key in behind:
                return False
        return True

    def _compute(self, key: CellKey, old: Entry | None) -> Entry:
        reader = _Reader(self, key)
        try:
            value = key.cell.run(reader, *key.args)
            if isinstance(value, Recording):
                value = value.whole()
        except NotComputedError as error:
            value = NoValue(str(error))
        entry = reader.close(value)
        if old is not None:
            if same(old.value, value):
                entry = entry._replace(value=old.value)  # quick to compare: the wave stops here
            self.has_lost_reads |= old.cells != entry.cells and not set(old.cells) <= set(
                entry.cells
            )
        self.ran.append(key)
        return self._rewired(key, entry, old)

    def _rewired(self, key: CellKey, entry: Entry, old: Entry | None) -> Entry:
        """An entry that says what it rests on now: a cell of equal value may have read others.

        It may have done so in a pass that left this one behind; what that one rested on is past.
        """
        is_wired_alike = (
            old is not None
            and key not in self.was_behind
            and (entry.cells, entry.own) == (old.cells, old.own)
        )
        if old is not None and is_wired_alike and self._changed_rests.isdisjoint(entry.cells):
            rests_on = old.rests_on
        else:
            rests_on = entry.own.union(*(self.entries[cell].rests_on for cell in entry.cells))
            if old is None or rests_on != old.rests_on:
                self._changed_rests.add(key)
        return entry if rests_on is entry.rests_on else entry._replace(rests_on=rests_on)

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


_OPEN: Final = Entry(NotYet(), ())
"""In the table while a cell is being worked out."""


def _untouched(
    old: Table, was_behind: frozenset[CellKey], touched: frozenset[object]
) -> dict[CellKey, Entry]:
    """The entries that rest on nothing that was touched, and on no older document."""
    kept = dict(old)
    for key, entry in old.items():
        if not entry.rests_on.isdisjoint(touched):
            del kept[key]
    for key in was_behind:
        kept.pop(key, None)
    return kept


class _Reader:
    """Gives one run of a cell its inputs and writes them down.

    It is asked a thousand times in a drag step, so its parts call one another little.
    """

    def __init__(self, run: Run, key: CellKey) -> None:
        self._run = run
        self._view = run.view
        self._cell = key.cell
        self._reads: dict[Key, Any] = {}
        self._cells: dict[CellKey, Any] = {}
        self._own: set[object] = set()

    def close(self, value: object) -> Entry:
        """All that was read for a value; from now on nothing more can be."""
        reads, self._reads = self._reads, _Closed(self._cell)
        own = frozenset(self._own)
        cells, held = tuple(self._cells), tuple(self._cells.values())
        return Entry(value, tuple(reads.items()), cells, held, own)

    def _note(self, key: DocumentKey, value: object) -> None:
        self._reads[key] = value
        self._own.add(token(key))

    def _of(self, key: DocumentKey) -> Any:  # noqa: ANN401 - values of any kind
        value = self._view.value(key)
        self._note(key, value)
        return value

    def thing(self, kind: type[E], ref: Ref) -> E:
        if not self.has(kind, ref):
            msg = f"{self._view.lookup.label(ref)} is no {kind.__name__}"
            raise TypeError(msg)
        thing: Any = Recording(self._view.piece(ref), ref, "", self._note)
        stand_in: E = thing
        return stand_in

    def all(self, kind: type[Entity]) -> tuple[Ref, ...]:
        refs: tuple[Ref, ...] = self._of(KindKey(kind))
        return refs

    def has(self, kind: type[Entity], ref: Ref) -> bool:
        found = isinstance(self._view.lookup.by_id.get(ref.id), kind)
        self._reads[OfKindKey(kind, ref)] = found
        self._own.add((ref.id, KIND))
        return found

    def label(self, ref: Ref) -> str:
        return str(self._of(LabelKey(ref)))

    def mesh(self, sha256: str) -> bytes:
        if not self._of(MeshKey(sha256)):
            msg = f"the mesh {sha256[:12]}… is not at hand"
            raise NotComputedError(msg)
        return self._view.meshes[sha256]

    def __call__(self, cell: Cell[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        if cell.when > self._cell.when:
            msg = f"{self._cell} is run sooner than {cell}, so it may not read it"
            raise RuntimeError(msg)
        key = cell_key(cell, *args, **kwargs)
        value = self._reads[key] = self._cells[key] = self._run.entry(key).value
        if isinstance(value, NoValue):
            raise NotComputedError(value.reason)
        found: T = value
        return found


class _Closed(dict[Key, Any]):
    """In place of the reads of a cell that has returned: what it gave away unread stays so."""

    def __init__(self, cell: AnyCell) -> None:
        super().__init__()
        self._cell = cell

    def __setitem__(self, key: Key, value: object) -> None:
        msg = f"{self._cell} gave away a part of the document that it had not looked at"
        raise RuntimeError(msg)


def cell_key(cell: Cell[P, T], *args: P.args, **kwargs: P.kwargs) -> CellKey:
    """The key of a cell for its arguments; stand-ins among them are read whole.

    Raises:
        TypeError: an argument was given by name, so that one cell could have two keys.
    """
    if kwargs:
        msg = f"give {cell} its arguments in order, not by name"
        raise TypeError(msg)
    plain: Any = cell
    if Recording in map(type, args):
        return CellKey(plain, tuple(a.whole() if isinstance(a, Recording) else a for a in args))
    return CellKey(plain, args)
