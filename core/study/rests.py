"""What of a document a finding rests on, from the recorded reads of its rule.

Reads are recorded for whole rules, and a rule looks at the whole car. They are narrowed to one
finding so:

1. The *circle* of a finding starts with its subjects and with whatever refers to a subject (the
   tubes that end on a joint, the points that follow a tube).
2. The reads of the rule are followed through the cells it read. A read of a thing, or of a cell
   whose arguments name some, is followed if all of them are in the circle; a read that names no
   thing is always followed. What a followed value refers to joins the circle: a tube brings its
   joints, its section and its die.
3. A rule may need things that nothing refers to (the dolly, the engine that a point moves with).
   So where the circle holds no thing of a kind that is read, all of that kind join it; and the
   kinds in `SETTINGS` always do.

What is left is *near*: every number that the figure of the finding is worked out from. All else
that the rule read is *around*: other things of the same kinds, which the rule looked at for other
findings, or found farther away. A change there does not change the figure, but it can take the
finding away or put another one in its place: another tube may come closest. The two together are
all recorded reads of the rule, so nothing is left out.

4. Some cells add up things of the whole car, as its weight does or the stiffness of its mounts:
   all that they read counts for whatever rests on them (`SUMS`).

Near holds too much where a rule asks what meets at a joint: all tubes of that joint are in it
with both their ends, though a bracket's reach needs the joint alone.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any, NamedTuple

from core.assess.masses import weighed_things
from core.assess.mounts import unit_on_mounts
from core.assess.weights import contacts
from core.document.base import Entity, Ref
from core.document.errors import JigplateError
from core.document.lookup import Lookup
from core.document.paths import Path
from core.document.records import Car, Limit
from core.document.surroundings import Workshop
from core.engine.address import Address, piece
from core.engine.assess import Assessment
from core.engine.cells import Cell, CellKey, Rule
from core.engine.finding import Finding
from core.engine.view import FieldKey, FormKey, Key, LabelKey, OfKindKey
from core.study.figures import numbers_at, refs_in, stored

SETTINGS: tuple[type[Entity], ...] = (Car, Limit, Workshop)
"""Kinds whose things count for every finding of a rule that reads them."""


SUMS: tuple[Cell[..., Any], ...] = (weighed_things, contacts, unit_on_mounts)
"""Cells to whose value every thing they read adds its share."""


class StudyError(JigplateError):
    """A question about an assessment that it cannot answer."""


class Rests(NamedTuple):
    """What a finding rests on.

    Attributes:
        near: the values its figure is worked out from.
        around: what its rule looked at besides.
        not_yet: rules of it that have not been run, so that nothing is known of their reads.
    """

    near: tuple[FieldKey, ...]
    around: tuple[FieldKey, ...]
    not_yet: tuple[Rule, ...] = ()


def rules_behind(assessment: Assessment, finding: Finding) -> tuple[Rule, ...]:
    """The rules that say a finding.

    Raises:
        StudyError: none does.
    """
    found = tuple(
        rule
        for rule in assessment.rules
        if any(said.key == finding.key for said in assessment.findings_of(rule))
    )
    if not found:
        msg = f"this assessment does not say «{finding.sentence}»"
        raise StudyError(msg)
    return found


def is_waiting(assessment: Assessment, rule: Rule) -> bool:
    """Whether a rule has not been run for any document so far."""
    return assessment.entries[CellKey(rule.cell, ())].is_missing


def rests(assessment: Assessment, finding: Finding) -> Rests:
    """What a finding rests on, near and around; see the head of this file.

    Raises:
        StudyError: no rule of the assessment says it.
    """
    rules = rules_behind(assessment, finding)
    return Web(assessment, rules).rests(finding)


def numbers_behind(lookup: Lookup, keys: Iterable[FieldKey]) -> list[Address]:
    """Every number at the given values, each stored one once: a pair's is one number."""
    found: dict[Address, None] = {}
    for key in keys:
        for path in _numbers(lookup, key.ref, key.path):
            found[stored(lookup, Address(key.ref, path))] = None
    return list(found)


def _numbers(lookup: Lookup, ref: Ref, path: Path) -> list[Path]:
    return numbers_at(piece(lookup, ref), path) if ref.id in lookup.by_id else []


