"""What each thing in the car weighs and where: tubes, sheets, brackets, the unit, the parts list.

A part that stands for a thing takes its place, so nothing is weighed twice; where the part gives no
figure of its own, the thing's counts.
"""

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from core.assess.frame import Standing, standing, weight_of_tube
from core.assess.places import array, place, the_unit, unit_frame, vec
from core.balance.masses import sheet
from core.document.base import Ref, Vec3
from core.document.power import PowerUnit
from core.document.records import Part
from core.document.steel import Bracket, Material, Panel, Point, Tube
from core.engine.cells import NotComputedError, Reader, When, cell

Group = Literal["tubes", "sheets", "brackets", "engine and gearbox", "parts list"]

GROUPS: tuple[Group, ...] = ("tubes", "sheets", "brackets", "engine and gearbox", "parts list")

KG_PER_MM3 = 1e-9
"""From mm3 times kg/m3."""


@dataclass(frozen=True)
class Item:
    """One thing that weighs something.

    Attributes:
        ref: the thing, or the part that stands for it.
        group: what it is counted under.
        mass_kg: none where it is not known.
        centre: mm, car frame; none where it is not known.
        missing: what is not known, in words; empty if nothing.
    """

    ref: Ref
    group: Group
    mass_kg: float | None
    centre: Vec3 | None
    missing: str = ""


@cell(When.RELEASE)
def weighed_things(read: Reader) -> tuple[Item, ...]:
    """Everything that weighs something, once, as the parts list has it aboard.

    Brackets without a weight of their own are not among them; see `unweighed_brackets`.
    """
    stood_for = read(parts_that_stand)
    things = (*read.all(Tube), *read.all(Panel), *read.all(Bracket), *read.all(PowerUnit))
    alone = (read(own_weight, ref) for ref in things if ref not in stood_for)
    parts = (read(weight_of_part, ref) for ref in read.all(Part))
    return (*(item for item in alone if item is not None), *parts)


@cell(When.RELEASE)
def unweighed_brackets(read: Reader) -> tuple[Ref, ...]:
    """Brackets that count only if the parts list holds them: they give no weight of their own."""
    stood_for = read(parts_that_stand)
    return tuple(
        ref
        for ref in read.all(Bracket)
        if ref not in stood_for and _is_unweighed(read, ref) and not _is_spoilt(read, ref)
    )


def _is_unweighed(read: Reader, ref: Ref) -> bool:
    return read.thing(Bracket, ref).mass_kg is None


def _is_spoilt(read: Reader, ref: Ref) -> bool:
    if read.has(Tube, ref):
        return read.thing(Tube, ref).state == "spoilt"
    if read.has(Panel, ref):
        return read.thing(Panel, ref).state == "spoilt"
    return read.has(Bracket, ref) and read.thing(Bracket, ref).state == "spoilt"


@cell(When.RELEASE)
def parts_that_stand(read: Reader) -> dict[Ref, tuple[Ref, ...]]:
    """Each thing that parts stand for, with those parts."""
    found: dict[Ref, tuple[Ref, ...]] = {}
    for ref in read.all(Part):
        thing = read.thing(Part, ref).stands_for
        if thing is not None:
            found[thing] = (*found.get(thing, ()), ref)
    return found


@cell(When.RELEASE)
def own_weight(read: Reader, ref: Ref) -> Item | None:
    """A tube, sheet, bracket or engine with its own weight; none where it cannot have one."""
    if _is_spoilt(read, ref):
        return None
    if read.has(Tube, ref):
        return _known_or_why(read, ref, "tubes")
    if read.has(Panel, ref):
        return _known_or_why(read, ref, "sheets")
    if read.has(Bracket, ref):
        return None if _is_unweighed(read, ref) else _known_or_why(read, ref, "brackets")
    if read.has(PowerUnit, ref):
        return _unit(read, ref)
    return None


