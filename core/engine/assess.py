"""The assessment: every cell's value and reads; after a change only what it touched runs again."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeVar, cast

from core.document.project import Document
from core.engine.cells import Cell, CellKey, Findings, NotComputedError, P, Rule, When
from core.engine.entries import Entry, NotYet, NoValue, computed
from core.engine.finding import Finding
from core.engine.run import Run, cell_key
from core.engine.same import same
from core.engine.touched import touched, touched_meshes
from core.engine.view import DocumentKey, Key, View

__all__ = [
    "Assessment",
    "Entry",
    "NoValue",
    "NotYet",
    "assess",
    "compute",
    "reads_of",
]

T = TypeVar("T")


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
        roots: what was asked for; every entry is one of these or was read for one.
        at_hand: the meshes that were there.
    """

    document: Document
    meshes: Mapping[str, bytes]
    rules: Sequence[Rule]
    entries: Mapping[CellKey, Entry]
    behind: frozenset[CellKey]
    ran: tuple[CellKey, ...]
    roots: tuple[CellKey, ...]
    at_hand: frozenset[str]

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
            NotComputedError: it could not be computed, nothing has asked for it, or it has not
                caught up with the document.
        """
        key = cell_key(cell, *args, **kwargs)
        entry = self.entries.get(key)
        if entry is None:
            msg = f"nothing has asked for {cell.name}"
            raise NotComputedError(msg)
        if key in self.behind and not entry.is_missing:
            msg = f"{cell.name} has not caught up with the last change"
            raise NotComputedError(msg)
        return cast("T", computed(entry.value))

    def findings(self) -> list[Finding]:
        """What every rule says; a rule without an answer says that it does not know."""
        return [finding for rule in self.rules for finding in self.findings_of(rule)]

    def findings_of(self, rule: Rule) -> Findings:
        """What one rule says.

        What it said before the last change is marked `behind`, and what was fine is unknown.
        """
        value = self.entries[CellKey(rule.cell, ())].value
        if isinstance(value, NotYet):
            found: Findings = (Finding(rule.key, "unknown", (), f"{rule.asks} Not computed yet."),)
        elif isinstance(value, NoValue):
            words = f"{rule.asks} Could not be computed, because {value.reason}."
            found = (Finding(rule.key, "unknown", (), words),)
        else:
            found = value
        return tuple(_as_before(f) for f in found) if self.is_behind(rule) else found

    def is_behind(self, rule: Rule) -> bool:
        """Whether a rule's findings are of before the last change."""
        return CellKey(rule.cell, ()) in self.behind


def _as_before(finding: Finding) -> Finding:
    verdict = "unknown" if finding.verdict == "fine" else finding.verdict
    return replace(finding, verdict=verdict, behind=True)


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
    roots = tuple(CellKey(cell, ()) for cell in (*(rule.cell for rule in rules), *also))
    at_hand = frozenset(meshes)
    run = _prepared(View(document, meshes), at_hand, last, upto)
    for root in sorted(roots, key=lambda root: root.cell.when > upto):  # late ones run nothing
        run.entry(root)
    run.keep_behind()
    if run.has_lost_reads or last is None or roots != last.roots:
        run.drop_all_but(roots)
    ran = tuple(run.ran)
    behind = frozenset(run.behind)
    return Assessment(document, meshes, rules, run.entries, behind, ran, roots, at_hand)


def _prepared(view: View, at_hand: frozenset[str], last: Assessment | None, upto: When) -> Run:
    if last is None:
        return Run(view, upto)
    tokens = frozenset(
        (*touched(last.document, view.document), *touched_meshes(last.at_hand, at_hand))
    )
    return Run(view, upto, last.entries, last.behind, tokens)


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
    run = Run(View(document, meshes), When.ASKED)
    return cast("T", computed(run.entry(cell_key(cell, *args, **kwargs)).value))
