"""Rules between the things of a document, in one place: run on load and after each edit."""

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from core.document.base import Entity, Ref, kind_name
from core.document.layers import lay
from core.document.lookup import Lookup, entities
from core.document.paths import NoSuchPathError, value_at
from core.document.project import KINDS, Document, Project
from core.document.references import references
from core.document.sides import on_side
from core.document.steel import Point, Tube

PLACE_KINDS = ("point", "rack")
"""Kinds of a reference to a place: a point, or an end of the steering rack."""


class Fault(NamedTuple):
    """One way in which the things of a document contradict one another."""

    id: str  # of the thing at fault
    path: str  # inside it
    words: str


class BrokenRulesError(ValueError):
    """A document whose things contradict one another."""

    def __init__(self, faults: list[Fault]) -> None:
        """Say the first fault, keep them all."""
        super().__init__(faults[0].words)
        self.faults = faults


def check_document(document: Document) -> list[Fault]:
    """Every contradiction between the things of a document; an empty list if there is none."""
    lookup = Lookup(document)
    everything = list(entities(document))
    faults = [*_identity_faults(document, everything)]
    for entity in everything:
        faults += entity_faults(entity, lookup)
    return faults or list(_circle_faults(document, lookup))


def check_change(before: Document, after: Document) -> list[Fault]:
    """Contradictions brought in by an edit of a document that had none.

    Where only values of things changed, only those things are looked at again.
    """
    changed = list(changed_entities(before, after))
    same_cast = all(
        len(getattr(before, field)) == len(getattr(after, field))
        and all(_same_identity(a, b) for a, b in _pairs(before, after, field))
        for field in KINDS
        if getattr(before, field) is not getattr(after, field)
    )
    if not same_cast:
        return check_document(after)
    lookup = Lookup(after)
    faults = [fault for entity in changed for fault in entity_faults(entity, lookup)]
    moved_on_tubes = any(isinstance(entity, Point | Tube) for entity in changed)
    if moved_on_tubes and not faults and any(p.along for p in after.points):
        faults += _circle_faults(after, lookup)
    return faults


def _same_identity(a: Entity, b: Entity) -> bool:
    return a is b or (a.id == b.id and a.name == b.name and a.pair == b.pair)


def _pairs(before: Document, after: Document, field: str) -> Iterator[tuple[Entity, Entity]]:
    return zip(getattr(before, field), getattr(after, field), strict=False)


def changed_entities(before: Document, after: Document) -> Iterator[Entity]:
    """The things of `after` that are not the very same objects in `before`."""
    for field in KINDS:
        old, new = getattr(before, field), getattr(after, field)
        if old is not new:
            known = {id(entity) for entity in old}
            yield from (entity for entity in new if id(entity) not in known)


def checked(before: Document, after: Document) -> Document:
    """`after`, if it keeps the rules.

    Raises:
        BrokenRulesError: with every contradiction the change brought in.
    """
    faults = check_change(before, after)
    if faults:
        raise BrokenRulesError(faults)
    return after


def _identity_faults(document: Document, everything: list[Entity]) -> Iterator[Fault]:
    ids = Counter(entity.id for entity in everything)
    for entity in everything:
        if ids[entity.id] > 1:
            yield Fault(entity.id, "id", f"two things have the id {entity.id}")
    for field in KINDS:
        names = Counter(entity.name for entity in getattr(document, field))
        for entity in getattr(document, field):
            if names[entity.name] > 1:
                words = f"two things of one kind are called «{entity.name}»; rename one of them"
                yield Fault(entity.id, "name", words)
    if len(document.cars) > 1:
        yield Fault(document.cars[1].id, "id", "a document describes one car, and this is another")
    for entity in everything:
        number = entity.id.lstrip("abcdefghijklmnopqrstuvwxyz_")
        if number and int(number) >= document.next_number:
            words = f"next_number must be above the number in every id, such as {entity.id}"
            yield Fault(entity.id, "id", words)


def entity_faults(entity: Entity, lookup: Lookup) -> list[Fault]:
    """What one thing says that the other things do not bear out."""
    faults = list(_reference_faults(entity, lookup))
    if entity.pair and entity.right:
        faults += _right_side_faults(entity, lookup)
    faults += _fact_faults(entity, lookup)
    if isinstance(entity, Point):
        faults += _along_faults(entity)
    return faults


def _reference_faults(entity: Entity, lookup: Lookup) -> Iterator[Fault]:
    for path, ref, kinds, _ in references(entity):
        words = ref_fault(ref, kinds, lookup)
        if words is not None:
            yield Fault(entity.id, path, f"{entity.name}: `{path}` {words}")


