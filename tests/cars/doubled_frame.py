"""Doubled entries of the frame: nodes and radii kept; vertices, angles, lengths, masses follow."""

import math
from collections.abc import Iterator

import numpy as np

from core.geometry.tubes import TubeShape, shape_from_vertices
from tests.cars.doubled import Doubled, far, same
from tests.cars.neutral import Plain, array, matched


def doubled_frame(car: Plain) -> Iterator[Doubled]:
    """Every doubled entry of the tubes."""
    nodes = car["frame"]["nodes"]
    for member in car["frame"]["members"]:
        shape = shape_from_vertices(
            array(member["vertices"]), array([bend["clr"] for bend in member["bends"]])
        )
        yield from _ends(member, nodes)
        yield from _bends(member, shape, nodes)
        yield from _sizes(member, shape, car)
    yield from _notes(car)
    yield from _radii(car)


def _ends(member: Plain, nodes: Plain) -> Iterator[Doubled]:
    """Nodes = first and last vertex of a tube."""
    for corner, name in ((0, "start_node"), (-1, "end_node")):
        node = nodes[member[name]]["xyz"]
        what = f"{member['id']}: {name} = vertex"
        yield Doubled(what, far(member["vertices"][corner], node), 0.01)


def _bends(member: Plain, shape: TubeShape, nodes: Plain) -> Iterator[Doubled]:
    """Nodes and radii = vertices, their copies and the angles."""
    where = member["id"]
    for count, bend in enumerate(member["bends"]):
        node = nodes[bend["node"]]["xyz"]
        yield Doubled(f"{where}: node = arc midpoint", far(shape.midpoints[count], node), 0.02)
        copy = far(bend["vertex"], member["vertices"][count + 1])
        yield Doubled(f"{where}: bend vertex = vertex", copy, 1e-9)
        turn = abs(math.degrees(shape.turns_rad[count]) - bend["angle_deg"])
        yield Doubled(f"{where}: bend angle = vertices", turn, 0.02)


def _sizes(member: Plain, shape: TubeShape, car: Plain) -> Iterator[Doubled]:
    """Vertices and section = length, straights and mass."""
    where = member["id"]
    if "centreline_length" in member:
        length = abs(member["centreline_length"] - shape.length)
        yield Doubled(f"{where}: length = vertices", length, 0.06)
    if "straight_lengths" in member:
        straights = far(member["straight_lengths"], shape.straights)
        yield Doubled(f"{where}: straights = vertices", straights, 0.06)
    if "mass_kg" in member:
        mass = abs(member["mass_kg"] - shape.length * _kg_per_mm(member["tube"], car))
        yield Doubled(f"{where}: mass = section x length", mass, 0.002)


def _kg_per_mm(section: str, car: Plain) -> float:
    tube = car["frame"]["tube_stock"][section]
    area = math.pi * (tube["od"] - tube["wall"]) * tube["wall"]
    return float(area * car["materials"][tube["material"]]["density_kg_per_mm3"])


def _notes(car: Plain) -> Iterator[Doubled]:
    """Bends of a tube = what a node says of itself."""
    bent = {m["id"]: [bend["node"] for bend in m["bends"]] for m in car["frame"]["members"]}
    for name, node in car["frame"]["nodes"].items():
        if "note" in node:
            (tube,) = matched("bend arc midpoint on (.*)", node["note"], name)
            yield same(f"{name} is on a bend of {tube}", name in bent.get(tube, ()), other=True)


def _radii(car: Plain) -> Iterator[Doubled]:
    """Radius of a section's die = the bender's list of radii."""
    listed = car["shop"].get("bender", {}).get("clr_by_tube")
    if listed is not None:
        sections = car["frame"]["tube_stock"]
        drawn = {name: section["bend_clr"] for name, section in sections.items()}
        yield same("radii of the bender", drawn, listed)


def lowest_sill(car: Plain) -> float:
    """Height above ground of the underside of the sill tubes, mm."""
    nodes, sections = car["frame"]["nodes"], car["frame"]["tube_stock"]
    lows = [
        nodes[m[end]]["xyz"][2] - sections[m["tube"]]["od"] / 2
        for m in car["frame"]["members"]
        if "_sill" in m["id"]
        for end in ("start_node", "end_node")
    ]
    return float(np.min(lows))
