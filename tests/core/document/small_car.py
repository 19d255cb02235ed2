"""A small invented car with a thing of every kind in it, pairs, own values, facts and layers."""

from pathlib import Path
from typing import TypeVar

import msgspec

from core.document.base import Entity, Ref
from core.document.codec import decode_project
from core.document.layers import replace_thing
from core.document.lookup import Lookup
from core.document.project import Document, Project

E = TypeVar("E", bound=Entity)

ROOT = Path(__file__).parents[3]
FILES = ROOT / "tests" / "files"
SMALL = FILES / "version-2.jigplate"
DEMO = ROOT / "assets" / "demo-car.jigplate"
SECOND = ROOT / "tests" / "cars" / "second-car.jigplate"


def small_project() -> Project:
    """The project of the small car."""
    return decode_project(SMALL.read_bytes())


def small_car() -> Document:
    """The small car as drawn."""
    return small_project().drawn


def thing(document: Document, kind: type[E], thing_id: str) -> E:
    """A thing of a document by its id."""
    found = Lookup(document).by_id[thing_id]
    assert isinstance(found, kind)
    return found


def changed(document: Document, thing_id: str, **fields: object) -> Document:
    """The document with fields of a thing replaced, without a look at the rules."""
    old = Lookup(document).by_id[thing_id]
    return replace_thing(document, msgspec.structs.replace(old, **fields))


def left(thing_id: str) -> Ref:
    """The left piece of a pair."""
    return Ref(thing_id, "left")


def right(thing_id: str) -> Ref:
    """The right piece of a pair."""
    return Ref(thing_id, "right")
