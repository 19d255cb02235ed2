"""Cars for the tests of edits and of the engine: none, tubes only, and the two invented ones."""

from functools import cache
from pathlib import Path

from core.document.base import Ref, Vec3
from core.document.codec import read_project
from core.document.project import Document, empty_project
from core.document.steel import Along, Bend, Die, Material, Point, Section, Tube
from core.edits.things import make

FILES = Path(__file__).parents[3]


@cache
def demo_car() -> Document:
    """The first invented car."""
    return read_project(FILES / "assets" / "demo-car.jigplate").drawn


@cache
def second_car() -> Document:
    """The other invented car."""
    return read_project(FILES / "tests" / "cars" / "second-car.jigplate").drawn


@cache
def demo_meshes() -> dict[str, bytes]:
    """The meshes of the first car by SHA-256."""
    folder = FILES / "assets" / "demo-car.meshes"
    return {path.stem: path.read_bytes() for path in folder.glob("*.ply")}


def empty_car() -> Document:
    """A car with a name and nothing else."""
    return empty_project("bare").drawn


class TubeCar:
    """Seven tubes on both sides of the centre plane: straight, bent, paired, one on another.

    A and B are pairs of joints 600 apart, C is a joint of the centre plane above; the hoop bends
    at D on both sides; F follows the side rail, a strut runs from F to C, G marks the cross tube.
    """

    def __init__(self) -> None:
        document, steel = make(empty_car(), Material, "steel", density_kg_m3=7850.0)
        document, die = make(document, Die, "die", radius=100.0)
        size = {"outside": 30.0, "wall": 2.0, "material": Ref(steel.id), "die": Ref(die.id)}
        document, section = make(document, Section, "T30", **size)
        document, _ = make(document, Section, "T25", **{**size, "outside": 25.0})
        self.document = document
        self.die, self.section = Ref(die.id), Ref(section.id)
        self.a = self._point("A", Vec3(0.0, 300.0, 100.0), pair=True)
        self.b = self._point("B", Vec3(-600.0, 300.0, 100.0), pair=True)
        self.c = self._point("C", Vec3(-600.0, 0.0, 700.0))
        self.d = self._point("D", Vec3(-600.0, 256.0, 643.0), pair=True)
        self.rail = self._tube("rail", self.a, self.b, pair=True)
        left, right = Ref(self.d.id, "left"), Ref(self.d.id, "right")
        bends = (Bend(point=left), Bend(point=right))
        self.hoop = self._tube("hoop", self.b, self.b.mirrored(), bends=bends)
        self.cross = self._tube("cross", self.a, self.a.mirrored())
        self.f = self._follower("F", Along(tube=self.rail, distance=250.0), pair=True)
        self.g = self._follower("G", Along(tube=self.cross, distance=120.0, end="end"))
        self.strut = self._tube("strut", self.f, self.c, pair=True)
        self.tie = self._tube("tie", self.g, self.c)

    def _point(self, name: str, at: Vec3, *, pair: bool = False) -> Ref:
        self.document, made = make(self.document, Point, name, at=at, pair=pair)
        return Ref(made.id, "left" if pair else "one")

    def _follower(self, name: str, along: Along, *, pair: bool = False) -> Ref:
        self.document, made = make(self.document, Point, name, along=along, pair=pair)
        return Ref(made.id, "left" if pair else "one")

    def _tube(
        self, name: str, start: Ref, end: Ref, *, bends: tuple[Bend, ...] = (), pair: bool = False
    ) -> Ref:
        ends = {"section": self.section, "start": start, "end": end}
        self.document, made = make(self.document, Tube, name, bends=bends, pair=pair, **ends)
        return Ref(made.id, "left" if pair else "one")
