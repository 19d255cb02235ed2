"""What every thing in a document is made of: references, facts, own right-hand values, invariants."""

import math
import re
from functools import cache
from typing import Annotated, Any, Literal, NamedTuple, get_args, get_origin, get_type_hints

import msgspec
from msgspec import Meta, Struct


class Vec3(NamedTuple):
    """A place in mm, or a direction, in the frame of its carrier."""

    x: float
    y: float
    z: float


Side = Literal["one", "left", "right"]
Source = Literal["in_hand", "measured", "chosen", "guessed"]
Carrier = Literal["chassis", "shell", "unit", "upright", "arm", "rack", "table"]
SteelState = Literal["planned", "cut", "bent", "tacked", "welded", "spoilt"]

_ID = re.compile(r"[a-z_]+[0-9]*")
LONGEST_NAME = 80


class Plain(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, omit_defaults=True):
    """A frozen value of the document whose numbers are all finite."""

    def __post_init__(self) -> None:
        """Refuse numbers that are not finite, then whatever `check` refuses."""
        for name in _float_fields(type(self)):
            if not _finite(getattr(self, name)):
                msg = f"`{name}` is not a finite number"
                raise ValueError(msg)
        self.check()

    def check(self) -> None:
        """Refuse what cannot be true of this one object; overridden by kinds that have rules.

        Raises:
            ValueError: in words a builder can act on.
        """


def _finite(value: object) -> bool:
    if value is None or isinstance(value, str | bool | int):
        return True
    if isinstance(value, float):
        return math.isfinite(value)
    if isinstance(value, tuple):
        return all(_finite(part) for part in value)  # pyright: ignore[reportUnknownVariableType]
    return True  # nested values have checked themselves


@cache
def _float_fields(kind: type[Struct]) -> tuple[str, ...]:
    hints = get_type_hints(kind)
    return tuple(f for f in kind.__struct_fields__ if _mentions_float(hints[f]))


def _mentions_float(hint: object) -> bool:
    return hint in (float, Vec3) or any(_mentions_float(part) for part in get_args(hint))


class Ref(Struct, frozen=True, array_like=True, order=True, forbid_unknown_fields=True):
    """Names a thing, or one side of a pair: (id, side)."""

    id: str
    side: Side = "one"

    def __str__(self) -> str:
        """The id, with the side of a pair behind a colon."""
        return self.id if self.side == "one" else f"{self.id}:{self.side}"

    def mirrored(self) -> "Ref":
        """The same thing on the other side; a single thing is its own mirror image."""
        return self if self.side == "one" else Ref(self.id, other_side(self.side))


def other_side(side: Side) -> Side:
    """Left for right, right for left, one for one."""
    return {"left": "right", "right": "left", "one": "one"}[side]  # type: ignore[return-value]  # a closed table


PointRef = Annotated[Ref, Meta(extra={"kinds": ("point",)})]
PlaceRef = Annotated[Ref, Meta(extra={"kinds": ("point", "rack")})]
MountRef = Annotated[Ref, Meta(extra={"kinds": ("mount",)})]
TubeRef = Annotated[Ref, Meta(extra={"kinds": ("tube",)})]
SectionRef = Annotated[Ref, Meta(extra={"kinds": ("section",)})]
MaterialRef = Annotated[Ref, Meta(extra={"kinds": ("material",)})]
DieRef = Annotated[Ref, Meta(extra={"kinds": ("die",)})]
CornerRef = Annotated[Ref, Meta(extra={"kinds": ("corner",)})]
AxleRef = Annotated[Ref, Meta(extra={"kinds": ("axle",)})]
UnitRef = Annotated[Ref, Meta(extra={"kinds": ("power_unit",)})]
HubRef = Annotated[Ref, Meta(extra={"kinds": ("hub",)})]
WheelRef = Annotated[Ref, Meta(extra={"kinds": ("wheel",)})]
TyreRef = Annotated[Ref, Meta(extra={"kinds": ("tyre",)})]
RackRef = Annotated[Ref, Meta(extra={"kinds": ("rack",)})]
PartRef = Annotated[Ref, Meta(extra={"kinds": ("part",)})]
ReadingRef = Annotated[Ref, Meta(extra={"kinds": ("reading",)})]
CarriedRef = Annotated[Ref, Meta(extra={"kinds": ("point", "mount", "rack", "bracket")})]
StandsOnRef = Annotated[Ref, Meta(extra={"kinds": ("point", "tube", "bracket", "mount")})]
AnyRef = Annotated[Ref, Meta(extra={"kinds": ()})]


