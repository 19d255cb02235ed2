"""The car as a whole, masses, limits, load cases, way out and lift from a neutral file."""

from collections.abc import Iterator
from typing import Literal

from core.document.base import Ref
from core.document.records import (
    Aboard,
    Car,
    Lift,
    LiftState,
    Limit,
    LoadCase,
    Part,
    Station,
    WayOut,
)
from tests.cars.convert_names import unit_name
from tests.cars.doubled_rest import driver_side
from tests.cars.neutral import ENDS, Plain, number, place
from tests.cars.pairs import Names

LIMITS = {
    "min_unit_gap": "unit_gap",
    "min_unit_gap_moved": "unit_gap_moved",
    "min_drop_gap": "drop_gap",
    "roll_out_gap": "roll_out_gap",
    "max_bracket_reach": "bracket_reach",
    "min_straight_between_bends": "straight_between_bends",
    "min_moving_clearance": "moving_gap",
    "min_run_gap": "run_gap",
    "max_bump_steer_deg": "bump_steer",
    "tilt_without_given_limit_deg": "link_tilt",
}
"""The builder's own limits in the file and the rules they are numbers of."""


def cars(car: Plain) -> tuple[Car, ...]:
    """The car's name, layout, load and stations."""
    said = car["axes"]
    vehicle = car["vehicle"]
    remarks = [vehicle.get("design_note", ""), car.get("masses_note", "")]
    return (
        Car(
            id="car",
            name=car["name"],
            statement=car["statement"],
            layout=vehicle["layout"],
            origin=said["origin"],
            pose=said["pose"],
            design_load=said["design_load"],
            driver_side="left" if driver_side(car) == "left" else "right",
            stations=tuple(
                Station(name=name, x=number(station["x"]), what=station["what"])
                for name, station in said.get("stations", {}).items()
            ),
            note="; ".join(remark for remark in remarks if remark),
        ),
    )


def parts(car: Plain, names: Names) -> tuple[Part, ...]:
    """Everything that weighs something but tubes and sheets."""
    return tuple(_part(car, names, mass) for mass in car["masses"])


def _part(car: Plain, names: Names, mass: Plain) -> Part:
    name: str = mass["id"]
    is_unit = name == "power_unit_wet"  # its mass and place are the power unit's own
    return Part(
        id=names.id("part", name),
        name=name,
        how_got=_how_got(name),
        mass_kg=None if is_unit else number(mass["mass_kg"]),
        centre_of_gravity=None if is_unit else place(mass["cg"]),
        carrier="unit" if is_unit else "chassis",
        stands_for=names.ref("power_unit", unit_name(car)) if is_unit else None,
        note=mass.get("note", ""),
    )


def _how_got(name: str) -> Literal["bought", "made", "person", "fluid"]:
    if name in ("driver", "passenger"):
        return "person"
    if name.startswith("fuel_") and name.endswith("_l"):
        return "fluid"
    return "made" if name == "brackets_and_fixings" else "bought"


def load_cases(car: Plain, names: Names) -> tuple[LoadCase, ...]:
    """What is aboard when the brakes are looked at."""
    states = car.get("brakes", {}).get("load_states", ())
    return tuple(
        LoadCase(
            id=f"load_case{count}",
            name=state["name"],
            aboard=tuple(
                Aboard(part=names.ref("part", part), mass_kg=number(mass))
                for part, mass in state["set"].items()
            ),
        )
        for count, state in enumerate(states, 1)
    )


def ways_out(car: Plain, names: Names) -> tuple[WayOut, ...]:
    """How the power unit leaves."""
    way = car["way_out"]
    return (
        WayOut(
            id="way_out1",
            name="way out",
            direction=place(way["direction"]),
            distance=number(way["distance"]),
            tubes_out=tuple(names.ref("tube", tube) for tube in way.get("tubes_taken_out", ())),
            note=way["note"],
        ),
    )


def lifts(car: Plain, names: Names) -> tuple[Lift, ...]:
    """Where the raised car stands and what has been taken out."""
    if "lift" not in car:
        return ()
    lift = car["lift"]
    return (
        Lift(
            id="lift1",
            name="lift",
            stands=tuple(names.ref("point", node) for node in lift["stand_nodes"]),
            states=tuple(
                LiftState(
                    name=state["name"],
                    without=tuple(names.ref("part", part) for part in state["without"]),
                )
                for state in lift["states"]
            ),
            note=lift["note"],
        ),
    )


def limits(car: Plain, names: Names) -> tuple[Limit, ...]:
    """The builder's own limits; one given by axle is two."""
    found = [*_limits(car["shop"], names)]
    return tuple(
        Limit(
            id=f"limit{count}",
            name=name,
            rule=rule,
            value=value,
            unit=_unit(rule),
            source="builder's own",
            only_for=only_for,
        )
        for count, (name, rule, value, only_for) in enumerate(found, 1)
    )


def _limits(shop: Plain, names: Names) -> Iterator[tuple[str, str, float, Ref | None]]:
    for entry, rule in LIMITS.items():
        words = rule.replace("_", " ")
        value = shop.get(entry)
        if isinstance(value, dict):
            for end in ENDS:
                yield f"{words}, {end}", rule, number(value[end]), names.ref("axle", f"{end} axle")
        elif value is not None:
            yield words, rule, number(value), None


def _unit(rule: str) -> str:
    return "deg" if rule in ("bump_steer", "link_tilt") else "mm"
