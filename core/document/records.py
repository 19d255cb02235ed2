"""Parts, readings, limits, cases, acceptances, notes, and how the unit comes out."""

from typing import ClassVar, Literal

from core.document.base import (
    AnyRef,
    Carrier,
    Entity,
    LoadCaseRef,
    PartRef,
    PlaceRef,
    Plain,
    PointRef,
    TubeRef,
    Vec3,
    direction,
    distinct,
    not_negative,
    positive,
)


class Station(Plain, frozen=True, kw_only=True):
    """A marked place along the car."""

    name: str
    x: float
    what: str = ""


class Car(Entity, tag_field="kind", tag="car", frozen=True, kw_only=True):
    """The car as a whole: its name, its layout, the load it is drawn at, its stations."""

    may_be_pair: ClassVar[bool] = False

    statement: str = ""
    layout: str = ""
    origin: str = (
        "x = 0 at a named station, z = 0 the ground of the design load, y = 0 the centre plane"
    )
    pose: str = ""
    design_load: str = ""
    driver_side: Literal["left", "right", "middle"] | None = None
    stations: tuple[Station, ...] = ()

    def check(self) -> None:
        """Refuse two stations of one name."""
        distinct(f"car {self.name}", "stations", tuple(s.name for s in self.stations))


class Candidate(Plain, frozen=True, kw_only=True):
    """One way to fill a part: in hand, ordered, wanted, or rejected and why."""

    name: str
    state: Literal["in_hand", "ordered", "wanted", "rejected"] = "wanted"
    why: str = ""
    where: str = ""
    price: float | None = None
    lead_days: float | None = None
    condition: str = ""

    def check(self) -> None:
        """Refuse prices and waits below zero."""
        not_negative(f"candidate {self.name}", price=self.price, lead_days=self.lead_days)


class Interface(Plain, frozen=True, kw_only=True):
    """What a part must mate with: a size or a form, by name."""

    name: str
    size: float | None = None
    form: str = ""
    mates: AnyRef | None = None


class Part(Entity, tag_field="kind", tag="part", frozen=True, kw_only=True):
    """A thing that weighs something: bought, made or wanted."""

    how_got: Literal["bought", "made", "wanted", "person", "fluid"] = "bought"
    mass_kg: float | None = None
    centre_of_gravity: Vec3 | None = None
    carrier: Carrier = "chassis"
    stands_for: AnyRef | None = None
    in_hand: bool = False
    candidates: tuple[Candidate, ...] = ()
    interfaces: tuple[Interface, ...] = ()
    price: float | None = None
    lead_days: float | None = None

    def check(self) -> None:
        """Refuse mass below zero and two candidates of one name."""
        owner = f"part {self.name}"
        not_negative(owner, mass_kg=self.mass_kg, price=self.price, lead_days=self.lead_days)
        distinct(owner, "candidates", tuple(c.name for c in self.candidates))
        distinct(owner, "interfaces", tuple(i.name for i in self.interfaces))


class Reading(Entity, tag_field="kind", tag="reading", frozen=True, kw_only=True):
    """One measurement taken on the car or on the bench."""

    may_be_pair: ClassVar[bool] = False

    what: Literal["distance", "height", "offset", "angle", "weight"]
    value: float
    uncertainty: float | None = None
    instrument: str = ""
    when: str = ""
    of: tuple[AnyRef, ...] = ()

    def check(self) -> None:
        """Refuse doubt below zero."""
        not_negative(f"reading {self.name}", uncertainty=self.uncertainty)


class Limit(Entity, tag_field="kind", tag="limit", frozen=True, kw_only=True):
    """A rule's number for this car, in place of the program's own."""

    may_be_pair: ClassVar[bool] = False

    rule: str
    value: float
    unit: str = "mm"
    source: str = ""
    basis: str = ""
    only_for: AnyRef | None = None


class Aboard(Plain, frozen=True, kw_only=True):
    """How much of a part is aboard in a load case."""

    part: PartRef
    mass_kg: float

    def check(self) -> None:
        """Refuse mass below zero."""
        not_negative("what is aboard", mass_kg=self.mass_kg)


