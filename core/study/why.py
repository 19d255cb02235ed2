"""Why a value is what it is, what rests on it, and what a finding rests on; in plain words."""

from collections import Counter
from collections.abc import Iterable, Iterator

from core.checks.rules import NOT_LOOKED_AT, to_look_at
from core.document.base import Because, Entity, Fact, Ref, Source
from core.document.facts import fact_at
from core.document.lookup import Lookup, kind_of
from core.document.paths import Path, covers
from core.document.records import Limit
from core.edits.values import held_by
from core.engine.address import Address, AddressError, piece, said, value_of
from core.engine.assess import Assessment, reads_of
from core.engine.cells import CellKey, Rule
from core.engine.finding import WORDS, Finding
from core.engine.view import FieldKey
from core.study.figures import (
    SOURCE_WORDS,
    SOURCES,
    counted,
    fact_of,
    numbers_at,
    one_source,
    plural,
    sides_moving,
    source_at,
    source_words,
    stored,
    valued,
    with_unit,
)
from core.study.rests import Rests, Web, is_waiting, rests, rules_behind

STEP = "  "
"""Indent of a line that explains the line above it."""


def why(assessment: Assessment, address: Address) -> tuple[str, ...]:
    """What a value is, where it comes from, what holds it, why, and what rests on it.

    Args:
        assessment: the car and what is found about it.
        address: a number, a place, a branch, or with an empty path a whole thing.

    Returns:
        Lines for the builder; one that explains another stands below it, indented.

    Raises:
        AddressError: nothing is there.
    """
    lookup = Lookup(assessment.document)
    value_of(lookup, address)
    return (
        *_chain(lookup, address, set()),
        *_indented(_resting(assessment, lookup, address)),
    )


def _indented(lines: Iterable[str]) -> Iterator[str]:
    return (STEP + line for line in lines)


def _chain(lookup: Lookup, address: Address, told: set[Address]) -> Iterator[str]:
    """The line of a value and, indented, its hold and its reasons, each told once."""
    kept = stored(lookup, address) if address.ref.id in lookup.by_id else address
    if kept in told:
        yield f"{said(lookup, address)}: told above"
        return
    told.add(kept)
    try:
        value_of(lookup, address)
    except AddressError as error:
        yield f"{said(lookup, address)}: not there any more ({error})"
        return
    yield _value_line(lookup, address)
    yield from _indented(_holds(lookup, address))
    for because in _reasons(lookup, address):
        yield from _indented(_reason(lookup, because, told))


def _value_line(lookup: Lookup, address: Address) -> str:
    name = said(lookup, address)
    if not address.path:
        thing = lookup.by_id[address.ref.id]
        return f"{name}, {kind_of(thing)}, {counted(lookup, address)}"
    numbers = numbers_at(piece(lookup, address.ref), address.path)
    if not numbers:
        return f"{name} is {valued(lookup, address)}"
    words = _with_source(lookup, address, numbers)
    both = len(sides_moving(lookup, address)) > 1
    return f"{words}; the same number for both sides" if both else words


def _with_source(lookup: Lookup, address: Address, numbers: list[Path]) -> str:
    name, many = said(lookup, address), counted(lookup, address)
    is_branch = valued(lookup, address) == many
    if not one_source(lookup, address):
        return f"{name}, {many}" if is_branch else f"{name} is {valued(lookup, address)}; {many}"
    source = source_words(lookup, Address(address.ref, numbers[0]))
    if is_branch:
        return f"{name}, {plural(len(numbers), 'number')}: {source}"
    return f"{name} is {valued(lookup, address)}: {source}"


def _holds(lookup: Lookup, address: Address) -> Iterator[str]:
    if not address.path:
        for own in lookup.by_id[address.ref.id].facts:
            if own.held:
                yield f"{own.of or 'all of it'} held: {own.held}"
        return
    holder = held_by(lookup.document, address)
    fact = fact_of(lookup, address)
    if holder:
        yield f"held: {holder}"
    elif fact is not None and fact.free:
        yield "set free to move"


