"""Neutral source files of invented cars made into projects: `python -m tests.cars.convert`."""

import sys
from pathlib import Path

import msgspec

from core.document.codec import encode_project
from core.document.mesh_store import MeshStore, write_atomically
from core.document.power import MeshRef
from core.document.project import KINDS, Document, Project
from core.geometry.meshes import ply_bytes
from tests.cars.convert_accepted import with_acceptances
from tests.cars.convert_corners import corners
from tests.cars.convert_driveline import (
    brake_systems,
    brakes,
    drive_shafts,
    mounts,
    power_units,
    service_zones,
)
from tests.cars.convert_facts import with_facts
from tests.cars.convert_frame import (
    bays,
    dies,
    frame_points,
    materials,
    panels,
    sections,
    stocks,
    tubes,
)
from tests.cars.convert_gear import (
    axles,
    brackets,
    hardpoints,
    hubs,
    racks,
    tyres,
    wheels,
)
from tests.cars.convert_names import names_of
from tests.cars.convert_records import cars, lifts, limits, load_cases, parts, ways_out
from tests.cars.convert_springs import with_springs
from tests.cars.convert_surroundings import (
    controls,
    exhausts,
    fasteners,
    obstacles,
    occupants,
    openings,
    runs,
    shells,
    workshops,
)
from tests.cars.doubled import refuse_disagreement
from tests.cars.doubled_frame import doubled_frame
from tests.cars.doubled_gear import doubled_gear
from tests.cars.doubled_rest import doubled_rest
from tests.cars.doubled_unit import doubled_unit
from tests.cars.neutral import HERE, Plain, read_neutral
from tests.cars.pairs import Names
from tests.cars.unit_mesh import unit_mesh

DEMO = HERE / "demo-car.json"
SECOND = HERE / "second-car.json"
DEMO_PROJECT = HERE.parents[1] / "assets" / "demo-car.jigplate"
SECOND_PROJECT = HERE / "second-car.jigplate"
MESH_WORDS = (
    "outside of the engine and gearbox as invented for this car; drawn by hand, not scanned"
)


def project_of(car: Plain) -> Project:
    """The project of a neutral file.

    Raises:
        ConversionError: the file contradicts itself or says what is not known here.
    """
    for doubled in (doubled_rest, doubled_frame, doubled_gear, doubled_unit):
        refuse_disagreement(doubled(car))
    names = names_of(car)
    made = _document(car, names)
    document = with_facts(_numbered(with_acceptances(made)), car, names)
    return Project(drawn=with_springs(document))


def _document(car: Plain, names: Names) -> Document:
    return Document(
        cars=cars(car),
        materials=materials(car, names),
        dies=dies(car, names),
        sections=sections(car, names),
        stocks=stocks(car),
        points=(*frame_points(car, names), *hardpoints(car, names)),
        tubes=tubes(car, names),
        brackets=brackets(car, names),
        panels=panels(car, names),
        bays=bays(car, names),
        power_units=power_units(car, names),
        mounts=mounts(car, names),
        service_zones=service_zones(car, names),
        axles=axles(car, names),
        racks=racks(car, names),
        hubs=hubs(car, names),
        wheels=wheels(car, names),
        tyres=tyres(car, names),
        corners=corners(car, names),
        drive_shafts=drive_shafts(car, names),
        brakes=brakes(car, names),
        brake_systems=brake_systems(car, names),
        shells=shells(car),
        openings=openings(car, names),
        obstacles=obstacles(car),
        exhausts=exhausts(car),
        runs=runs(car),
        occupants=occupants(car),
        controls=controls(car),
        fasteners=fasteners(car, names),
        workshops=workshops(car),
        parts=parts(car, names),
        load_cases=load_cases(car, names),
        ways_out=ways_out(car, names),
        lifts=lifts(car, names),
        limits=limits(car, names),
    )


def _numbered(document: Document) -> Document:
    """The document with its next number above all: things are numbered from 1 kind by kind."""
    largest = max(len(getattr(document, field)) for field in KINDS)
    return msgspec.structs.replace(document, next_number=largest + 1)


def with_mesh(project: Project, sha256: str) -> Project:
    """The project with the mesh of that name on its power unit."""
    (unit,) = project.drawn.power_units
    shown = msgspec.structs.replace(unit, mesh=MeshRef(sha256=sha256, what=MESH_WORDS))
    drawn = msgspec.structs.replace(project.drawn, power_units=(shown,))
    return msgspec.structs.replace(project, drawn=drawn)


def write_demo(target: Path) -> None:
    """Write the demo car and the mesh of its power unit beside it."""
    target.parent.mkdir(parents=True, exist_ok=True)
    project = project_of(read_neutral(DEMO))
    store = MeshStore.beside(target)
    sha256 = store.add(ply_bytes(unit_mesh()))
    for stale in set(store.folder.glob("*.ply")) - {store.path(sha256)}:
        stale.unlink()
    write_atomically(target, encode_project(with_mesh(project, sha256)))


def write_second(target: Path) -> None:
    """Write the second car."""
    write_atomically(target, encode_project(project_of(read_neutral(SECOND))))


def main() -> int:
    """Write both cars to their places."""
    write_demo(DEMO_PROJECT)
    write_second(SECOND_PROJECT)
    return 0


if __name__ == "__main__":
    sys.exit(main())
