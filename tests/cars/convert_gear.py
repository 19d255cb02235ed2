"""Axles, corners, steering, wheels, shafts and brakes from a neutral file."""

from collections.abc import Iterator
from typing import NamedTuple

from core.document.base import Carrier, Ref
from core.document.running_gear import (
    Axle,
    Hub,
    Rack,
    Tyre,
    Wheel,
)
from core.document.steel import Bracket, LinkEnd, Point
from tests.cars.convert_names import own_roles
from tests.cars.doubled_gear import RIM
from tests.cars.neutral import (
    ENDS,
    ConversionError,
    Plain,
    driven_end,
    matched,
    number,
    number_or_none,
    place,
    place_or_none,
)
from tests.cars.pairs import Names, as_pair


def axles(car: Plain, names: Names) -> tuple[Axle, ...]:
    """The front and the rear axle."""
    front, rear = (_axle(car, names, end) for end in ENDS)
    return front, rear


def _axle(car: Plain, names: Names, end: str) -> Axle:
    steered = bool(car["suspension"][end].get("rack_ends"))
    name = f"{end} axle"
    return Axle(
        id=names.id("axle", name),
        name=name,
        end="front" if end == "front" else "rear",
        rack=names.ref("rack", "steering_rack") if steered else None,
        driven=end == driven_end(car),
    )


def racks(car: Plain, names: Names) -> tuple[Rack, ...]:
    """The steering rack."""
    rack = car["donor_parts"]["steering_rack"]
    ends = [car["suspension"][end].get("link_ends", {}).get("tie_inner") for end in ENDS]
    joints = [_link_end(end) for end in ends if end is not None]
    feet = ("rack_foot_L", "rack_foot_R") if "feet" in rack else ()
    return (
        Rack(
            id=names.id("rack", "steering_rack"),
            name="steering_rack",
            centre=place(rack["centre"]),
            ball_spacing=number(rack["inner_ball_spacing"]),
            travel_per_turn=number_or_none(rack.get("travel_per_turn")),
            total_travel=number_or_none(rack.get("total_travel")),
            used_each_way=number(rack["used_travel_each_way"]),
            housing_outside=number(rack["housing_od"]),
            feet=tuple(names.ref("point", foot) for foot in feet),
            joint=joints[0] if joints else None,
        ),
    )


def _link_end(entry: Plain) -> LinkEnd:
    return LinkEnd(
        kind=entry["kind"],
        carried_by=entry["carried_by"],
        direction=place(entry["direction"]),
        cup_direction=place_or_none(entry.get("cup_direction")),
        width=number(entry["width"]),
        bolt=entry["bolt"],
        tilt_limit_deg=number_or_none(entry["tilt_limit_deg"]),
        limit_from=entry.get("limit_from", ""),
    )


def hubs(car: Plain, names: Names) -> tuple[Hub, ...]:
    """The front and the rear hub."""
    return tuple(_hub(car["donor_parts"][f"{end}_hub"], names, f"{end}_hub") for end in ENDS)


def _hub(hub: Plain, names: Names, name: str) -> Hub:
    return Hub(
        id=names.id("hub", name),
        name=name,
        stud_count=hub["stud_count"],
        stud_circle=number(hub["pcd"]),
        stud_thread=hub["stud_thread"],
        spigot=number(hub["spigot_diameter"]),
        bearing=hub.get("bearing", ""),
        nut_thread=hub.get("hub_nut_thread", ""),
        nut_torque_nm=number_or_none(hub.get("hub_nut_torque_Nm")),
        nut_across_flats=number_or_none(hub.get("hub_nut_across_flats")),
        spline_count=hub.get("spline_count"),
        joint_to_face=number_or_none(hub.get("outer_joint_to_hub_face")),
        seat_to_face=number_or_none(hub.get("hub_seat_to_hub_face")),
    )


def wheels(car: Plain, names: Names) -> tuple[Wheel, ...]:
    """The front and the rear wheel."""
    return tuple(_wheel(car["wheels"][end], names, f"{end} wheel") for end in ENDS)


def _wheel(wheel: Plain, names: Names, name: str) -> Wheel:
    width, rim = matched(RIM, wheel["size"], "rim")
    return Wheel(
        id=names.id("wheel", name),
        name=name,
        rim_width_in=float(width),
        rim_in=float(rim),
        offset=number(wheel["et"]),
        stud_count=wheel["stud_count"],
        stud_circle=number(wheel["pcd"]),
        stud_thread=wheel["stud_thread"],
        centre_bore=number(wheel["centre_bore"]),
    )