def _reasons(lookup: Lookup, address: Address) -> Iterator[Because]:
    """What the edits that set a value, or a part of it, relied on."""
    for fact in _facts(lookup.by_id[address.ref.id], address):
        yield from fact.because


def _facts(thing: Entity, address: Address) -> Iterator[Fact]:
    counting = fact_at(thing, address.ref.side, address.path)
    for fact in thing.facts:
        inside = covers(address.path, fact.of) and fact.side in ("one", address.ref.side)
        if fact is counting or inside:
            yield fact


def _reason(lookup: Lookup, because: Because, told: set[Address]) -> Iterator[str]:
    words = f"because of this ({because.words}):" if because.words else "because of this:"
    yield words
    yield from _indented(_chain(lookup, Address(because.ref, because.of), told))


def _resting(assessment: Assessment, lookup: Lookup, address: Address) -> Iterator[str]:
    """What is found with the help of a value, worst first; and what merely looked at it."""
    readers = [rule for rule in assessment.rules if _reads(assessment, lookup, rule, address)]
    found = list(_found(assessment, lookup, readers, address))
    if found:
        yield "what rests on it:"
        yield from _indented(_finding_line(finding) for finding, _ in found)
    said_by = {rule for _, rules in found for rule in rules}
    looked = [rule for rule in readers if rule not in said_by]
    if looked:
        yield "also looked at for these, and not what decides them:"
        yield from _indented(rule.asks for rule in looked)
    waiting = [rule for rule in assessment.rules if is_waiting(assessment, rule)]
    if waiting:
        yield "not computed yet, so these may rest on it too:"
        yield from _indented(rule.asks for rule in waiting)
    if not readers and not waiting:
        yield "no rule reads it: whether it is right is not known"
        yield f"nothing looks yet at {'; '.join(NOT_LOOKED_AT)}"


def _reads(assessment: Assessment, lookup: Lookup, rule: Rule, address: Address) -> bool:
    keys = reads_of(assessment, CellKey(rule.cell, ()))
    return any(_touches(lookup, key, address) for key in keys if isinstance(key, FieldKey))


def _touches(lookup: Lookup, key: FieldKey, address: Address) -> bool:
    """Whether a read is of the value, or of a part of it, or of what holds it."""
    if key.ref.id != address.ref.id or key.ref not in _pieces(lookup, address):
        return False
    return covers(key.path, address.path) or covers(address.path, key.path)


def _pieces(lookup: Lookup, address: Address) -> tuple[Ref, ...]:
    """The pieces a value is on; an end of a rack is the rack."""
    return (*sides_moving(lookup, address), Ref(address.ref.id))


def _found(
    assessment: Assessment, lookup: Lookup, readers: list[Rule], address: Address
) -> Iterator[tuple[Finding, tuple[Rule, ...]]]:
    webs: dict[tuple[Rule, ...], Web] = {}
    for finding in to_look_at(assessment):
        rules = tuple(rule for rule in rules_behind(assessment, finding) if rule in readers)
        if rules not in webs:
            webs[rules] = Web(assessment, rules)
        near = webs[rules].rests(finding).near
        if any(_touches(lookup, key, address) for key in near):
            yield finding, rules


def _finding_line(finding: Finding) -> str:
    verdict = WORDS[finding.verdict]
    if finding.behind:
        verdict = f"before this change, {verdict}"
    accepted = f" (accepted: {finding.accepted})" if finding.accepted else ""
    return f"{verdict}{_figures(finding)}: {finding.sentence}{accepted}"


def _figures(finding: Finding) -> str:
    if finding.measured is None:
        return ""
    measured = with_unit(round(finding.measured, 2), finding.unit)
    if finding.limit is None:
        return f", {measured}"
    return f", {measured} against {with_unit(round(finding.limit, 2), finding.unit)}"