def _known_or_why(read: Reader, ref: Ref, group: Group) -> Item:
    weigh = {"tubes": _tube, "sheets": _panel, "brackets": _bracket}[group]
    try:
        mass, centre = weigh(read, ref)
    except NotComputedError as error:
        return Item(ref, group, None, None, f"the weight of {read.label(ref)} ({error})")
    return Item(ref, group, mass, centre)


def _tube(read: Reader, ref: Ref) -> tuple[float, Vec3]:
    found = read(weight_of_tube, ref)
    return found.mass_kg, Vec3(*found.centre)


def _panel(read: Reader, ref: Ref) -> tuple[float, Vec3]:
    panel = read.thing(Panel, ref)
    corners = np.array([read(place, point) for point in panel.outline], dtype=np.float64)
    try:
        shape = sheet(corners)
    except ValueError as error:
        raise NotComputedError(str(error)) from error
    density = read.thing(Material, panel.material).density_kg_m3
    return shape.area * panel.thickness * density * KG_PER_MM3, vec(shape.centre)


def _bracket(read: Reader, ref: Ref) -> tuple[float, Vec3]:
    """A bracket half way between what it carries and the joint it stands on."""
    mass, at = read.thing(Bracket, ref).mass_kg, read(standing, ref)
    assert mass is not None  # asked before
    return mass, _half_way(read, at)


def _half_way(read: Reader, at: Standing) -> Vec3:
    if not read.has(Point, at.on):
        return at.carried_at
    return vec((array(at.carried_at) + array(read(place, at.on))) / 2.0)


def _unit(read: Reader, ref: Ref) -> Item:
    unit = read.thing(PowerUnit, ref)
    own = unit.centre_of_gravity
    centre = None if own is None else vec(read(unit_frame, ref).to_car(array(own)))
    return _with_missing(read, Item(ref, "engine and gearbox", unit.mass_kg, centre))


def _with_missing(read: Reader, item: Item) -> Item:
    """The item, saying what of it is not known; where something of no weight is, does not count."""
    name = read.label(item.ref)
    if item.mass_kg is None:
        return replace(item, missing=f"the weight of {name}")
    if item.centre is None and item.mass_kg > 0.0:
        return replace(item, missing=f"the centre of gravity of {name}")
    return item


@cell(When.RELEASE)
def weight_of_part(read: Reader, ref: Ref) -> Item:
    """A part by its own figures, and what it leaves open by those of the thing it stands for."""
    part = read.thing(Part, ref)
    mass, centre = part.mass_kg, _own_centre(read, ref)
    thing = _stood_in_for(read, ref)
    if thing is not None:
        centre = thing.centre if centre is None else centre
        mass = thing.mass_kg if mass is None else mass
    item = _with_missing(read, Item(ref, "parts list", mass, centre))
    why = f"; {thing.missing}" if thing is not None and item.missing and thing.missing else ""
    return replace(item, missing=item.missing + why)


def _own_centre(read: Reader, ref: Ref) -> Vec3 | None:
    """Centre of gravity of a part in the car; its carriers but the unit stand as in the car."""
    part = read.thing(Part, ref)
    at = part.centre_of_gravity
    if at is None or part.carrier == "table":
        return None
    if part.carrier == "unit":
        return _on_the_unit(read, at)
    return at


def _on_the_unit(read: Reader, at: Vec3) -> Vec3 | None:
    try:
        return vec(read(unit_frame, the_unit(read)).to_car(array(at)))
    except NotComputedError:
        return None


def _stood_in_for(read: Reader, ref: Ref) -> Item | None:
    """What the thing that a part stands for weighs, if no other part has given that already."""
    thing = read.thing(Part, ref).stands_for
    if thing is None:
        return None
    own = read(own_weight, thing)
    others = read(parts_that_stand)[thing]
    is_taken = ref != others[0] or any(read.thing(Part, o).mass_kg is not None for o in others)
    if own is not None and is_taken:
        return replace(own, mass_kg=None, missing="")
    return own
