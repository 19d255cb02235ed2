"""The assessment: every cell's value and reads; after a change only what it touched runs again."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple, TypeVar, cast

from core.document.base import Entity, Ref
from core.document.paths import NoSuchPathError
from core.document.project import KINDS, Document
from core.engine.cells import Cell, CellKey, Findings, NotComputedError, P, Rule, When
from core.engine.finding import Finding
from core.engine.same import same
from core.engine.view import (
    DocumentKey,
    FieldKey,
    Key,
    KindKey,
    LabelKey,
    MeshKey,
    OfKindKey,
    Recording,
    View,
)

T = TypeVar("T")
E = TypeVar("E", bound=Entity)


@dataclass(frozen=True)
class NoValue:
    """What a cell has when it could not be computed, and why."""

    reason: str


@dataclass(frozen=True)
class NotYet:
    """What a slow cell has that has not been run for any document so far."""


class Entry(NamedTuple):
    """A cell's value, and what it read to get it, in order."""

    value: Any
    reads: tuple[tuple[Key, Any], ...]


@dataclass(frozen=True, eq=False)
class Assessment:
    """The table of cells for one document.

    Attributes:
        document: what was assessed.
        meshes: its meshes by SHA-256.
        rules: the rules asked.
        entries: each cell's value and reads.
        behind: cells that have not caught up with the document; their values are of before.
        ran: the cells that were run for this assessment, in order.
    """

    document: Document
    meshes: Mapping[str, bytes]
    rules: Sequence[Rule]
    entries: Mapping[CellKey, Entry]
    behind: frozenset[CellKey]
    ran: tuple[CellKey, ...]

    def agrees_with(self, other: "Assessment") -> bool:
        """Whether both tables hold the same cells with the same values, none of them behind."""
        return (
            not self.behind
            and not other.behind
            and self.entries.keys() == other.entries.keys()
            and all(same(e.value, other.entries[k].value) for k, e in self.entries.items())
        )

    def value(self, cell: Cell[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """The value of a cell in this table.

        Raises:
            NotComputedError: it could not be computed, or nothing has asked for it.
        """
        assert not kwargs
        entry = self.entries.get(CellKey(cast("Cell[..., Any]", cell), args))
        if entry is None:
            msg = f"nothing has asked for {cell.name}"
            raise NotComputedError(msg)
        return cast("T", _computed(entry.value))

    def findings(self) -> list[Finding]:
        """What every rule says; a rule without an answer says that it does not know."""
        return [finding for rule in self.rules for finding in self.findings_of(rule)]

    def findings_of(self, rule: Rule) -> Findings:
        """What one rule says."""
        entry = self.entries[CellKey(rule.cell, ())]
        if isinstance(entry.value, NoValue):
            words = f"{rule.asks} Could not be computed, because {entry.value.reason}."
            return (Finding(rule.key, "unknown", (), words),)
        if isinstance(entry.value, NotYet):
            return (Finding(rule.key, "unknown", (), f"{rule.asks} Not computed yet."),)
        found: Findings = entry.value
        return found

    def is_behind(self, rule: Rule) -> bool:
        """Whether a rule's findings are of before the last change."""
        return CellKey(rule.cell, ()) in self.behind


def assess(
    document: Document,
    meshes: Mapping[str, bytes],
    last: Assessment | None,
    rules: Sequence[Rule],
    upto: When = When.RELEASE,
    also: Sequence[Cell[[], Any]] = (),
) -> Assessment:
    """Every rule's answer for a document, re-using what the change since `last` did not touch.

    Args:
        document: what to assess.
        meshes: bytes of its meshes by SHA-256; one that is missing makes its cells unknown.
        last: an assessment of any other document, or none.
        rules: what to ask.
        upto: slower cells than this keep their old value and are named in `behind`.
        also: cells without arguments that are wanted besides the rules, such as what to draw.

    Returns:
        The table; with `upto` at its highest it equals one made without `last`.
    """
    run = _Run(View(document, meshes), last, upto)
    for rule in rules:
        run.entry(CellKey(rule.cell, ()))
    for cell in also:
        run.entry(CellKey(cell, ()))
    return Assessment(document, meshes, rules, run.entries, frozenset(run.behind), tuple(run.ran))


def _computed(value: Any) -> Any:  # noqa: ANN401 - values of any kind
    if isinstance(value, NoValue):
        raise NotComputedError(value.reason)
    if isinstance(value, NotYet):
        msg = "it has not been computed yet"
        raise NotComputedError(msg)
    return value


class _Run:
    """One pass over the cells."""

    def __init__(self, view: View, last: Assessment | None, upto: When) -> None:
        self.view = view
        self.old: Mapping[CellKey, Entry] = last.entries if last else {}
        self.was_behind = last.behind if last else frozenset[CellKey]()
        self.upto = upto
        self.entries: dict[CellKey, Entry] = {}
        self.behind: set[CellKey] = set()
        self.ran: list[CellKey] = []
        self.running: list[CellKey] = []
        self.untouched = _untouched(last.document, view.document) if last else frozenset[str]()

    def entry(self, key: CellKey) -> Entry:
        """The entry of a cell, from before if nothing it read differs, else worked out."""
        found = self.entries.get(key)
        if found is not None:
            return found
        old = self.old.get(key)
        if old is not None and key not in self.was_behind and self.holds(old):
            self.entries[key] = old
            return old
        if key.cell.when > self.upto:
            return self.left_behind(key, old)
        return self.compute(key, old)

    def holds(self, old: Entry) -> bool:
        """Whether every read of an old entry would give the same value now."""
        return all(self.read_holds(key, value) for key, value in old.reads)

    def read_holds(self, key: Key, value: object) -> bool:
        if isinstance(key, CellKey):
            entry = self.entry(key)
            return key not in self.behind and same(entry.value, value)
        if isinstance(key, FieldKey | LabelKey) and key.ref.id in self.untouched:
            return True
        try:
            return same(self.view.value(key), value)
        except (KeyError, NoSuchPathError):
            return False

    def left_behind(self, key: CellKey, old: Entry | None) -> Entry:
        entry = old if old is not None else Entry(NotYet(), ())
        self.entries[key] = entry
        self.behind.add(key)
        for read, _ in entry.reads:
            if isinstance(read, CellKey) and read not in self.entries and read in self.old:
                self.left_behind(read, self.old[read])
        return entry

    def compute(self, key: CellKey, old: Entry | None) -> Entry:
        if key in self.running:
            names = " -> ".join(str(k.cell) for k in self.running)
            msg = f"cells read one another in a circle: {names} -> {key.cell}"
            raise RuntimeError(msg)
        reader = _Reader(self, key)
        self.running.append(key)
        try:
            value = key.cell.run(reader, *key.args)
        except NotComputedError as error:
            value = NoValue(str(error))
        finally:
            self.running.pop()
        if old is not None and same(old.value, value):
            value = old.value  # an equal new value stops the wave, and costs the next look nothing
        self.ran.append(key)
        entry = self.entries[key] = Entry(value, tuple(reader.reads.items()))
        return entry


def _untouched(before: Document, after: Document) -> frozenset[str]:
    """Ids of the things that are the very same objects in both documents."""
    kept: set[str] = set()
    for name in KINDS:
        old, new = getattr(before, name), getattr(after, name)
        if old is new:
            kept.update(thing.id for thing in new)
        else:
            known = {id(thing) for thing in old}
            kept.update(thing.id for thing in new if id(thing) in known)
    return frozenset(kept)


class _Reader:
    """Gives a cell its inputs and writes them down."""

    def __init__(self, run: _Run, key: CellKey) -> None:
        self.run = run
        self.key = key
        self.reads: dict[Key, Any] = {}

    def note(self, key: Key, value: object) -> None:
        self.reads[key] = value

    def of(self, key: DocumentKey) -> Any:  # noqa: ANN401 - values of any kind
        value = self.run.view.value(key)
        self.reads[key] = value
        return value

    def thing(self, kind: type[E], ref: Ref) -> E:
        if not self.of(OfKindKey(kind, ref)):
            msg = f"{self.run.view.lookup.label(ref)} is no {kind.__name__}"
            raise TypeError(msg)
        return cast("E", Recording(self.run.view.piece(ref), ref, "", self.note))

    def all(self, kind: type[Entity]) -> tuple[Ref, ...]:
        return cast("tuple[Ref, ...]", self.of(KindKey(kind)))

    def has(self, kind: type[Entity], ref: Ref) -> bool:
        return bool(self.of(OfKindKey(kind, ref)))

    def label(self, ref: Ref) -> str:
        return str(self.of(LabelKey(ref)))

    def mesh(self, sha256: str) -> bytes:
        if not self.of(MeshKey(sha256)):
            msg = f"the mesh {sha256[:12]}… is not at hand"
            raise NotComputedError(msg)
        return self.run.view.meshes[sha256]

    def __call__(self, cell: Cell[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        assert not kwargs
        if cell.when > self.key.cell.when:
            msg = f"{self.key.cell} is run sooner than {cell}, so it may not read it"
            raise RuntimeError(msg)
        key = CellKey(cast("Cell[..., Any]", cell), args)
        entry = self.run.entry(key)
        self.reads[key] = entry.value
        return cast("T", _computed(entry.value))


def reads_of(assessment: Assessment, key: CellKey) -> Iterator[DocumentKey]:
    """Everything of the document that a cell rests on, through all the cells it read."""
    seen: set[Key] = set()
    todo: list[Key] = [key]
    while todo:
        at = todo.pop()
        if at in seen:
            continue
        seen.add(at)
        if isinstance(at, CellKey):
            todo += [read for read, _ in assessment.entries[at].reads]
        else:
            yield at


def compute(
    document: Document,
    meshes: Mapping[str, bytes],
    cell: Cell[P, T],
    *args: P.args,
    **kwargs: P.kwargs,
) -> T:
    """The value of one cell for a document, worked out afresh.

    Raises:
        NotComputedError: it could not be computed.
    """
    assert not kwargs
    run = _Run(View(document, meshes), None, When.ASKED)
    entry = run.entry(CellKey(cast("Cell[..., Any]", cell), args))
    return cast("T", _computed(entry.value))
