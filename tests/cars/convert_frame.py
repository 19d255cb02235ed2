"""Tubes, joints, sheets and what they are made of, from a neutral file."""

import msgspec
import numpy as np

from core.document.base import Ref
from core.document.steel import (
    Along,
    Bay,
    Bend,
    Die,
    EndFixing,
    Material,
    Panel,
    Point,
    Section,
    Stock,
    Tube,
)
from core.geometry.tubes import TubeShape, nearest_on, solve_tube
from tests.cars.convert_names import die_name
from tests.cars.neutral import ConversionError, Plain, array, number, number_or_none, place
from tests.cars.pairs import Named, Names, as_pair, collapsed

NODE_ON_TUBE = 0.01
"""mm by which a node said to lie on a tube may miss it: the file rounds places to 0.01."""


def materials(car: Plain, names: Names) -> tuple[Material, ...]:
    """The steels and sheet metals."""
    return tuple(
        Material(
            id=names.id("material", name),
            name=name,
            description=entry["description"],
            density_kg_m3=round(entry["density_kg_per_mm3"] * 1e9, 3),
            youngs_modulus_mpa=number(entry["youngs_modulus_MPa"]),
            yield_mpa=number(entry["yield_MPa"]),
            note=entry.get("note", ""),
        )
        for name, entry in car["materials"].items()
    )


def dies(car: Plain, names: Names) -> tuple[Die, ...]:
    """A die for each section, with the bender's springback."""
    bender = car["shop"].get("bender", {})
    return tuple(
        Die(
            id=names.id("die", die_name(name)),
            name=die_name(name),
            radius=number(section["bend_clr"]),
            springback_deg_per_90=number_or_none(bender.get("springback_deg_per_90")),
            note=bender.get("note", ""),
        )
        for name, section in car["frame"]["tube_stock"].items()
    )


def sections(car: Plain, names: Names) -> tuple[Section, ...]:
    """The round tubes used."""
    return tuple(
        Section(
            id=names.id("section", name),
            name=name,
            outside=number(section["od"]),
            wall=number(section["wall"]),
            material=names.ref("material", section["material"]),
            die=names.ref("die", die_name(name)),
            use=section["use"],
            sold_as=section.get("size_in", ""),
        )
        for name, section in car["frame"]["tube_stock"].items()
    )


def stocks(car: Plain) -> tuple[Stock, ...]:
    """The one length all tube is bought in."""
    shop = car["shop"]
    return (
        Stock(
            id="stock1",
            name=f"{shop['stock_length']:g} mm lengths",
            length=number(shop["stock_length"]),
            kerf=number(shop["saw_kerf"]),
            note=shop.get("units_note", ""),
        ),
    )


def frame_points(car: Plain, names: Names) -> tuple[Point, ...]:
    """The tube joints, those on the way along a tube following it."""
    labels = set(car["frame"]["nodes"])
    nodes = [name for name in names.catalogue["point"] if _label(name) in labels]
    return tuple(_node(car, names, named) for named in nodes)


def _label(named: Named) -> str:
    return named.name + "_L" if named.pair else named.name


def _node(car: Plain, names: Names, named: Named) -> Point:
    if not named.pair:
        return _single(car, names, named.name, named.name)
    left, right = (_single(car, names, named.name, named.name + side) for side in ("_L", "_R"))
    return as_pair(left, right)


def _single(car: Plain, names: Names, name: str, label: str) -> Point:
    node = place(car["frame"]["nodes"][label]["xyz"])
    along = _along(car, names, label)
    at = node if along is None else None
    return Point(id=names.id("point", name), name=name, at=at, along=along, measured_to="node")


def _along(car: Plain, names: Names, label: str) -> Along | None:
    """The place of a node on the tube that passes it; none if no tube does."""
    passing = [m for m in car["frame"]["members"] if label in m["through_nodes"]]
    if not passing:
        return None
    if len(passing) > 1:
        msg = f"{label} is passed by two tubes and can follow only one"
        raise ConversionError(msg)
    tube = names.ref("tube", passing[0]["id"])
    # Of a pair on one tube the right-hand joint is measured from the other end, like its mirror.
    from_end = tube.side == "one" and label.endswith("_R")
    distance = _distance_along(car, passing[0], label, from_end=from_end)
    return Along(tube=tube, distance=distance, end="end" if from_end else "start")