class Because(Plain, frozen=True, kw_only=True):
    """One thing that the edit which set a number relied on."""

    ref: AnyRef
    of: str = ""
    words: str = ""


class Fact(Plain, frozen=True, kw_only=True):
    """Where a number comes from, how sure it is, how near it must be kept, and what holds it.

    `of` is the path of the number inside its thing, or of a whole branch: the longest path that
    fits a number counts. No fact means guessed. `uncertainty` is a standard uncertainty (likely
    error); `tolerance` is the allowed error in building it. They are never the same field.
    """

    of: str = ""
    side: Side = "one"
    source: Source = "guessed"
    uncertainty: float | None = None
    tolerance: float | None = None
    how: str = ""
    when: str = ""
    readings: tuple[ReadingRef, ...] = ()
    because: tuple[Because, ...] = ()
    held: str = ""
    free: bool = False

    def check(self) -> None:
        """Refuse negative doubts and a hold on a number that was set free."""
        for name in ("uncertainty", "tolerance"):
            value = getattr(self, name)
            if value is not None and value < 0:
                msg = f"`{name}` of «{self.of or 'all of it'}» is below zero"
                raise ValueError(msg)
        if self.held and self.free:
            msg = f"«{self.of or 'all of it'}» is both held and set free; keep one"
            raise ValueError(msg)


class Own(Plain, frozen=True, kw_only=True):
    """A value of the right-hand piece of a pair that is not the mirror image of the left."""

    of: str
    value: Any  # typed by the field it stands for; see `Entity`


