"""Finding things in a document, and their names on screen."""

from collections.abc import Iterator
from functools import cached_property

from core.document.base import Entity, Ref, kind_name
from core.document.project import KINDS, Document


class Lookup:
    """Things of one document by id; built once for a document and thrown away with it."""

    def __init__(self, document: Document) -> None:
        """Look into `document`."""
        self.document = document

    @cached_property
    def by_id(self) -> dict[str, Entity]:
        """Every thing by its id."""
        return {entity.id: entity for entity in entities(self.document)}

    def find(self, name_or_id: str) -> list[Ref]:
        """Every side of every thing that has this id, this name, or this label."""
        direct = self.by_id.get(name_or_id)
        if direct is not None:
            return sides(direct)
        found = [e for e in self.by_id.values() if e.name == name_or_id]
        if found:
            return [ref for entity in found for ref in sides(entity)]
        return [
            ref
            for entity in self.by_id.values()
            if entity.pair
            for ref in sides(entity)
            if label(entity, ref) == name_or_id
        ]

    def label(self, ref: Ref) -> str:
        """What the thing is called on screen; its id where it is missing."""
        entity = self.by_id.get(ref.id)
        return ref.id if entity is None else label(entity, ref)


def entities(document: Document) -> Iterator[Entity]:
    """Every thing in the document, kind by kind, in the order of the file."""
    for field in KINDS:
        yield from getattr(document, field)


def sides(entity: Entity) -> list[Ref]:
    """The one, or the left and the right, of a thing."""
    if entity.pair:
        return [Ref(entity.id, "left"), Ref(entity.id, "right")]
    return [Ref(entity.id)]


def label(entity: Entity, ref: Ref) -> str:
    """Name with its side: «K_L» where names are joined by underlines, else «K left»."""
    if ref.side == "one":
        return entity.name
    joined = " " not in entity.name and ("_" in entity.name or entity.name.isupper())
    return f"{entity.name}_{ref.side[0].upper()}" if joined else f"{entity.name} {ref.side}"


def kind_of(entity: Entity) -> str:
    """The word for its kind, in plain words."""
    return KIND_WORDS.get(kind_name(type(entity)), kind_name(type(entity)).replace("_", " "))


KIND_WORDS = {
    "power_unit": "engine and gearbox",
    "panel": "sheet",
    "way_out": "way out",
    "part": "part",
}
