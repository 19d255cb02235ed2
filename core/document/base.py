"""What every thing in a document is made of: references, facts, own right-hand values."""

import re
from itertools import pairwise
from typing import Annotated, Any, ClassVar, Final, Literal

import msgspec
from msgspec import Meta, Struct

from core.document.hints import (
    IDENTITY_FIELDS,
    covers,
    kind_name,
    typed,
    typed_path,
)
from core.document.plain import (
    Plain,
    Vec3,
    cross,
    direction,
    distinct,
    dot,
    not_negative,
    positive,
    share,
)

__all__ = [
    "IDENTITY_FIELDS",
    "LONGEST_NAME",
    "AnyRef",
    "Axes",
    "AxleRef",
    "Because",
    "Box",
    "CarriedRef",
    "Carrier",
    "CornerRef",
    "DieRef",
    "Entity",
    "Fact",
    "HubRef",
    "MaterialRef",
    "MountRef",
    "Own",
    "PartRef",
    "PlaceRef",
    "Plain",
    "PointRef",
    "RackRef",
    "ReadingRef",
    "Ref",
    "SectionRef",
    "Side",
    "Source",
    "StandsOnRef",
    "SteelState",
    "TubeRef",
    "TyreRef",
    "UnitRef",
    "Vec3",
    "WheelRef",
    "direction",
    "distinct",
    "kind_name",
    "not_negative",
    "number_of",
    "other_side",
    "positive",
    "share",
    "typed",
    "typed_path",
    "word_of",
]

Side = Literal["one", "left", "right"]
Source = Literal["in_hand", "measured", "chosen", "guessed"]
Carrier = Literal["chassis", "shell", "unit", "upright", "arm", "rack", "table"]
SteelState = Literal["planned", "cut", "bent", "tacked", "welded", "spoilt"]

LONGEST_NAME: Final = 80
MOST_FACTS: Final = 1000
"""Facts or own values of one thing; a whole car has a few hundred."""

_ID: Final = re.compile(r"([a-z]+(?:_[a-z]+)*)([1-9][0-9]{0,8})?")
_OTHER_SIDE: Final[dict[Side, Side]] = {"left": "right", "right": "left", "one": "one"}


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
    return _OTHER_SIDE[side]


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
LoadCaseRef = Annotated[Ref, Meta(extra={"kinds": ("load_case",)})]
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
        owner = f"the fact about «{self.of or 'all of it'}»"
        not_negative(owner, uncertainty=self.uncertainty, tolerance=self.tolerance)
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

    may_be_pair: ClassVar[bool] = True
    """Whether a left and a right one of the kind make sense."""

    id: str
    name: str
    pair: bool = False
    right: tuple[Own, ...] = ()
    facts: tuple[Fact, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        """Check id, name and sides, and give own right-hand values the type of their field."""
        _check_id(type(self), self.id)
        if not self.name.strip() or len(self.name) > LONGEST_NAME or not self.name.isprintable():
            msg = f"the name of {self.id} must be 1 to {LONGEST_NAME} printable characters"
            raise ValueError(msg)
        if self.pair and not self.may_be_pair:
            msg = f"{self.name} is a {_words(type(self))}, of which there is no left and right one"
            raise ValueError(msg)
        if len(self.facts) > MOST_FACTS or len(self.right) > MOST_FACTS:
            msg = f"{self.name} has more than {MOST_FACTS} facts, or own values of its right side"
            raise ValueError(msg)
        if self.right:
            self._type_own_values()
        if self.facts:
            self._check_facts()
        Plain.__post_init__(self)

    def _type_own_values(self) -> None:
        if not self.pair:
            msg = f"{self.name} is not a pair, so nothing on it can be the right side's own"
            raise ValueError(msg)
        inside = _one_inside_another(tuple(own.of for own in self.right))
        if inside is not None:
            msg = f"{self.name} says «{inside[:LONGEST_NAME]}» of its right side twice"
            raise ValueError(msg)
        values = [typed(type(self), own.of, own.value) for own in self.right]
        pairs = tuple(zip(self.right, values, strict=True))
        if any(value is not own.value for own, value in pairs):
            own_values = tuple(Own(of=own.of, value=value) for own, value in pairs)
            msgspec.structs.force_setattr(self, "right", own_values)

    def _check_facts(self) -> None:
        if len({(fact.of, fact.side) for fact in self.facts}) < len(self.facts):
            msg = f"{self.name} has two facts about one value"
            raise ValueError(msg)
        for fact in self.facts:
            typed_path(type(self), fact.of)
            if fact.side != "one" and not self.pair:
                msg = f"{self.name} is a single thing, so no fact is about its {fact.side} side"
                raise ValueError(msg)


def word_of(thing_id: str) -> str | None:
    """The word of the kind that an id is of; nothing if it is no id."""
    found = _ID.fullmatch(thing_id)
    return found.group(1) if found else None


def number_of(thing_id: str) -> int | None:
    """The number in an id; nothing if it has none."""
    found = _ID.fullmatch(thing_id)
    return int(found.group(2)) if found and found.group(2) else None


def _words(kind: type[Struct]) -> str:
    return kind_name(kind).replace("_", " ")


def _check_id(kind: type[Struct], thing_id: str) -> None:
    word = word_of(thing_id)
    if word is None or (kind.__struct_config__.tag and word != kind_name(kind)):
        shown = thing_id[:LONGEST_NAME]
        msg = f"the id «{shown}» of a {_words(kind)} must be {kind_name(kind)}1 or the like"
        raise ValueError(msg)


def _one_inside_another(paths: tuple[str, ...]) -> str | None:
    """A path that another one of them covers; twice the same counts as well."""
    ordered = sorted(paths, key=lambda path: path.split("."))
    for outer, inner in pairwise(ordered):
        if covers(outer, inner):
            return inner
    return None


class Box(Plain, frozen=True, kw_only=True):
    """A solid with six faces along the axes of its carrier's frame, mm."""

    low: Vec3
    high: Vec3

    def check(self) -> None:
        """Refuse a box that has no inside."""
        if not all(a < b for a, b in zip(self.low, self.high, strict=True)):
            msg = "a box needs its low corner below its high corner on all three axes"
            raise ValueError(msg)


SQUARE_WITHIN: Final = 1e-3


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
                if not abs(dot(a, b) - (i == j)) <= SQUARE_WITHIN:
                    msg = "the three axes must be unit directions at right angles"
                    raise ValueError(msg)
        if dot(cross(self.x, self.y), self.z) < 0:
            msg = "the three axes are left-handed; turn one of them round"
            raise ValueError(msg)
