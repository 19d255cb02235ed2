"""The frame: points, tubes, brackets, sheets, and what they are made of and with."""

from typing import ClassVar, Literal

from core.document.base import (
    AnyRef,
    CarriedRef,
    Carrier,
    DieRef,
    Entity,
    MaterialRef,
    PlaceRef,
    Plain,
    PointRef,
    SectionRef,
    StandsOnRef,
    SteelState,
    TubeRef,
    Vec3,
    direction,
    distinct,
    not_negative,
    positive,
)

MeasuredTo = Literal["bolt centre", "bracket face", "node", "ball centre", "surface"]
JointKind = Literal["rod_end", "bush", "ball", "axial_ball", "eye", "hinge", "fixed"]
CarriedBy = Literal["frame", "upright", "lower arm", "upper arm", "rack", "unit"]


class LinkEnd(Plain, frozen=True, kw_only=True):
    """How a link ends at a point: its joint, what the bolt or stud is fixed to, and its limits."""

    kind: JointKind
    carried_by: CarriedBy
    direction: Vec3
    cup_direction: Vec3 | None = None
    width: float | None = None
    bolt: str = ""
    tilt_limit_deg: float | None = None
    limit_from: str = ""

    def check(self) -> None:
        """Refuse directions with no length and sizes below zero."""
        direction("a link end", direction=self.direction, cup_direction=self.cup_direction)
        not_negative("a link end", width=self.width, tilt_limit_deg=self.tilt_limit_deg)


class Along(Plain, frozen=True, kw_only=True):
    """A place on a named tube that follows it: so far from one end along the centre line."""

    tube: TubeRef
    distance: float
    end: Literal["start", "end"] = "start"

    def check(self) -> None:
        """Refuse a distance off the tube's end."""
        not_negative("a place along a tube", distance=self.distance)


class Point(Entity, tag_field="kind", tag="point", frozen=True, kw_only=True):
    """A hardpoint or a tube joint: placed by its coordinates, or along a tube which it follows."""

    at: Vec3 | None = None
    along: Along | None = None
    carrier: Carrier = "chassis"
    carrier_of: AnyRef | None = None
    measured_to: MeasuredTo = "node"
    joint: LinkEnd | None = None

    def check(self) -> None:
        """Refuse a point that is placed twice, or not at all."""
        if (self.at is None) == (self.along is None):
            msg = f"point {self.name} needs either its coordinates or a place along a tube"
            raise ValueError(msg)
        if self.along is not None and self.carrier != "chassis":
            msg = f"point {self.name} follows a tube, so its carrier is the chassis"
            raise ValueError(msg)


class Bend(Plain, frozen=True, kw_only=True):
    """A bend of a tube: the point is the middle of its arc on the centre line."""

    point: PointRef
    radius: float | None = None  # of the centre line; without one the section's die gives it

    def check(self) -> None:
        """Refuse a radius of nothing."""
        positive("a bend", radius=self.radius)


class EndFixing(Plain, frozen=True, kw_only=True):
    """How a tube's end is fixed where it is not welded."""

    end: Literal["start", "end"]
    kind: Literal["welded", "bolted", "sleeved", "plate"] = "welded"
    note: str = ""


class Tube(Entity, tag_field="kind", tag="tube", frozen=True, kw_only=True):
    """A piece of tube from one tube joint to another, with its bends in order."""

    section: SectionRef
    start: PointRef
    end: PointRef
    bends: tuple[Bend, ...] = ()
    through: tuple[PointRef, ...] = ()  # joints it is said to pass that do not follow it
    role: str = ""
    material: MaterialRef | None = None  # in place of the section's
    die: DieRef | None = None  # in place of the section's
    fixings: tuple[EndFixing, ...] = ()
    removable: bool = False
    state: SteelState = "planned"

    def check(self) -> None:
        """Refuse a tube that ends where it starts or visits a joint twice."""
        visited = [self.start, *(b.point for b in self.bends), *self.through, self.end]
        if self.start == self.end:
            msg = f"tube {self.name} ends at the joint it starts from"
            raise ValueError(msg)
        if len(set(visited)) < len(visited):
            msg = f"tube {self.name} passes one joint twice"
            raise ValueError(msg)
        distinct(f"tube {self.name}", "end fixings", tuple(f.end for f in self.fixings))


class Bracket(Entity, tag_field="kind", tag="bracket", frozen=True, kw_only=True):
    """A plate that carries a point, a mount or a rack foot, and what it stands on."""

    carries: CarriedRef
    on: StandsOnRef
    bought: bool = False  # a bought mount's own bracket
    section: SectionRef | None = None
    thickness: float | None = None
    mass_kg: float | None = None
    state: SteelState = "planned"

    def check(self) -> None:
        """Refuse a bracket that carries what it stands on."""
        if self.carries == self.on:
            msg = f"bracket {self.name} carries the very thing it stands on"
            raise ValueError(msg)
        positive(f"bracket {self.name}", thickness=self.thickness, mass_kg=self.mass_kg)