def _distance_along(car: Plain, member: Plain, label: str, *, from_end: bool) -> float:
    shape = node_shape(car, member)
    distance, gap = nearest_on(shape, array(car["frame"]["nodes"][label]["xyz"]))
    if gap > NODE_ON_TUBE:
        msg = f"{label} is said to lie on {member['id']} but misses it by {gap:.3f} mm"
        raise ConversionError(msg)
    return round(shape.length - distance if from_end else distance, 3) + 0.0


def node_shape(car: Plain, member: Plain) -> TubeShape:
    """The tube through its nodes, as the program will draw it."""
    inner = [bend["node"] for bend in member["bends"]]
    labels = [member["start_node"], *inner, member["end_node"]]
    points = np.array([car["frame"]["nodes"][label]["xyz"] for label in labels], dtype=np.float64)
    return solve_tube(points, array([bend["clr"] for bend in member["bends"]]))


def tubes(car: Plain, names: Names) -> tuple[Tube, ...]:
    """The tubes; mirrored ones are one pair."""
    members = {member["id"]: member for member in car["frame"]["members"]}
    return tuple(_tube(car, names, named, members) for named in names.catalogue["tube"])


def _tube(car: Plain, names: Names, named: Named, members: Plain) -> Tube:
    if not named.pair:
        return _single_tube(car, names, named.name, members[named.name])
    left, right = (
        _single_tube(car, names, named.name, members[named.name + side]) for side in ("_L", "_R")
    )
    return as_pair(left, right)


def _single_tube(car: Plain, names: Names, name: str, member: Plain) -> Tube:
    taken_out = member["id"] in car["way_out"].get("tubes_taken_out", ())
    bolted = member["role"].startswith("bolted in")
    ends = (EndFixing(end="start", kind="bolted"), EndFixing(end="end", kind="bolted"))
    return Tube(
        id=names.id("tube", name),
        name=name,
        section=names.ref("section", member["tube"]),
        start=names.ref("point", member["start_node"]),
        end=names.ref("point", member["end_node"]),
        bends=tuple(_bend(car, names, member["tube"], bend) for bend in member["bends"]),
        role=member["role"],
        fixings=ends if bolted else (),
        removable=taken_out,
    )


def _bend(car: Plain, names: Names, section: str, bend: Plain) -> Bend:
    """A bend, with its own radius only where that is not the die's."""
    own = bend["clr"] != car["frame"]["tube_stock"][section]["bend_clr"]
    radius = number(bend["clr"]) if own else None
    return Bend(point=names.ref("point", bend["node"]), radius=radius)


def panels(car: Plain, names: Names) -> tuple[Panel, ...]:
    """The sheets."""
    return tuple(
        Panel(
            id=f"panel{count}",
            name=panel["id"],
            outline=_outline(names, panel["outline_nodes"]),
            thickness=number(panel["thickness"]),
            material=names.ref("material", panel["material"]),
            fixing=panel["fixing"],
            flat_within=number(panel["flat_within"]),
            note=panel.get("note", ""),
        )
        for count, panel in enumerate(car.get("panels", ()), 1)
    )


def _outline(names: Names, labels: list[str]) -> tuple[Ref, ...]:
    return tuple(names.ref("point", label) for label in labels)


def bays(car: Plain, names: Names) -> tuple[Bay, ...]:
    """The open bays that the builder knows of; the same bay on both sides is one pair."""
    entries = {bay_label(entry): entry for entry in car["frame"]["known_open_panels"]}
    numbered = enumerate(collapsed(entries), 1)
    return tuple(_bay(names, named, count, entries) for count, named in numbered)


def bay_label(entry: Plain) -> str:
    """The joints round a bay, with one side behind them if all lie on that side."""
    stems = [label[:-2] for label in entry["panel"]]
    (*sides,) = {label[-2:] for label in entry["panel"]}
    return "_".join(stems) + sides[0] if len(sides) == 1 else " ".join(entry["panel"])


def _bay(names: Names, named: Named, count: int, entries: Plain) -> Bay:
    left = _one_bay(names, named, count, entries[_label(named)])
    if not named.pair:
        return left
    right = _one_bay(names, named, count, entries[named.name + "_R"])
    # Of a pair the reason is said on the left; on the right the file says «same».
    return as_pair(left, msgspec.structs.replace(right, why=left.why))


def _one_bay(names: Names, named: Named, count: int, entry: Plain) -> Bay:
    return Bay(
        id=f"bay{count}",
        name=named.name,
        outline=_outline(names, entry["panel"]),
        why=entry["why"],
        closed_by=entry["closed_by"] or "nothing",
    )
