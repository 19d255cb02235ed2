"""A left-hand and a right-hand thing made one pair, and the names of pairs."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple, TypeVar

import msgspec
from msgspec import Struct

from core.document.base import IDENTITY_FIELDS, Entity, Own, Ref, Vec3, kind_name
from core.document.paths import item_name
from core.document.sides import mirror_thing, on_side
from tests.cars.neutral import ConversionError

T = TypeVar("T", bound=Entity)


class Named(NamedTuple):
    """The name of a thing, and whether it is a pair."""

    name: str
    pair: bool = False


class Names:
    """Ids by kind and name, in the order in which the things are written."""

    def __init__(self, catalogue: dict[str, list[Named]]) -> None:
        """Number the things of each kind from 1."""
        self.catalogue = catalogue
        self._ids: dict[tuple[str, str], str] = {}
        self._refs: dict[tuple[str, str], Ref] = {}
        for kind, named in catalogue.items():
            for count, (name, pair) in enumerate(named, 1):
                self._enter(kind, name, f"{kind}{count}", pair=pair)

    def _enter(self, kind: str, name: str, new_id: str, *, pair: bool) -> None:
        if (kind, name) in self._ids:
            msg = f"two things of the kind {kind} are called «{name}»"
            raise ConversionError(msg)
        self._ids[kind, name] = new_id
        if pair:
            self._refs[kind, name + "_L"] = Ref(new_id, "left")
            self._refs[kind, name + "_R"] = Ref(new_id, "right")
        else:
            self._refs[kind, name] = Ref(new_id)

    def id(self, kind: str, name: str) -> str:
        """The id of a thing.

        Raises:
            ConversionError: there is none of that name.
        """
        return self._found(self._ids, kind, name)

    def ref(self, kind: str, label: str) -> Ref:
        """The reference to a thing, or with _L or _R behind its name to one side of a pair.

        Raises:
            ConversionError: there is none of that name.
        """
        return self._found(self._refs, kind, label)

    def _found(self, known: dict[tuple[str, str], "U"], kind: str, name: str) -> "U":
        if (kind, name) not in known:
            msg = f"«{name}» is named, but there is no {kind} of that name"
            raise ConversionError(msg)
        return known[kind, name]

    def largest_number(self) -> int:
        """The largest number in any id."""
        return max(len(named) for named in self.catalogue.values())


U = TypeVar("U")


def collapsed(labels: Iterable[str], single: frozenset[str] = frozenset()) -> list[Named]:
    """Labels with every X_L and X_R made one pair X, but for names X that must stay single."""
    known = list(labels)
    result: list[Named] = []
    for label in known:
        stem, side = label[:-2], label[-2:]
        both = side in ("_L", "_R") and {stem + "_L", stem + "_R"} <= set(known)
        named = Named(stem, pair=True) if both and stem not in single else Named(label)
        if named not in result:
            result.append(named)
    return result


def as_pair(left: T, right: T) -> T:
    """The left-hand thing as a pair whose right-hand piece is `right`.

    Raises:
        ConversionError: the pair would not give the right-hand thing back.
    """
    own = tuple(differences(mirror_thing(left), right))
    pair = msgspec.structs.replace(left, pair=True, right=own)
    given_back = msgspec.structs.replace(on_side(pair, "right"), pair=False, right=())
    if given_back != right:
        msg = f"the right side of {left.name} cannot be kept beside its left"
        raise ConversionError(msg)
    return pair


def differences(mirrored: object, right: object, path: str = "") -> Iterator[Own]:
    """Every value of the right-hand thing that is not the mirror image of the left."""
    if isinstance(right, Struct) and type(mirrored) is type(right):
        skipped = IDENTITY_FIELDS if isinstance(right, Entity) else ()
        names = [name for name in right.__struct_fields__ if name not in skipped]
        steps = [(name, getattr(mirrored, name), getattr(right, name)) for name in names]
    elif isinstance(right, Vec3) and isinstance(mirrored, Vec3):
        steps = list(zip(Vec3._fields, mirrored, right, strict=True))
    elif isinstance(right, tuple) and isinstance(mirrored, tuple) and len(mirrored) == len(right):  # pyright: ignore[reportUnknownArgumentType]
        items: tuple[object, ...] = right
        keys = [item_name(item) or str(count) for count, item in enumerate(items)]
        steps = list(zip(keys, mirrored, items, strict=True))  # pyright: ignore[reportUnknownArgumentType]
    else:
        yield from [Own(of=path, value=right)] if mirrored != right else []
        return
    for step, old, new in steps:
        yield from differences(old, new, f"{path}.{step}" if path else step)


def word_of(kind: type[Entity]) -> str:
    """The word that ids of a kind begin with."""
    return kind_name(kind)
