"""One document as the engine sees it: its values by key, and the recording stand-in for a thing."""

from collections.abc import Callable, Mapping
from inspect import getattr_static
from typing import Any, Final, NamedTuple

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


class FormKey(NamedTuple):
    """A read of whether there is a group of values at a path, such as a bench's readings."""

    ref: Ref
    path: str
    asks: str = "form"  # keeps it unlike a FieldKey of the same path


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


DocumentKey = FieldKey | FormKey | KindKey | LabelKey | OfKindKey | MeshKey
Key = DocumentKey | CellKey


KIND: Final = "kind"
"""In a token, in place of a field: whether the thing is there, and what kind it is of."""


def token(key: DocumentKey) -> object:
    """What must change in the document for this key to change.

    A field of a thing, its name or its kind, each with the thing's id; a kind; a mesh.
    """
    if isinstance(key, FieldKey | FormKey):
        return key.ref.id, key.path.partition(".")[0]
    if isinstance(key, KindKey):
        return key.kind
    if isinstance(key, MeshKey):
        return key
    return key.ref.id, "name" if isinstance(key, LabelKey) else KIND


class View:
    """The values of one document and its meshes, by key."""

    def __init__(self, document: Document, meshes: Mapping[str, bytes]) -> None:
        """Look at a document with its meshes by SHA-256."""
        self.document = document
        self.meshes = meshes
        self.lookup = Lookup(document)
        self._pieces: dict[Ref, Entity] = {}

    def piece(self, ref: Ref) -> Entity:
        """The thing on one side; worked out once.

        Raises:
            KeyError: it is not there.
        """
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
        if isinstance(key, FormKey):
            return type(value_at(self.piece(key.ref), key.path))
        if isinstance(key, LabelKey):
            return self.lookup.label(key.ref)
        if isinstance(key, KindKey):
            things: tuple[Entity, ...] = getattr(self.document, FIELD_OF[key.kind])
            return tuple(ref for thing in things for ref in sides(thing))
        if isinstance(key, OfKindKey):
            return isinstance(self.lookup.by_id.get(key.ref.id), key.kind)
        return key.sha256 in self.meshes


class Recording:
    """Stands in for a thing or a group of values in it: what is taken from it is written down.

    It is not an instance of the thing's kind. Compared, hashed or shown it is read whole. Methods
    and properties of the kind work on the stand-in, so that their reads are written down too.
    """

    __slots__ = ("_note", "_path", "_ref", "_thing")

    def __init__(
        self, thing: Struct, ref: Ref, path: str, note: Callable[[DocumentKey, object], None]
    ) -> None:
        """Stand in for `thing`, which is at `path` inside `ref`."""
        self._thing = thing
        self._ref = ref
        self._path = path
        self._note = note

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 - values of any kind
        """The value, written down; a group of values is stood in for as well."""
        thing = self._thing
        if name not in thing.__struct_fields__:
            return self._of_kind(name)
        value = getattr(thing, name)
        path = f"{self._path}.{name}" if self._path else name
        if isinstance(value, Struct) and not isinstance(value, Ref):
            self._note(FormKey(self._ref, path), type(value))
            return Recording(value, self._ref, path, self._note)
        self._note(FieldKey(self._ref, path), value)
        return value

    def _of_kind(self, name: str) -> Any:  # noqa: ANN401 - methods and properties of any kind
        kind = type(self._thing)
        found = None if name.startswith("__") else getattr_static(kind, name, None)
        if found is None or not hasattr(found, "__get__"):
            msg = f"a {kind.__name__} has no «{name}»"
            raise AttributeError(msg)
        return found.__get__(self, kind)

    def whole(self) -> Struct:
        """All of it, written down as one read."""
        self._note(FieldKey(self._ref, self._path), self._thing)
        return self._thing

    def __eq__(self, other: object) -> bool:
        """Whether it equals another thing or stand-in; reads both whole."""
        return self.whole() == (other.whole() if isinstance(other, Recording) else other)

    def __hash__(self) -> int:
        """The hash of the thing, read whole."""
        return hash(self.whole())

    def __repr__(self) -> str:
        """What the thing shows, read whole."""
        return repr(self.whole())