def tyres(car: Plain, names: Names) -> tuple[Tyre, ...]:
    """The front and the rear tyre; the unloaded radius only where it is not by the rule."""
    return tuple(_tyre(car["tyres"][end], names, f"{end} tyre") for end in ENDS)


def _tyre(tyre: Plain, names: Names, name: str) -> Tyre:
    by_rule = tyre["unloaded_radius_by"] == "rule"
    return Tyre(
        id=names.id("tyre", name),
        name=name,
        size=tyre["size"],
        loaded_radius=number(tyre["loaded_radius"]),
        unloaded_radius=None if by_rule else number(tyre["unloaded_radius"]),
        vertical_stiffness=number(tyre["k_vert_N_per_mm"]),
    )


def hardpoints(car: Plain, names: Names) -> Iterator[Point]:
    """The points of both axles and the feet of the rack, each with its mirror image."""
    for end in ENDS:
        for role in own_roles(car["suspension"][end]):
            yield _hardpoint(car, names, end, role)
    feet = car["donor_parts"]["steering_rack"].get("feet")
    if feet:
        left, right = (_foot(names, foot) for foot in feet)
        yield as_pair(left, right)


def _foot(names: Names, foot: list[float]) -> Point:
    new_id = names.id("point", "rack_foot")
    return Point(id=new_id, name="rack_foot", at=place(foot), measured_to="bolt centre")


def _hardpoint(car: Plain, names: Names, end: str, role: str) -> Point:
    axle = car["suspension"][end]
    name = f"{end}_{role}"
    entry = axle.get("link_ends", {}).get(role)
    joint = None if entry is None else _link_end(entry)
    is_ball = joint is not None and joint.kind in ("ball", "axial_ball")
    carrier = _carrier(axle, role)
    moves = carrier != "chassis"
    return Point(
        id=names.id("point", name),
        name=name,
        pair=True,
        at=place(axle["hardpoints_left"][role]),
        carrier=carrier,
        carrier_of=names.ref("corner", f"{end} corner_L") if moves else None,
        measured_to="ball centre" if is_ball else "bolt centre",
        joint=joint,
    )


def _carrier(axle: Plain, role: str) -> Carrier:
    """What a hardpoint moves with; fixed ones are inner ends, pivots and what has a bracket."""
    inner = {inner for inner, _ in axle["links"]}
    if role in inner | set(axle.get("pivots", ())) | set(axle["pickup_nodes_left"]):
        return "chassis"
    on_arm = axle["damper"]["lower_on"] != "upright"
    return "arm" if role == "damper_lower" and on_arm else "upright"


def brackets(car: Plain, names: Names) -> tuple[Bracket, ...]:
    """One bracket for each hardpoint on the frame, each mount and each foot of the rack."""
    found = [*_pickup_brackets(car, names), *_mount_brackets(car, names)]
    found += list(_foot_brackets(car, names))
    return tuple(
        Bracket(
            id=f"bracket{count}",
            name=f"{item.what}_bracket",
            pair=item.carries.side == "left",
            carries=item.carries,
            on=item.on,
            note=item.note,
        )
        for count, item in enumerate(found, 1)
    )


class Standing(NamedTuple):
    """What a bracket carries, under which name, and the joint it stands on."""

    what: str
    carries: Ref
    on: Ref
    note: str = ""


def _pickup_brackets(car: Plain, names: Names) -> Iterator[Standing]:
    for end in ENDS:
        axle = car["suspension"][end]
        left, right = axle["pickup_nodes_left"], axle.get("pickup_nodes_right")
        for role, node in left.items():
            on = names.ref("point", node)
            if right is not None and names.ref("point", right[role]) != on.mirrored():
                msg = f"{end} {role} stands on {right[role]}, which is not the mirror of {node}"
                raise ConversionError(msg)
            name = f"{end}_{role}"
            yield Standing(name, names.ref("point", f"{name}_L"), on)


def _mount_brackets(car: Plain, names: Names) -> Iterator[Standing]:
    for mount in car["power_unit"]["mounts"]:
        name, on = mount["name"], names.ref("point", mount["frame_node"])
        yield Standing(name, names.ref("mount", name), on, mount.get("bracket", ""))


def _foot_brackets(car: Plain, names: Names) -> Iterator[Standing]:
    nodes = car["donor_parts"]["steering_rack"].get("feet_frame_nodes")
    if nodes:
        left, right = (names.ref("point", node) for node in nodes)
        if right != left.mirrored():
            msg = "the feet of the rack do not stand on mirrored joints"
            raise ConversionError(msg)
        yield Standing("rack_foot", names.ref("point", "rack_foot_L"), left)
