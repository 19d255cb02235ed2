"""The frames of two invented cars as networks, and tubes put together by hand."""

import json
from dataclasses import dataclass, replace
from math import radians
from pathlib import Path
from typing import Any

import numpy as np

from core.frame.network import Member, Network, Visit
from core.frame.sections import TubeSection, round_tube
from core.geometry.tubes import TubeShape, centre_line, shape_from_vertices
from core.geometry.types import Array

CHORD = radians(5.0)
DATA = Path(__file__).parents[2] / "reference"


@dataclass(frozen=True)
class CarFrame:
    """A car's frame with the names that the numbers stand for."""

    nodes: list[str]
    names: list[str]
    shapes: list[TubeShape]
    sections: list[TubeSection]
    network: Network
    expected: dict[str, Any]
    carried: list[tuple[str, list[float], str, float]]

    def node(self, name: str) -> int:
        return self.nodes.index(name)

    def member(self, name: str) -> int:
        return self.names.index(name)

    def without(self, name: str) -> Network:
        k = self.member(name)
        members = self.network.members
        return replace(self.network, members=members[:k] + members[k + 1 :])


def load(car: str) -> CarFrame:
    data = json.loads((DATA / f"frame_of_the_{car}_car.json").read_text())
    nodes = list(data["nodes"])
    shapes = [
        shape_from_vertices(np.array(t["vertices"]), np.array([clr for _, clr in t["bends"]]))
        for t in data["tubes"]
    ]
    sections = [
        round_tube(s["od"], s["wall"], s["density_kg_m3"])
        for s in (data["sections"][t["section"]] for t in data["tubes"])
    ]
    members = tuple(
        Member(visits(nodes, tube), centre_line(shape, CHORD), section.outside / 2)
        for tube, shape, section in zip(data["tubes"], shapes, sections, strict=True)
    )
    return CarFrame(
        nodes=nodes,
        names=[tube["id"] for tube in data["tubes"]],
        shapes=shapes,
        sections=sections,
        network=Network(np.array(list(data["nodes"].values())), members),
        expected=data["expected"],
        carried=data["carried"],
    )


def visits(nodes: list[str], tube: dict[str, Any]) -> tuple[Visit, ...]:
    at = nodes.index
    return (
        Visit(at(tube["start"]), "end"),
        *(Visit(at(name), "bend") for name, _ in tube["bends"]),
        *(Visit(at(name), "through") for name in tube["through"]),
        Visit(at(tube["end"]), "end"),
    )


def straight(start: int, end: int, places: Array, radius: float, *through: int) -> Member:
    """A straight tube from joint to joint."""
    passing = tuple(Visit(node, "through") for node in through)
    ends = (Visit(start, "end"), Visit(end, "end"))
    return Member((ends[0], *passing, ends[1]), places[[start, end]], radius)
