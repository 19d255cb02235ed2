"""Shell, openings, obstacles, runs, people and bolts from a neutral file."""

from collections.abc import Iterator

import msgspec

from core.document.base import Ref
from core.document.surroundings import (
    Arch,
    Belt,
    Controls,
    Exhaust,
    Fastener,
    Obstacle,
    Occupant,
    Opening,
    Pedal,
    Roof,
    Run,
    Seat,
    Shell,
    Sill,
    ThreadSize,
    Workshop,
)
from tests.cars.neutral import (
    ENDS,
    SIDES,
    Plain,
    box,
    matched,
    number,
    number_or_none,
    place,
    place_or_none,
)
from tests.cars.pairs import Names


def shells(car: Plain) -> tuple[Shell, ...]:
    """The body shell; the height of the roof is kept once, with the roof."""
    if "shell" not in car:
        return ()
    overall, roof = car["body"]["overall"], car["shell"]["roof"]
    return (
        Shell(
            id="shell1",
            name="body shell",
            front_x=number(overall["front_x"]),
            rear_x=number(overall["rear_x"]),
            half_width=number(overall["half_width"]),
            roof=Roof(**{name: number(value) for name, value in roof.items()}),
            sills=tuple(_sill(car["shell"]["sill"], side) for side in SIDES),
            arches=tuple(_arches(car["body"]["wheel_arches"])),
        ),
    )


def _sill(sill: Plain, side: str) -> Sill:
    start, end = sill[side]
    return Sill(
        name=side,
        start=place(start),
        end=place(end),
        height=number(sill["height"]),
        width=number(sill["width"]),
    )


def _arches(arches: Plain) -> Iterator[Arch]:
    for end in ENDS:
        x, z = arches[end]["centre"]
        yield Arch(
            end="front" if end == "front" else "rear",
            centre_x=number(x),
            centre_z=number(z),
            radius=number(arches[end]["radius"]),
        )


IN_THE_FRAME = ("underside_drop_out",)
"""Openings that frame tubes bound, and not the shell."""


def openings(car: Plain, names: Names) -> tuple[Opening, ...]:
    """The holes in the shell and under the bay."""
    remark = car.get("body", {}).get("underside_drop_out_opening", {}).get("note", "")
    return tuple(
        Opening(
            id=f"opening{count}",
            name=entry["name"],
            outline=tuple(place(corner) for corner in entry["outline"]),
            carrier="chassis" if entry["name"] in IN_THE_FRAME else "shell",
            known=tuple(names.ref("tube", tube) for tube in entry["tubes_known_to_cross"]),
            note=remark if entry["name"] in IN_THE_FRAME else "",
        )
        for count, entry in enumerate(car.get("shell", {}).get("openings", ()), 1)
    )


def obstacles(car: Plain) -> tuple[Obstacle, ...]:
    """Tank, radiator, battery, other rigid things, exhaust."""
    found = [*_boxes(car["packages"]), *_hot_things(car.get("exhaust", {}))]
    return tuple(
        msgspec.structs.replace(thing, id=f"obstacle{count}")
        for count, thing in enumerate(found, 1)
    )


def _boxes(packages: Plain) -> Iterator[Obstacle]:
    for key, name in (("fuel_tank", "fuel tank"), ("radiator", "radiator"), ("battery", "battery")):
        if key in packages:
            litres = number_or_none(packages[key].get("gross_litres"))
            yield Obstacle(id="obstacle", name=name, box=box(packages[key]), litres=litres)
    for thing in packages.get("rigid_things", ()):
        yield Obstacle(id="obstacle", name=thing["name"], box=box(thing))


def _hot_things(exhaust: Plain) -> Iterator[Obstacle]:
    for solid in exhaust.get("solids", ()):
        (kind,) = matched("(pipe|box)", solid["kind"], solid["name"])
        is_pipe = kind == "pipe"
        yield Obstacle(
            id="obstacle",
            name=solid["name"],
            box=None if is_pipe else box(solid),
            line=tuple(place(point) for point in solid.get("points", ())),
            outside=number_or_none(solid.get("od")),
            bend_radius=number_or_none(solid.get("bend_radius")),
            hot=True,
            note=solid.get("note", ""),
        )


def exhausts(car: Plain) -> tuple[Exhaust, ...]:
    """What is hot and how far things keep from it."""
    if "exhaust" not in car:
        return ()
    entry = car["exhaust"]
    return (
        Exhaust(
            id="exhaust1",
            name="exhaust",
            unit_solids=tuple(entry["unit_solids"]),
            heat_distance=number(entry["heat_distance"]),
            heat_distance_with_shield=number(entry["heat_distance_with_shield"]),
            heat_distance_from=entry["heat_distance_from"],
            tube_gap=number(entry["tube_gap"]),
        ),
    )


def runs(car: Plain) -> tuple[Run, ...]:
    """Hoses, pipes and cables."""
    return tuple(
        Run(
            id=f"run{count}",
            name=run["id"],
            what=run["what"],
            outside=number(run["od"]),
            bend_radius=number(run["bend_radius"]),
            least_bend_radius=number(run["least_bend_radius"]),
            points=tuple(place(point) for point in run["points"]),
            ends_on=tuple(run["ends_on"]),
        )
        for count, run in enumerate(car.get("runs", ()), 1)
    )


