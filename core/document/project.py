"""Document, layers and project: the whole of what a file holds."""

from typing import Any, ClassVar, Literal, get_args, get_type_hints

import msgspec

from core.document.base import (
    LONGEST_NAME,
    Entity,
    Plain,
    Side,
    distinct,
    kind_name,
    typed,
    word_of,
)
from core.document.boards import ToeBoard
from core.document.donors import DonorCorner
from core.document.power import Mount, PowerUnit, ServiceZone
from core.document.records import (
    Acceptance,
    Car,
    CheckLength,
    Lift,
    Limit,
    LoadCase,
    Note,
    Part,
    Reading,
    WayOut,
    Weighing,
)
from core.document.running_gear import (
    Axle,
    Brake,
    BrakeSystem,
    Corner,
    DriveShaft,
    Hub,
    Rack,
    Tyre,
    Wheel,
)
from core.document.steel import (
    Bay,
    Bracket,
    Datum,
    Die,
    Material,
    Panel,
    Point,
    Section,
    Stock,
    Tube,
)
from core.document.surroundings import (
    Controls,
    Exhaust,
    Fastener,
    KeepOut,
    Obstacle,
    Occupant,
    Opening,
    Run,
    Shell,
    Workshop,
)

FIRST_NUMBER = 1
LAST_NUMBER = 10**9
"""Ids have at most nine digits, so that their numbers can be counted on without surprise."""


class Document(Plain, frozen=True, kw_only=True):
    """One car, whole: every thing in it by kind, and the next number an id may take."""

    next_number: int = FIRST_NUMBER
    cars: tuple[Car, ...] = ()
    materials: tuple[Material, ...] = ()
    dies: tuple[Die, ...] = ()
    sections: tuple[Section, ...] = ()
    stocks: tuple[Stock, ...] = ()
    points: tuple[Point, ...] = ()
    tubes: tuple[Tube, ...] = ()
    brackets: tuple[Bracket, ...] = ()
    panels: tuple[Panel, ...] = ()
    bays: tuple[Bay, ...] = ()
    power_units: tuple[PowerUnit, ...] = ()
    mounts: tuple[Mount, ...] = ()
    service_zones: tuple[ServiceZone, ...] = ()
    axles: tuple[Axle, ...] = ()
    racks: tuple[Rack, ...] = ()
    hubs: tuple[Hub, ...] = ()
    wheels: tuple[Wheel, ...] = ()
    tyres: tuple[Tyre, ...] = ()
    corners: tuple[Corner, ...] = ()
    donor_corners: tuple[DonorCorner, ...] = ()
    toe_boards: tuple[ToeBoard, ...] = ()
    drive_shafts: tuple[DriveShaft, ...] = ()
    brakes: tuple[Brake, ...] = ()
    brake_systems: tuple[BrakeSystem, ...] = ()
    shells: tuple[Shell, ...] = ()
    openings: tuple[Opening, ...] = ()
    obstacles: tuple[Obstacle, ...] = ()
    keep_outs: tuple[KeepOut, ...] = ()
    exhausts: tuple[Exhaust, ...] = ()
    runs: tuple[Run, ...] = ()
    occupants: tuple[Occupant, ...] = ()
    controls: tuple[Controls, ...] = ()
    fasteners: tuple[Fastener, ...] = ()
    workshops: tuple[Workshop, ...] = ()
    datums: tuple[Datum, ...] = ()
    parts: tuple[Part, ...] = ()
    load_cases: tuple[LoadCase, ...] = ()
    weighings: tuple[Weighing, ...] = ()
    ways_out: tuple[WayOut, ...] = ()
    lifts: tuple[Lift, ...] = ()
    check_lengths: tuple[CheckLength, ...] = ()
    limits: tuple[Limit, ...] = ()
    acceptances: tuple[Acceptance, ...] = ()
    notes: tuple[Note, ...] = ()

    def check(self) -> None:
        """Refuse a next number that no id can take."""
        if not FIRST_NUMBER <= self.next_number <= LAST_NUMBER:
            msg = f"`next_number` must be {FIRST_NUMBER} to {LAST_NUMBER}"
            raise ValueError(msg)


def _kinds() -> dict[str, type[Entity]]:
    hints = get_type_hints(Document)
    return {
        field: get_args(hints[field])[0]
        for field in Document.__struct_fields__
        if field != "next_number"
    }


KINDS: dict[str, type[Entity]] = _kinds()
"""Each list of a document and the kind of thing in it."""

FIELD_OF: dict[type[Entity], str] = {kind: field for field, kind in KINDS.items()}

KIND_OF_WORD: dict[str, type[Entity]] = {kind_name(kind): kind for kind in KINDS.values()}
"""Each word that ids begin with and the kind it stands for."""


AnyEntity = (
    Car
    | Material
    | Die
    | Section
    | Stock
    | Point
    | Tube
    | Bracket
    | Panel
    | Bay
    | PowerUnit
    | Mount
    | ServiceZone
    | Axle
    | Rack
    | Hub
    | Wheel
    | Tyre
    | Corner
    | DonorCorner
    | ToeBoard
    | DriveShaft
    | Brake
    | BrakeSystem
    | Shell
    | Opening
    | Obstacle
    | KeepOut
    | Exhaust
    | Run
    | Occupant
    | Controls
    | Fastener
    | Workshop
    | Datum
    | Part
    | LoadCase
    | Weighing
    | WayOut
    | Lift
    | CheckLength
    | Limit
    | Acceptance
    | Note
)


class Change(Plain, frozen=True, kw_only=True):
    """One number or value set by a layer: which thing, which side, which path, what value.

    On a pair the side is left or right, and the other piece moves with it as in an edit.
    """

    id: str
    side: Side = "one"
    of: str
    value: Any  # typed by the field it stands for

    def check(self) -> None:
        """Refuse what no kind of thing has, and give the value the type of its field."""
        kind = KIND_OF_WORD.get(word_of(self.id) or "")
        if kind is None:
            msg = f"«{self.id[:LONGEST_NAME]}» is no id of a thing in a car"
            raise ValueError(msg)
        value = typed(kind, self.of, self.value)
        if value is not self.value:
            msgspec.structs.force_setattr(self, "value", value)


class Layer(Entity, tag_field="kind", tag="layer", frozen=True, kw_only=True):
    """A set of differences laid over the drawn car: a named variant or what was really built."""

    may_be_pair: ClassVar[bool] = False

    purpose: Literal["variant", "as_built"] = "variant"
    changes: tuple[Change, ...] = ()
    put: tuple[AnyEntity, ...] = ()
    removed: tuple[str, ...] = ()

    def check(self) -> None:
        """Refuse a layer that says a thing twice, or both removes and puts it."""
        owner = f"layer {self.name}"
        ids = (*self.removed, *(thing.id for thing in self.put))
        distinct(owner, "entries, put or removed,", ids)
        changed = tuple(f"{c.id}:{c.side}.{c.of}" for c in self.changes)
        distinct(owner, "changes", changed)


class Project(Plain, frozen=True, kw_only=True):
    """All that one file holds: the drawn car, layers over it, and readings taken on it."""

    drawn: Document = msgspec.field(default_factory=Document)
    layers: tuple[Layer, ...] = ()
    readings: tuple[Reading, ...] = ()


def empty_project(name: str = "Unnamed car") -> Project:
    """A project with a car of that name and nothing else in it."""
    return Project(drawn=Document(cars=(Car(id="car", name=name),)))