def why_finding(assessment: Assessment, finding: Finding) -> tuple[str, ...]:
    """What a finding rests on, by where each value comes from, guessed ones first.

    The recorded reads of its rule are followed backwards and narrowed to the finding as told in
    `core.study.rests`: the values listed are all that its figure is worked out from, and some
    that only meet the same joints. What the rule looked at besides is counted in the last lines;
    a change there leaves the figure, but can bring another finding in its place.

    Raises:
        StudyError: the assessment does not say it.
    """
    lookup = Lookup(assessment.document)
    found = rests(assessment, finding)
    return (
        _finding_line(finding),
        *_indented(_waiting_lines(found)),
        *_indented(_limit_line(finding)),
        *_indented(_by_source(lookup, found.near)),
        *_indented(_joined(lookup, found.near)),
        *_indented(_around(lookup, found)),
    )


def _waiting_lines(found: Rests) -> Iterator[str]:
    for rule in found.not_yet:
        yield f"not computed yet, so what it rests on is not known: {rule.asks}"


def _limit_line(finding: Finding) -> Iterator[str]:
    if finding.limit_source:
        yield f"held against: {finding.limit_source}"


def _by_source(lookup: Lookup, near: Iterable[FieldKey]) -> Iterator[str]:
    lines: dict[Source, dict[str, None]] = {source: {} for source in SOURCES}
    for address in _with_numbers(lookup, near):
        source, kept = source_at(lookup, address), stored(lookup, address)
        shown = kept if source_at(lookup, kept) == source else address
        lines[source][_value_line(lookup, shown)] = None
    for source in SOURCES:
        if lines[source]:
            yield f"{SOURCE_WORDS[source]}:"
            yield from _indented(lines[source])


def _with_numbers(lookup: Lookup, near: Iterable[FieldKey]) -> Iterator[Address]:
    """The read values that hold numbers; one whose parts differ in source, number by number."""
    for key in near:
        if key.ref.id not in lookup.by_id:
            continue
        address = Address(key.ref, key.path)
        paths = numbers_at(piece(lookup, key.ref), key.path)
        parts = [Address(key.ref, path) for path in paths]
        alike = len({source_at(lookup, part) for part in parts}) == 1
        if parts and alike:
            yield address
        elif parts:
            yield from parts


def _passed_over(lookup: Lookup, near: Iterable[FieldKey]) -> set[Ref]:
    """Limits of other rules, of which only the rule was read."""
    limits = {key.ref for key in near if isinstance(lookup.by_id.get(key.ref.id), Limit)}
    return limits - {key.ref for key in near if key.path == "value"}


def _joined(lookup: Lookup, near: Iterable[FieldKey]) -> Iterator[str]:
    """Values without numbers: what refers to what, and words; a thing a line."""
    by_thing: dict[Ref, list[str]] = {}
    passed_over = _passed_over(lookup, near)
    for key in near:
        address = Address(key.ref, key.path)
        if key.ref in passed_over or key.ref.id not in lookup.by_id:
            continue
        if not numbers_at(piece(lookup, key.ref), key.path):
            by_thing.setdefault(key.ref, []).append(f"{key.path} {_plain(lookup, address)}")
    if by_thing:
        yield "what is joined to what, as drawn:"
    for ref, parts in by_thing.items():
        yield f"{STEP}{lookup.label(ref)}: {', '.join(parts)}"


def _plain(lookup: Lookup, address: Address) -> str:
    words = valued(lookup, address)
    return "none" if words in ("not known", "no numbers") else words


def _around(lookup: Lookup, found: Rests) -> Iterator[str]:
    near = {key.ref for key in found.near} - _passed_over(lookup, found.near)
    others = {key.ref for key in (*found.near, *found.around) if key.ref.id in lookup.by_id} - near
    kinds: Counter[Path] = Counter(kind_of(lookup.by_id[ref.id]) for ref in others)
    if kinds:
        counts = ", ".join(f"{kind} {count}" for kind, count in sorted(kinds.items()))
        yield f"its rule also looked at other things (pieces of each kind: {counts})"
        yield "a change there leaves this figure, but can bring another finding in its place"