class Web:
    """The recorded reads of some rules, to be narrowed to each of their findings."""

    def __init__(self, assessment: Assessment, rules: Sequence[Rule]) -> None:
        """Take the reads of `rules`, which must be rules of the assessment."""
        self.assessment = assessment
        self.rules = tuple(rules)
        self.cells = [CellKey(rule.cell, ()) for rule in rules]
        self.lookup = Lookup(assessment.document)
        self.all_reads = list(_follow(assessment, self.cells, lambda _: True))
        fields = (key for key, _ in self.all_reads if isinstance(key, FieldKey))
        self.everything = tuple(dict.fromkeys(fields))

    def rests(self, finding: Finding) -> Rests:
        """What a finding rests on, as far as these rules say it."""
        near = self.near(finding.subjects) if finding.subjects else self.everything
        inside = set(near)
        around = tuple(key for key in self.everything if key not in inside)
        waiting = tuple(rule for rule in self.rules if is_waiting(self.assessment, rule))
        return Rests(near, around, waiting)

    def near(self, subjects: Iterable[Ref]) -> tuple[FieldKey, ...]:
        """The values read of the things in the circle of the subjects."""
        circle = _Circle(self.lookup, subjects)
        circle.add(self._referring(tuple(subjects)))
        while True:
            followed = list(_follow(self.assessment, self.cells, circle.follows))
            joining = {ref for key, value in followed for ref in circle.brought(key, value)}
            joining |= set() if joining - circle.refs else circle.of_absent_kinds(followed)
            if not joining - circle.refs:
                fields = (key for key, _ in followed if isinstance(key, FieldKey))
                return tuple(dict.fromkeys(fields))
            circle.add(joining)

    def _referring(self, subjects: tuple[Ref, ...]) -> Iterator[Ref]:
        for key, value in self.all_reads:
            if isinstance(key, FieldKey) and any(ref in subjects for ref in refs_in(value)):
                yield key.ref


class _Circle:
    """The things that belong to a finding."""

    def __init__(self, lookup: Lookup, subjects: Iterable[Ref]) -> None:
        self.lookup = lookup
        self.refs: set[Ref] = set()
        self.ids: set[str] = set()
        self.whole: set[str] = set()
        self.kinds: set[type[Entity]] = set()
        self.add(subjects)

    def add(self, refs: Iterable[Ref]) -> None:
        for ref in refs:
            self.refs.add(ref)
            self.ids.add(ref.id)
            if ref.side == "one":
                self.whole.add(ref.id)
            self.kinds.add(self.kind(ref))

    def kind(self, ref: Ref) -> type[Entity]:
        return type(self.lookup.by_id[ref.id]) if ref.id in self.lookup.by_id else Entity

    def holds(self, ref: Ref) -> bool:
        """Whether a piece belongs; an end of a rack does where the rack does, and the reverse."""
        if ref in self.refs or ref.id in self.whole:
            return True
        return ref.side == "one" and ref.id in self.ids

    def follows(self, key: Key) -> bool:
        return all(self.holds(ref) or self.is_absent(ref) for ref in _about(key))

    def is_absent(self, ref: Ref) -> bool:
        kind = self.kind(ref)
        return kind in SETTINGS or kind not in self.kinds

    def brought(self, key: Key, value: object) -> set[Ref]:
        """What a followed read brings into the circle."""
        about = set(_about(key))
        if not any(self.holds(ref) for ref in about):
            return set()
        return about if isinstance(key, CellKey) else about | set(refs_in(value))

    def of_absent_kinds(self, followed: Iterable[tuple[Key, Any]]) -> set[Ref]:
        return {ref for key, _ in followed for ref in _about(key) if self.is_absent(ref)}


def _about(key: Key) -> Iterable[Ref]:
    """The things that a read names."""
    if isinstance(key, FieldKey | FormKey | LabelKey | OfKindKey):
        return (key.ref,)
    return refs_in(key.args) if isinstance(key, CellKey) else ()


def _follow(
    assessment: Assessment, cells: Iterable[CellKey], follows: Callable[[Key], bool]
) -> Iterator[tuple[Key, Any]]:
    """Every read that is to be followed, with its value, through all cells that were read.

    Below a cell of `SUMS` every read is.
    """
    seen: dict[CellKey, bool] = {}
    todo = [(cell, False) for cell in cells]
    while todo:
        at, below_sum = todo.pop()
        if at in seen and (seen[at] or not below_sum):
            continue
        seen[at] = below_sum
        for key, value in assessment.entries[at].reads:
            if below_sum or follows(key):
                yield key, value
                if isinstance(key, CellKey):
                    todo.append((key, below_sum or key.cell in SUMS))
