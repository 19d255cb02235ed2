"""Rules between the things of a document: run on load and after each edit."""

from collections.abc import Iterable, Iterator

from core.document.base import Entity
from core.document.car_rules import (
    bracket_faults,
    car_faults,
    circle_faults,
    identity_faults,
    number_faults,
    repeated_ids,
    repeated_names,
)
from core.document.errors import BrokenRulesError, Fault
from core.document.layers import lay
from core.document.lookup import Lookup, entities
from core.document.project import KINDS, Document, Layer, Project
from core.document.steel import Bracket, Point, Tube
from core.document.thing_rules import entity_faults, fact_faults

__all__ = [
    "BrokenRulesError",
    "Fault",
    "changed_entities",
    "check_change",
    "check_document",
    "check_project",
    "check_project_change",
    "checked",
]


def check_document(document: Document) -> list[Fault]:
    """Contradictions between the things of a document; an empty list if there is none.

    What the things are together is looked at once each of them bears out.
    """
    lookup = Lookup(document)
    faults = list(identity_faults(document))
    for entity in entities(document):
        faults += entity_faults(entity, lookup)
    return faults or [
        *car_faults(document),
        *circle_faults(document, lookup),
        *bracket_faults(document, lookup),
    ]


def check_change(before: Document, after: Document) -> list[Fault]:
    """Contradictions brought in by an edit of a document that had none.

    Where only values of things changed, only those things are looked at again.
    """
    if before is after:
        return []
    changed = list(changed_entities(before, after))
    if not _same_cast(before, after):
        return check_document(after)
    lookup = Lookup(after)
    faults = [fault for entity in changed for fault in entity_faults(entity, lookup)]
    if after.next_number < before.next_number:
        faults += number_faults(after, entities(after))
    if not faults:
        faults += car_faults(after)
    if not faults and any(isinstance(entity, Point | Tube) for entity in changed):
        faults += circle_faults(after, lookup) if any(p.along for p in after.points) else ()
    if not faults and any(isinstance(entity, Bracket) for entity in changed):
        faults += bracket_faults(after, lookup)
    return faults


def _same_cast(before: Document, after: Document) -> bool:
    """Whether both hold the same things under the same names, in the same order."""
    return all(
        len(old) == len(new) and all(map(_same_identity, old, new))
        for field in KINDS
        if (old := getattr(before, field)) is not (new := getattr(after, field))
    )


def _same_identity(a: Entity, b: Entity) -> bool:
    return a is b or (a.id == b.id and a.name == b.name and a.pair == b.pair)


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


def check_project(project: Project) -> list[Fault]:
    """Every contradiction in a project: its drawn car, its readings, its layers."""
    faults = check_document(project.drawn)
    return faults or list(_faults_around(project))


def check_project_change(before: Project, after: Project) -> list[Fault]:
    """Contradictions brought in by an edit of a project that had none.

    An edit of the drawn car can also leave a reading or a layer without what it is about.
    """
    faults = check_change(before.drawn, after.drawn)
    return faults or list(_faults_around(after))


def _faults_around(project: Project) -> Iterator[Fault]:
    """Contradictions of readings and layers with a drawn car that has none itself."""
    lookup = Lookup(project.drawn)
    known = {reading.id for reading in project.readings}
    around: tuple[Entity, ...] = (*project.readings, *project.layers)
    yield from repeated_ids(around)
    yield from repeated_names(project.layers)
    laid = tuple(thing for layer in project.layers for thing in layer.put)
    yield from number_faults(project.drawn, (*around, *laid))
    yield from _reading_faults((*entities(project.drawn), *around), known)
    for reading in project.readings:
        yield from entity_faults(reading, lookup)
    for layer in project.layers:
        yield from fact_faults(layer, lookup)
        yield from _layer_faults(project.drawn, layer, known)


def _reading_faults(things: Iterable[Entity], known: set[str]) -> Iterator[Fault]:
    """Facts that rest on readings which the project has not got."""
    for thing in things:
        for number, fact in enumerate(thing.facts):
            for ref in fact.readings:
                if ref.id not in known or ref.side != "one":
                    words = f"{thing.name}: there is no reading {str(ref)[:80]} for its fact"
                    yield Fault(thing.id, f"facts.{number}", words)


def _layer_faults(drawn: Document, layer: Layer, known: set[str]) -> Iterator[Fault]:
    try:
        laid = lay(drawn, layer)
    except ValueError as error:
        yield Fault(layer.id, "", f"layer {layer.name} cannot be laid: {error}")
        return
    for fault in [*_reading_faults(layer.put, known), *check_change(drawn, laid)][:1]:
        words = f"with layer {layer.name} laid over it: {fault.words}"
        yield Fault(layer.id, "", words)
