"""Records of what to draw: places in mm, car frame; looks by name, never by colour."""

from dataclasses import dataclass
from typing import Literal

from core.document.base import Ref, SteelState, Vec3
from core.engine.finding import Verdict
from core.geometry.meshes import IntArray
from core.geometry.types import Array

Look = Literal[
    "steel",  # tubes
    "link",  # links and dampers
    "card",  # engine, gearbox, rack, hubs, shafts: what was bought
    "upright",
    "tyre",
    "soft",  # tank, radiator, battery, people: seen through
    "hot",  # exhaust
]

HandleKind = Literal["pickup", "joint", "wheel_centre", "mount", "unit", "rack", "obstacle"]


@dataclass(frozen=True, eq=False)
class TubeRecord:
    """A tube as a thick line.

    Attributes:
        ref: which tube.
        line: (n, 3) centre line.
        radius: outside.
        state: how far its steel is made.
        hoop: whether it is drawn a little darker, as hoops are.
    """

    ref: Ref
    line: Array
    radius: float
    state: SteelState
    hoop: bool


@dataclass(frozen=True, eq=False)
class RodRecord:
    """A round rod from one place to another: link, shaft, damper, stay, hub, column, pipe."""

    ref: Ref
    part: str
    line: Array
    radius: float
    look: Look


@dataclass(frozen=True, eq=False)
class SolidRecord:
    """A solid by its triangles."""

    ref: Ref
    part: str
    vertices: Array
    triangles: IntArray
    look: Look


@dataclass(frozen=True, eq=False)
class MeshRecord:
    """A mesh of the store, placed: the window loads it by its name and keeps a lighter copy."""

    ref: Ref
    sha256: str
    origin: Vec3
    axes: Array
    look: Look


@dataclass(frozen=True)
class Handle:
    """A place that can be taken in hand.

    Attributes:
        ref: the thing, with its side.
        path: the value that a drag changes, such as `at` or `upright.hub_face`; for the engine and
            gearbox `origin`.
        kind: its shape on screen.
        at: where it is.
        held: what holds it, or nothing.
        held_axes: for x, y, z whether that coordinate is held.
        along: the tube it follows, if it slides on one.
    """

    ref: Ref
    path: str
    kind: HandleKind
    at: Vec3
    held: str = ""
    held_axes: tuple[bool, bool, bool] = (False, False, False)
    along: Ref | None = None


@dataclass(frozen=True, eq=False)
class OutlineRecord:
    """A closed or open line: opening, zone, keep-out, bay, arch."""

    ref: Ref
    points: Array
    closed: bool
    look: Literal["opening", "zone", "keep_out", "bay", "arch", "shell"]


@dataclass(frozen=True)
class Dimension:
    """A dimension line from one place to another with its figure."""

    start: Vec3
    end: Vec3
    text: str
    level: int = 0


@dataclass(frozen=True)
class GapMark:
    """Both foot points of a gap worth seeing, with its verdict."""

    on_unit: Vec3
    on_tube: Vec3
    text: str
    verdict: Verdict
    tube: Ref


@dataclass(frozen=True, eq=False)
class Scene:
    """All there is to draw of one car."""

    tubes: tuple[TubeRecord, ...] = ()
    rods: tuple[RodRecord, ...] = ()
    solids: tuple[SolidRecord, ...] = ()
    meshes: tuple[MeshRecord, ...] = ()
    handles: tuple[Handle, ...] = ()
    outlines: tuple[OutlineRecord, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    gaps: tuple[GapMark, ...] = ()
    stations: tuple[tuple[str, float], ...] = ()