def occupants(car: Plain) -> tuple[Occupant, ...]:
    """The people, each with the seat and the belts that bear the same name."""
    people = car.get("people", {})
    return tuple(
        Occupant(
            id=f"occupant{count}",
            name=person["name"],
            hip_point=place(person["h_point"]),
            heel=place_or_none(person.get("heel")),
            shoulder=place_or_none(person.get("shoulder")),
            helmet_centre=place(person["helmet_centre"]),
            helmet_radius=number(person["helmet_radius"]),
            drives=person["name"] == "driver",
            seat=_seat(people, person["name"]),
            belts=tuple(_belts(people, person["name"])),
        )
        for count, person in enumerate(car["packages"]["occupants"], 1)
    )


def _seat(people: Plain, name: str) -> Seat | None:
    for seat in people.get("seats", ()):
        if seat["name"] == name:
            low, high = seat["back_line"]
            return Seat(
                cushion=box(seat),
                back_low=place(low),
                back_high=place(high),
                back_half_thickness=number(seat["back_half_thickness"]),
            )
    return None


def _belts(people: Plain, name: str) -> Iterator[Belt]:
    for belt in people.get("belts", ()):
        owner, _, rest = belt["name"].partition(" ")
        if owner == name:
            yield Belt(
                name=rest, body=place(belt["body"]), anchor=place(belt["anchor"]), on=belt["on"]
            )


def controls(car: Plain) -> tuple[Controls, ...]:
    """Pedals, steering wheel and column."""
    if "people" not in car:
        return ()
    steering = car["people"]["steering"]
    return (
        Controls(
            id="controls1",
            name="controls",
            pedals=tuple(_pedal(pedal) for pedal in car["people"]["pedals"]),
            pedal_faces_x=number(car["packages"]["pedal_faces_x"]),
            wheel_centre=place(steering["wheel_centre"]),
            wheel_diameter=number(steering["wheel_diameter"]),
            rim_outside=number(steering["rim_od"]),
            column=tuple(place(point) for point in steering["column_points"]),
            column_outside=number(steering["column_od"]),
            joint_angle_limit_deg=number(steering["joint_angle_limit_deg"]),
            note=steering["note"],
        ),
    )


def _pedal(pedal: Plain) -> Pedal:
    width, height = pedal["pad"]
    return Pedal(
        name=pedal["name"],
        pad_centre=place(pedal["pad_centre"]),
        pad_width=number(width),
        pad_height=number(height),
        travel=number(pedal["travel"]),
    )


MIRRORED = ("; mirror for the right", "hub nut, left")
"""Words by which the file says that a left-hand bolt stands for both: hubs are on both sides."""


def fasteners(car: Plain, names: Names) -> tuple[Fastener, ...]:
    """The bolts; one that is the same on the right is a pair."""
    listed = car.get("fasteners", {}).get("list", ())
    return tuple(_fastener(entry, names, count) for count, entry in enumerate(listed, 1))


def _fastener(entry: Plain, names: Names, count: int) -> Fastener:
    pair = any(words in entry["what"] for words in MIRRORED)
    fixed = _fixed(entry["id"].removeprefix("F_"), names, pair=pair)
    return Fastener(
        id=f"fastener{count}",
        name=entry["id"],
        pair=pair,
        what=entry["what"].removesuffix("; mirror for the right").removesuffix(", left"),
        thread=entry["thread"],
        across_flats=number(entry["across_flats"]),
        head_place=place(entry["head_place"]),
        tool_from=place(entry["tool_from"]),
        tool_outside=number(entry["tool_od"]),
        tool_length=number(entry["tool_length"]),
        tool_checked=entry.get("tool_check", True),
        hub=_hub(entry["part"], names) if "part" in entry else None,
        fixes=fixed,
    )


def _hub(path: list[str], names: Names) -> Ref:
    (name,) = matched(r"donor_parts\.(.*)", ".".join(path), "part of a bolt")
    return names.ref("hub", name)


def _fixed(stem: str, names: Names, *, pair: bool) -> tuple[Ref, ...]:
    """What a bolt holds, by its name: a hardpoint, or the mount whose first word it has."""
    points = {named.name for named in names.catalogue["point"]}
    if pair and stem in points:
        return (names.ref("point", stem + "_L"),)
    first = stem.split("_", maxsplit=1)[0] + "_"
    mounts = [named.name for named in names.catalogue["mount"] if named.name.startswith(first)]
    return tuple(names.ref("mount", name) for name in mounts)


def workshops(car: Plain) -> tuple[Workshop, ...]:
    """Sockets, usual sizes and the height of the dolly."""
    if "fasteners" not in car and "dolly_height" not in car["shop"]:
        return ()
    bolts = car.get("fasteners", {})
    sizes = bolts.get("across_flats_by_thread", {})
    return (
        Workshop(
            id="workshop1",
            name="workshop",
            sockets_in_hand=tuple(number(size) for size in bolts.get("sockets_in_hand", ())),
            across_flats_by_thread=tuple(
                ThreadSize(thread=thread, across_flats=number(flats))
                for thread, flats in sizes.items()
            ),
            dolly_height=number_or_none(car["shop"].get("dolly_height")),
            note=bolts.get("note", ""),
        ),
    )
