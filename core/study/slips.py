"""Slips of the workshop as overlays: a thing moved, changed, left out or added, past all holds."""

from typing import Literal, NamedTuple

import msgspec

from core.document.base import Entity, Ref, Vec3
from core.document.layers import replace_thing
from core.document.lookup import Lookup
from core.document.power import Mount, Stiffness
from core.document.project import Document
from core.document.steel import Point, Section, Tube
from core.edits.things import delete, make
from core.edits.tube_places import place_on_tube
from core.engine.address import Address, AddressError, value_of
from core.engine.overlay import Overlay, with_numbers
from core.study.rests import StudyError


class SubjectMissingError(StudyError):
    """A slip on a car that lacks the thing it is about."""


class Subject(NamedTuple):
    """A thing by its kind and name, or one side of the pair of that name.

    Attributes:
        kind: its kind.
        name: what it is called; of a pair, without the side.
        side: which piece of a pair; the first where it does not matter.
    """

    kind: type[Entity]
    name: str
    side: Literal["", "left", "right"] = ""

    def ref(self, document: Document) -> Ref:
        """The reference to it.

        Raises:
            SubjectMissingError: this car has no such thing, or not on that side.
        """
        lookup = Lookup(document)
        for ref in lookup.find(self.name):
            meant = isinstance(lookup.by_id[ref.id], self.kind)
            if meant and (not self.side or ref.side == self.side):
                return ref
        raise SubjectMissingError(self.missing())

    def missing(self, path: str = "") -> str:
        """The sentence for a car without it, or without that value of it."""
        kind = str(self.kind.__struct_config__.tag).replace("_", " ")
        value = f" with a «{path}»" if path else ""
        side = f" on the {self.side}" if self.side else ""
        return (
            f"there is no {kind} «{self.name}»{side}{value} in this car: it cannot have this fault"
        )

    def value(self, document: Document, path: str) -> object:
        """The value at a path of it.

        Raises:
            SubjectMissingError: this car has no such thing, or it has no such value.
        """
        address = Address(self.ref(document), path)
        try:
            return value_of(Lookup(document), address)
        except AddressError as error:
            raise SubjectMissingError(self.missing(path)) from error


def another(subject: Subject, path: str, value: object) -> Overlay:
    """An overlay with another value at a path of a thing."""

    def lay(document: Document) -> Document:
        subject.value(document, path)
        return with_numbers([(Address(subject.ref(document), path), value)])(document)

    return lay


def moved(subject: Subject, path: str, by: float) -> Overlay:
    """An overlay with a number of a thing more by so much, in its own unit."""

    def lay(document: Document) -> Document:
        was = subject.value(document, path)
        if not isinstance(was, int | float):
            raise SubjectMissingError(subject.missing(path))
        return another(subject, path, was + by)(document)

    return lay


def together(*overlays: Overlay) -> Overlay:
    """An overlay that lays one after the other."""

    def lay(document: Document) -> Document:
        for overlay in overlays:
            document = overlay(document)
        return document

    return lay


def left_out(subject: Subject) -> Overlay:
    """An overlay without a thing, and without whatever cannot be where that is missing."""

    def lay(document: Document) -> Document:
        return delete(document, subject.ref(document).id, with_dependents=True)

    return lay


def tube_added(name: str, section: str, start: Subject, end: Subject) -> Overlay:
    """An overlay with a straight tube more, from joint to joint."""

    def lay(document: Document) -> Document:
        made_of = Subject(Section, section).ref(document)
        ends = {"start": start.ref(document), "end": end.ref(document)}
        return make(document, Tube, name, section=made_of, role="seeded", **ends)[0]

    return lay


def joints_added(name: str, tube: Subject, near: Vec3) -> Overlay:
    """An overlay with a pair of joints more, which follow a pair of tubes; mm, car frame."""

    def lay(document: Document) -> Document:
        along = place_on_tube(document, tube.ref(document), near)
        return make(document, Point, name, pair=True, along=along)[0]

    return lay


def rubber(mount: Subject, stiffness: Stiffness) -> Overlay:
    """An overlay in which the insert that is fitted in a mount has another stiffness, N/mm."""

    def lay(document: Document) -> Document:
        thing = Lookup(document).by_id[mount.ref(document).id]
        assert isinstance(thing, Mount)
        if not thing.fitted:
            raise SubjectMissingError(mount.missing("fitted"))
        path = f"inserts.{thing.fitted}.stiffness"
        return another(mount, path, stiffness)(document)

    return lay


def unit_moved(by: Vec3) -> Overlay:
    """An overlay with the one engine and gearbox moved in the car, mm."""

    def lay(document: Document) -> Document:
        if len(document.power_units) != 1:
            msg = "there is not one engine and gearbox in this car: it cannot have this fault"
            raise SubjectMissingError(msg)
        (unit,) = document.power_units
        to = Vec3(*(a + b for a, b in zip(unit.origin, by, strict=True)))
        return replace_thing(document, msgspec.structs.replace(unit, origin=to))

    return lay