LEAST_CORNERS = 3


class Panel(Entity, tag_field="kind", tag="panel", frozen=True, kw_only=True):
    """A sheet on the frame, by the tube joints round its edge."""

    outline: tuple[PointRef, ...]
    thickness: float
    material: MaterialRef
    fixing: str = ""
    flat_within: float | None = None
    counted: bool = False  # whether it is trusted to stiffen the frame
    state: SteelState = "planned"

    def check(self) -> None:
        """Refuse an outline of fewer than three joints."""
        _outline(f"sheet {self.name}", self.outline)
        positive(f"sheet {self.name}", thickness=self.thickness)
        not_negative(f"sheet {self.name}", flat_within=self.flat_within)


class Bay(Entity, tag_field="kind", tag="bay", frozen=True, kw_only=True):
    """A space between tubes without a diagonal, known to the builder, and what closes it."""

    outline: tuple[PointRef, ...]
    why: str
    closed_by: Literal["nothing", "sheet"] = "nothing"

    def check(self) -> None:
        """Refuse an outline of fewer than three joints."""
        _outline(f"bay {self.name}", self.outline)


def _outline(owner: str, outline: tuple[PointRef, ...]) -> None:
    if len(outline) < LEAST_CORNERS or len(set(outline)) < len(outline):
        msg = f"{owner} needs three or more tube joints round its edge, each once"
        raise ValueError(msg)


class Material(Entity, tag_field="kind", tag="material", frozen=True, kw_only=True):
    """A steel or a sheet metal, with the figures its strength and weight come from."""

    may_be_pair: ClassVar[bool] = False

    description: str = ""
    density_kg_m3: float
    youngs_modulus_mpa: float | None = None
    yield_mpa: float | None = None

    def check(self) -> None:
        """Refuse figures of nothing."""
        positive(
            f"material {self.name}",
            density_kg_m3=self.density_kg_m3,
            youngs_modulus_mpa=self.youngs_modulus_mpa,
            yield_mpa=self.yield_mpa,
        )


class Section(Entity, tag_field="kind", tag="section", frozen=True, kw_only=True):
    """A round tube by outside diameter and wall, with the die it is bent on."""

    may_be_pair: ClassVar[bool] = False

    outside: float
    wall: float
    material: MaterialRef
    die: DieRef | None = None
    use: str = ""
    sold_as: str = ""

    def check(self) -> None:
        """Refuse a wall that leaves no bore."""
        positive(f"section {self.name}", outside=self.outside, wall=self.wall)
        if 2 * self.wall >= self.outside:
            msg = f"section {self.name}: twice the wall leaves no bore in {self.outside:g}"
            raise ValueError(msg)


class TestBend(Plain, frozen=True, kw_only=True):
    """One bend made to learn springback: the angle set on the bender and the angle left."""

    set_deg: float
    left_deg: float

    def check(self) -> None:
        """Refuse angles of nothing."""
        positive("a test bend", set_deg=self.set_deg, left_deg=self.left_deg)


class Die(Entity, tag_field="kind", tag="die", frozen=True, kw_only=True):
    """A former of the builder's own bender."""

    may_be_pair: ClassVar[bool] = False

    radius: float  # of the tube's centre line
    least_straight: float | None = None
    springback_deg_per_90: float | None = None
    test_bends: tuple[TestBend, ...] = ()

    def check(self) -> None:
        """Refuse sizes of nothing."""
        positive(f"die {self.name}", radius=self.radius)
        not_negative(
            f"die {self.name}",
            least_straight=self.least_straight,
            springback_deg_per_90=self.springback_deg_per_90,
        )


class Stock(Entity, tag_field="kind", tag="stock", frozen=True, kw_only=True):
    """A length that tube is sold in."""

    may_be_pair: ClassVar[bool] = False

    length: float
    kerf: float = 0.0
    section: SectionRef | None = None
    pieces_in_hand: int = 0
    price: float | None = None

    def check(self) -> None:
        """Refuse a length of nothing."""
        positive(f"stock {self.name}", length=self.length)
        owner = f"stock {self.name}"
        not_negative(owner, kerf=self.kerf, pieces=self.pieces_in_hand, price=self.price)


class Datum(Entity, tag_field="kind", tag="datum", frozen=True, kw_only=True):
    """A place in the workshop to measure from: an origin, a point ahead, and a third to the side.

    x runs from `origin` towards `ahead`; `aside` lies in the x-y plane on the +y side.
    """

    may_be_pair: ClassVar[bool] = False

    origin: PlaceRef
    ahead: PlaceRef
    aside: PlaceRef
    what: str = ""

    def check(self) -> None:
        """Refuse three points that are not three."""
        points = tuple(str(ref) for ref in (self.origin, self.ahead, self.aside))
        distinct(f"datum {self.name}", "points", points)