class Entity(Plain, frozen=True, kw_only=True):
    """A thing with an id that never changes, a name that may, and its facts.

    With `pair` it is a left-hand piece and its mirror image, stored once as the left one; `right`
    holds the values of the right-hand piece that are its own.
    """

    id: str
    name: str
    pair: bool = False
    right: tuple[Own, ...] = ()
    facts: tuple[Fact, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        """Check id, name and sides, and give own right-hand values the type of their field."""
        if not _ID.fullmatch(self.id):
            msg = f"id «{self.id}» must be small letters and then a number, such as tube12"
            raise ValueError(msg)
        if not self.name.strip() or len(self.name) > LONGEST_NAME or not self.name.isprintable():
            msg = f"the name of {self.id} must be 1 to {LONGEST_NAME} printable characters"
            raise ValueError(msg)
        if self.right:
            self._type_own_values()
        for fact in self.facts:
            typed_path(type(self), fact.of)
        Plain.__post_init__(self)

    def _type_own_values(self) -> None:
        if not self.pair:
            msg = f"{self.name} is not a pair, so nothing on it can be the right side's own"
            raise ValueError(msg)
        if len({own.of for own in self.right}) < len(self.right):
            msg = f"{self.name} says the same value of its right side twice"
            raise ValueError(msg)
        own = tuple(Own(of=o.of, value=typed(type(self), o.of, o.value)) for o in self.right)
        msgspec.structs.force_setattr(self, "right", own)


def typed(kind: type[Struct], path: str, value: object) -> object:
    """`value` as the type that `path` has in `kind`.

    Raises:
        ValueError: the path does not exist there, or the value does not fit it.
    """
    hint = typed_path(kind, path)
    if hint is None:
        msg = f"«{path}» is no single value; name one inside it"
        raise ValueError(msg)
    plain = msgspec.to_builtins(value)
    try:
        result = msgspec.convert(plain, hint)
    except msgspec.ValidationError as error:
        msg = f"«{path}»: {error}"
        raise ValueError(msg) from error
    if not _finite(result):
        msg = f"«{path}» is not a finite number"
        raise ValueError(msg)
    return result


IDENTITY_FIELDS = ("id", "name", "pair", "right", "facts", "note")


@cache
def typed_path(kind: type[Struct], path: str) -> Any:  # noqa: ANN401 - a type hint is what it returns
    """The type hint at a dotted path inside a kind; `None` for the empty path, which is all of it.

    Steps are field names, names or numbers of items in a list, and x, y, z of a place.

    Raises:
        ValueError: there is no such path.
    """
    hint: Any = kind
    if not path:
        return None
    for number, step in enumerate(path.split(".")):
        if number == 0 and step in IDENTITY_FIELDS:
            hint = None
        else:
            hint = _step_hint(_bare(hint), step)
        if hint is None:
            msg = f"there is no «{path}» in a {kind_name(kind)}"
            raise ValueError(msg)
    return hint


def _bare(hint: Any) -> Any:  # noqa: ANN401 - walks type hints
    """A hint without `None` and without annotations."""
    if get_origin(hint) is Annotated:
        return _bare(get_args(hint)[0])
    parts = [part for part in get_args(hint) if part is not type(None)]
    is_union = type(None) in get_args(hint)
    return _bare(parts[0]) if is_union and len(parts) == 1 else hint


def _step_hint(hint: Any, step: str) -> Any:  # noqa: ANN401 - walks type hints
    if isinstance(hint, type) and (issubclass(hint, Struct) or hint is Vec3):
        return get_type_hints(hint, include_extras=True).get(step)
    return get_args(hint)[0] if get_origin(hint) is tuple else None


def kind_name(kind: type[Struct]) -> str:
    """The word a kind has in the file, such as `power_unit`."""
    tag = kind.__struct_config__.tag
    return str(tag) if tag else kind.__name__


class Box(Plain, frozen=True, kw_only=True):
    """A solid with six faces along the axes of its carrier's frame, mm."""

    low: Vec3
    high: Vec3

    def check(self) -> None:
        """Refuse a box that has no inside."""
        if not all(a < b for a, b in zip(self.low, self.high, strict=True)):
            msg = "a box needs its low corner below its high corner on all three axes"
            raise ValueError(msg)


SQUARE_WITHIN = 1e-3


class Axes(Plain, frozen=True, kw_only=True):
    """Three unit directions at right angles, right-handed, in the carrier's frame."""

    x: Vec3 = Vec3(1.0, 0.0, 0.0)
    y: Vec3 = Vec3(0.0, 1.0, 0.0)
    z: Vec3 = Vec3(0.0, 0.0, 1.0)

    def check(self) -> None:
        """Refuse axes that are not square to one another, or left-handed."""
        rows = (self.x, self.y, self.z)
        for i, a in enumerate(rows):
            for j, b in enumerate(rows):
                if abs(_dot(a, b) - (i == j)) > SQUARE_WITHIN:
                    msg = "the three axes must be unit directions at right angles"
                    raise ValueError(msg)
        if _dot(_cross(self.x, self.y), self.z) < 0:
            msg = "the three axes are left-handed; turn one of them round"
            raise ValueError(msg)


def _dot(a: Vec3, b: Vec3) -> float:
    return a.x * b.x + a.y * b.y + a.z * b.z


def _cross(a: Vec3, b: Vec3) -> Vec3:
    return Vec3(
        a.y * b.z - a.z * b.y,
        a.z * b.x - a.x * b.z,
        a.x * b.y - a.y * b.x,
    )


def positive(owner: str, **numbers: float | None) -> None:
    """Refuse numbers that must be above zero.

    Raises:
        ValueError: naming the owner and the number.
    """
    for name, value in numbers.items():
        if value is not None and not value > 0:
            msg = f"{owner}: `{name}` must be above zero, not {value:g}"
            raise ValueError(msg)


def not_negative(owner: str, **numbers: float | None) -> None:
    """Refuse numbers below zero.

    Raises:
        ValueError: naming the owner and the number.
    """
    for name, value in numbers.items():
        if value is not None and value < 0:
            msg = f"{owner}: `{name}` must not be below zero, as {value:g} is"
            raise ValueError(msg)


def direction(owner: str, **directions: Vec3 | None) -> None:
    """Refuse directions that have no length.

    Raises:
        ValueError: naming the owner and the direction.
    """
    for name, value in directions.items():
        if value is not None and _dot(value, value) < 1e-6:
            msg = f"{owner}: `{name}` has no length, so it points nowhere"
            raise ValueError(msg)


def distinct(owner: str, what: str, names: tuple[str, ...]) -> None:
    """Refuse a list in which two items have the same name.

    Raises:
        ValueError: naming the owner and the list.
    """
    if len(set(names)) < len(names):
        msg = f"{owner}: two {what} have the same name"
        raise ValueError(msg)