class LoadCase(Entity, tag_field="kind", tag="load_case", frozen=True, kw_only=True):
    """A case: what is aboard, and the accelerations of the car in g."""

    may_be_pair: ClassVar[bool] = False

    aboard: tuple[Aboard, ...] = ()
    without: tuple[PartRef, ...] = ()
    acceleration_g: Vec3 | None = None
    source: str = ""

    def check(self) -> None:
        """Refuse a part that is aboard twice, or aboard and left out."""
        parts = (*(str(aboard.part) for aboard in self.aboard), *map(str, self.without))
        distinct(f"load case {self.name}", "entries, aboard or left out,", parts)


class Weighing(Entity, tag_field="kind", tag="weighing", frozen=True, kw_only=True):
    """The car on scales: what each wheel carried, and the front ones with the tail raised.

    Of several in one load the last counts.
    """

    may_be_pair: ClassVar[bool] = False

    load_case: LoadCaseRef | None = None  # that it stood in; none, the load it is drawn at
    front_left_kg: float | None = None
    front_right_kg: float | None = None
    rear_left_kg: float | None = None
    rear_right_kg: float | None = None
    scales_uncertainty_kg: float | None = None  # of one reading
    raised_front_kg: float | None = None  # both front wheels, the tail raised
    tail_raised: float | None = None  # how much higher the rear wheels stood then
    raised_uncertainty: float | None = None  # of that height

    def check(self) -> None:
        """Refuse readings of nothing and doubt below zero."""
        owner = f"weighing {self.name}"
        positive(
            owner,
            front_left_kg=self.front_left_kg,
            front_right_kg=self.front_right_kg,
            rear_left_kg=self.rear_left_kg,
            rear_right_kg=self.rear_right_kg,
            raised_front_kg=self.raised_front_kg,
            tail_raised=self.tail_raised,
        )
        not_negative(
            owner,
            scales_uncertainty_kg=self.scales_uncertainty_kg,
            raised_uncertainty=self.raised_uncertainty,
        )


class Acceptance(Entity, tag_field="kind", tag="acceptance", frozen=True, kw_only=True):
    """A finding the builder has accepted, with the reason; it opens again when it gets worse."""

    may_be_pair: ClassVar[bool] = False

    rule: str
    subjects: tuple[AnyRef, ...]
    verdict: Literal["tight", "no", "unknown"] | None = None  # that was accepted; none, any
    measured: float | None = None
    higher_is_worse: bool = False
    reason: str
    who: str = ""
    when: str = ""

    def check(self) -> None:
        """Refuse an acceptance without a reason."""
        if not self.reason.strip():
            msg = f"acceptance {self.name} needs a reason"
            raise ValueError(msg)


class Note(Entity, tag_field="kind", tag="note", frozen=True, kw_only=True):
    """Why something is as it is."""

    may_be_pair: ClassVar[bool] = False

    text: str
    about: tuple[AnyRef, ...] = ()


class WayOut(Entity, tag_field="kind", tag="way_out", frozen=True, kw_only=True):
    """How the engine and gearbox leave: a straight move, and the tubes taken out first."""

    may_be_pair: ClassVar[bool] = False

    direction: Vec3
    distance: float
    tubes_out: tuple[TubeRef, ...] = ()

    def check(self) -> None:
        """Refuse a move that goes nowhere."""
        direction(f"way out {self.name}", direction=self.direction)
        positive(f"way out {self.name}", distance=self.distance)


class LiftState(Plain, frozen=True, kw_only=True):
    """What has been taken out at one moment of the lift."""

    name: str
    without: tuple[PartRef, ...] = ()


class Lift(Entity, tag_field="kind", tag="lift", frozen=True, kw_only=True):
    """Where the raised car stands, and the states it stands in."""

    may_be_pair: ClassVar[bool] = False

    stands: tuple[PointRef, ...]
    states: tuple[LiftState, ...] = ()

    def check(self) -> None:
        """Refuse two states of one name."""
        distinct(f"lift {self.name}", "states", tuple(state.name for state in self.states))


class CheckLength(Entity, tag_field="kind", tag="check_length", frozen=True, kw_only=True):
    """A distance between two points by which the shape is proved with a tape."""

    start: PlaceRef
    end: PlaceRef

    def check(self) -> None:
        """Refuse a distance from a point to itself."""
        if self.start == self.end:
            msg = f"check length {self.name} runs from a point to itself"
            raise ValueError(msg)