def ref_fault(ref: Ref, kinds: tuple[str, ...], lookup: Lookup) -> str | None:
    """What is wrong with a reference, in words; nothing if it holds."""
    target = lookup.by_id.get(ref.id)
    if kinds == ("reading",):
        return None  # readings belong to the project; see `check_project`
    if target is None:
        return f"names {ref.id}, which is not there"
    if kinds and kind_name(type(target)) not in kinds:
        return (
            f"names {target.name}, which is a {kind_name(type(target))}, not {' or '.join(kinds)}"
        )
    is_rack_end = kinds == PLACE_KINDS and kind_name(type(target)) == "rack"  # it has two balls
    if (target.pair or is_rack_end) and ref.side == "one":
        return f"must say which side of {target.name} is meant, left or right"
    if not target.pair and not is_rack_end and ref.side != "one":
        return f"names the {ref.side} side of {target.name}, which is a single thing"
    return None


def _right_side_faults(entity: Entity, lookup: Lookup) -> Iterator[Fault]:
    try:
        right = on_side(entity, "right")
    except ValueError as error:
        yield Fault(entity.id, "right", f"{entity.name}, right side: {error}")
        return
    for path, ref, kinds, _ in references(right):
        words = ref_fault(ref, kinds, lookup)
        if words is not None:
            yield Fault(entity.id, "right", f"{entity.name}, right side: `{path}` {words}")


def _fact_faults(entity: Entity, lookup: Lookup) -> Iterator[Fault]:
    for number, fact in enumerate(entity.facts):
        try:
            value_at(entity, fact.of)
        except NoSuchPathError as error:
            words = f"{entity.name}: a fact is about «{fact.of}», but {error}"
            yield Fault(entity.id, f"facts[{number}]", words)
        for because in fact.because:
            words_or_none = ref_fault(because.ref, (), lookup)
            if words_or_none:
                words = f"{entity.name}: the reason for «{fact.of}» {words_or_none}"
                yield Fault(entity.id, f"facts[{number}]", words)


def _along_faults(point: Point) -> Iterator[Fault]:
    if not point.pair or point.along is None or point.along.tube.side != "one":
        return
    if not any(own.of.split(".")[0] in ("along", "at") for own in point.right):
        words = (
            f"{point.name} is a pair on one single tube, so its right side needs its own place "
            "along it; otherwise both would be in one spot"
        )
        yield Fault(point.id, "along", words)


def _circle_faults(document: Document, lookup: Lookup) -> Iterator[Fault]:
    """Tubes whose places follow one another round in a circle."""
    rests_on = {
        ref: set(_tubes_under(tube, ref, lookup))
        for tube in document.tubes
        for ref in ([Ref(tube.id, "left"), Ref(tube.id, "right")] if tube.pair else [Ref(tube.id)])
    }
    done: set[Ref] = set()
    for start in rests_on:
        circle = _find_circle(start, rests_on, done)
        if circle:
            names = " and ".join(lookup.label(ref) for ref in circle)
            words = f"{names} each end at a place along the other; give one joint its coordinates"
            yield Fault(start.id, "start", words)
            return


def _tubes_under(tube: Tube, ref: Ref, lookup: Lookup) -> Iterator[Ref]:
    piece = on_side(tube, ref.side)
    assert isinstance(piece, Tube)
    for point_ref in (piece.start, piece.end, *(bend.point for bend in piece.bends)):
        point = lookup.by_id[point_ref.id]
        placed = on_side(point, point_ref.side)
        if isinstance(placed, Point) and placed.along is not None:
            yield placed.along.tube


def _find_circle(start: Ref, rests_on: dict[Ref, set[Ref]], done: set[Ref]) -> list[Ref]:
    trail: list[Ref] = []
    todo: list[tuple[Ref, bool]] = [(start, False)]
    while todo:
        ref, leaving = todo.pop()
        if leaving:
            trail.pop()
            done.add(ref)
        elif ref in trail:
            return trail[trail.index(ref) :]
        elif ref not in done:
            trail.append(ref)
            todo.append((ref, True))
            todo += [(under, False) for under in rests_on.get(ref, ())]
    return []


def check_project(project: Project) -> list[Fault]:
    """Every contradiction in a project: its drawn car, its readings, its layers."""
    faults = check_document(project.drawn)
    known = {reading.id for reading in project.readings}
    for entity in entities(project.drawn):
        for fact in entity.facts:
            faults += [
                Fault(entity.id, "facts", f"{entity.name}: reading {ref.id} is not there")
                for ref in fact.readings
                if ref.id not in known
            ]
    return faults + list(_repeated(project)) + list(_layer_faults(project))


def _layer_faults(project: Project) -> Iterator[Fault]:
    for layer in project.layers:
        try:
            laid = lay(project.drawn, layer)
        except ValueError as error:
            yield Fault(layer.id, "changes", f"layer {layer.name} cannot be laid: {error}")
            continue
        for fault in check_document(laid)[:1]:
            words = f"with layer {layer.name} laid over it, {fault.words}"
            yield Fault(layer.id, "changes", words)


def _repeated(project: Project) -> Iterator[Fault]:
    others: Iterable[Entity] = (*project.readings, *project.layers)
    ids = Counter(entity.id for entity in (*entities(project.drawn), *others))
    for entity in others:
        if ids[entity.id] > 1:
            yield Fault(entity.id, "id", f"two things have the id {entity.id}")
