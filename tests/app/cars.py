"""Cars for the tests of the command line, written to files."""

from pathlib import Path

from core.document.base import Ref, Vec3
from core.document.codec import write_project
from core.document.project import Document, Project, empty_project
from core.document.records import Car
from core.document.steel import Datum, Material, Point, Section, Tube

REPOSITORY = Path(__file__).resolve().parents[2]
DEMO = REPOSITORY / "assets" / "demo-car.jigplate"
SECOND = REPOSITORY / "tests" / "cars" / "second-car.jigplate"


def written(project: Project, folder: Path, name: str = "car") -> Path:
    """The file of a project."""
    path = folder / f"{name}.jigplate"
    write_project(project, path)
    return path


def empty_car(folder: Path) -> Path:
    """A car of which nothing is known but its name."""
    return written(empty_project("Nothing yet"), folder)


TRIANGLE = (Vec3(0.0, 0.0, 100.0), Vec3(400.0, 0.0, 100.0), Vec3(0.0, 300.0, 100.0))


def tubes_only() -> Document:
    """Three tubes that meet at three joints, and a datum on these joints; nothing else."""
    names = ("A", "B", "C")
    points = tuple(
        Point(id=f"point{n}", name=name, at=at)
        for n, (name, at) in enumerate(zip(names, TRIANGLE, strict=True), 1)
    )
    ends = ((1, 2), (2, 3), (3, 1))
    tubes = tuple(
        Tube(
            id=f"tube{n}",
            name=f"T{n}",
            section=Ref("section1"),
            start=Ref(f"point{start}"),
            end=Ref(f"point{end}"),
        )
        for n, (start, end) in enumerate(ends, 1)
    )
    return Document(
        next_number=9,
        cars=(Car(id="car", name="Three tubes"),),
        materials=(Material(id="material1", name="steel", density_kg_m3=7850.0),),
        sections=(
            Section(id="section1", name="S", outside=25.0, wall=2.0, material=Ref("material1")),
        ),
        points=points,
        tubes=tubes,
        datums=(Datum(id="datum1", name="table", origin=Ref("point2"), ahead=Ref("point3"),
                      aside=Ref("point1")),),
    )  # fmt: skip


def tubes_only_car(folder: Path) -> Path:
    """The file of that car."""
    return written(Project(drawn=tubes_only()), folder)
