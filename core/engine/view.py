"""One document as the engine sees it: its values by key, and the recording stand-in for a thing."""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from msgspec import Struct

from core.document.base import Entity, Ref
from core.document.lookup import Lookup, sides
from core.document.paths import value_at
from core.document.project import FIELD_OF, Document
from core.document.sides import on_side
from core.engine.cells import CellKey


class FieldKey(NamedTuple):
    """A read of one field of a thing."""

    ref: Ref
    path: str


class KindKey(NamedTuple):
    """A read of which things of a kind there are."""

    kind: type[Entity]


class LabelKey(NamedTuple):
    """A read of what a thing is called."""

    ref: Ref


class OfKindKey(NamedTuple):
    """A read of whether a thing is of a kind."""

    kind: type[Entity]
    ref: Ref


class MeshKey(NamedTuple):
    """A read of whether a mesh is at hand; its bytes follow from its name."""

    sha256: str


DocumentKey = FieldKey | KindKey | LabelKey | OfKindKey | MeshKey
Key = DocumentKey | CellKey


class View:
    """The values of one document and its meshes, by key."""

    def __init__(self, document: Document, meshes: Mapping[str, bytes]) -> None:
        """Look at a document with its meshes by SHA-256."""
        self.document = document
        self.meshes = meshes
        self.lookup = Lookup(document)
        self._pieces: dict[Ref, Entity] = {}

    def piece(self, ref: Ref) -> Entity:
        """The thing on one side; worked out once."""
        found = self._pieces.get(ref)
        if found is None:
            found = self._pieces[ref] = on_side(self.lookup.by_id[ref.id], ref.side)
        return found

    def value(self, key: DocumentKey) -> Any:  # noqa: ANN401 - values of any kind
        """The value of a key.

        Raises:
            KeyError: the thing is not there.
            NoSuchPathError: the path leads nowhere in it.
        """
        if isinstance(key, FieldKey):
            return value_at(self.piece(key.ref), key.path)
        if isinstance(key, LabelKey):
            return self.lookup.label(key.ref)
        if isinstance(key, KindKey):
            things: tuple[Entity, ...] = getattr(self.document, FIELD_OF[key.kind])
            return tuple(ref for thing in things for ref in sides(thing))
        if isinstance(key, OfKindKey):
            return isinstance(self.lookup.by_id.get(key.ref.id), key.kind)
        return key.sha256 in self.meshes


class Recording:
    """Stands in for a thing: each value taken from it is written down as a read."""

    __slots__ = ("_note", "_path", "_ref", "_thing")

    def __init__(
        self, thing: Struct, ref: Ref, path: str, note: Callable[[Key, object], None]
    ) -> None:
        """Stand in for `thing`, which is at `path` inside `ref`."""
        self._thing = thing
        self._ref = ref
        self._path = path
        self._note = note

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 - values of any kind
        """The value, written down; a struct inside is stood in for as well."""
        value = getattr(self._thing, name)
        path = f"{self._path}.{name}" if self._path else name
        if isinstance(value, Struct) and not isinstance(value, Ref):
            return Recording(value, self._ref, path, self._note)
        self._note(FieldKey(self._ref, path), value)
        return value
