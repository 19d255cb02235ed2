"""Doubled entries of body and people, and the statements that must be what the program takes."""

from collections.abc import Iterator
from typing import Any

from tests.cars.doubled import Doubled, far, same
from tests.cars.neutral import Plain

EXPECTED = {
    ("format",): "demo-car data set",
    ("version",): 2,
    ("units",): {"length": "mm", "mass": "kg", "angle": "deg", "force": "N", "torque": "N m"},
    ("axes", "convention"): "ISO 8855",
    ("axes", "x"): "forward",
    ("axes", "y"): "left",
    ("axes", "z"): "up",
}
"""What must be said in so many words, for the document takes it for granted."""

INERTIA = {
    "about": "centre of gravity, unit axes",
    "convention": "tensor elements: off-diagonal = minus the sum of m x y",
}


def doubled_rest(car: Plain) -> Iterator[Doubled]:
    """Every other doubled entry."""
    for path, wanted in EXPECTED.items():
        yield same(".".join(path), _at(car, path), wanted)
    inertia = car["power_unit"]["inertia_kg_m2"]
    for name in INERTIA.keys() & inertia.keys():
        yield same(f"inertia, {name}", inertia[name], INERTIA[name])
    if "shell" in car:
        yield from _shell(car)
    if "people" in car:
        yield from _people(car)


def _at(thing: Any, path: tuple[str, ...]) -> Any:  # noqa: ANN401 - JSON
    for step in path:
        thing = thing[step]
    return thing


def _shell(car: Plain) -> Iterator[Doubled]:
    """Outlines of the openings = the body's openings; roof = overall height."""
    body, shell = car["body"], car["shell"]
    outlines = {opening["name"]: opening["outline"] for opening in shell["openings"]}
    twice = {
        "engine_hole": "engine_cover_opening",
        "underside_drop_out": "underside_drop_out_opening",
    }
    for name, other in twice.items():
        copy = [[x, y, body[other]["z"]] for x, y in body[other]["xy"]]
        yield Doubled(f"{name} = {other}", far(outlines[name], copy), 1e-9)
    roof = abs(shell["roof"]["z"] - body["overall"]["roof_z"])
    yield Doubled("height of the roof", roof, 1e-9)


def _people(car: Plain) -> Iterator[Doubled]:
    """Steering wheel = start of its column; place of the driver = the driver's side."""
    steering = car["people"]["steering"]
    start = far(steering["wheel_centre"], steering["column_points"][0])
    yield Doubled("steering column begins at the wheel", start, 1e-9)
    yield same("the driver's side", driver_side(car), car["people"]["driver_side"])


def driver_side(car: Plain) -> str:
    """The side on which the driver's hip point lies."""
    (driver,) = (p for p in car["packages"]["occupants"] if p["name"] == "driver")
    return "left" if driver["h_point"][1] > 0 else "right"
