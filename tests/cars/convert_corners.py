"""The corners of both axles from a neutral file."""

from collections.abc import Iterator

from core.document.base import Ref
from core.document.links import Adjuster, Damper, Link, Linkage, Role, Upright
from core.document.running_gear import Corner
from tests.cars.convert_names import same_place
from tests.cars.neutral import (
    ENDS,
    ConversionError,
    Plain,
    number,
    number_or_none,
    place,
)
from tests.cars.pairs import Names

LINKAGES: dict[str, Linkage] = {
    "double wishbone": "double_wishbone",
    "strut": "strut",
    "five links": "five_links",
    "trailing arm rigid with the upright, two lateral links": "trailing_arm_two_lateral_links",
}
"""How the words for a suspension begin, and the linkage they mean."""


def corners(car: Plain, names: Names) -> tuple[Corner, ...]:
    """The front and the rear pair of corners."""
    return tuple(_corner(car["suspension"][end], names, end) for end in ENDS)


def _corner(axle: Plain, names: Names, end: str) -> Corner:
    down, up = axle["travel"]
    name = f"{end} corner"
    return Corner(
        id=names.id("corner", name),
        name=name,
        pair=True,
        axle=names.ref("axle", f"{end} axle"),
        linkage=_linkage(axle),
        description=axle["type"],
        links=tuple(_links(axle, names, end)),
        arms=tuple(_arms(axle, names, end)),
        points=tuple(_roles(axle, names, end)),
        upright=_upright(axle["upright"]),
        hub=names.ref("hub", f"{end}_hub"),
        wheel=names.ref("wheel", f"{end} wheel"),
        tyre=names.ref("tyre", f"{end} tyre"),
        droop=number(-down),
        bump=number(up),
        unsprung_mass_kg=number(axle["unsprung_mass_per_corner_kg"]),
        wanted_camber_deg=number_or_none(axle.get("static_camber_target_deg")),
        wanted_toe_in_deg=number_or_none(axle.get("static_toe_in_target_deg")),
        damper=_damper(axle, names, end),
        adjusters=tuple(_adjusters(axle, names, end)),
    )


def _linkage(axle: Plain) -> Linkage:
    words: str = axle["type"]
    found: list[Linkage] = [
        linkage for begin, linkage in LINKAGES.items() if words.startswith(begin)
    ]
    is_strut = found == ["strut"]
    pivots = axle["arm_tube"][:1] if found == ["trailing_arm_two_lateral_links"] else []
    if not found or is_strut != axle.get("strut", False) or pivots != axle.get("pivots", []):
        msg = f"the suspension «{words}» is not known, or its strut and pivots do not fit it"
        raise ConversionError(msg)
    return found[0]


def _upright(upright: Plain) -> Upright:
    return Upright(
        hub_face=place(upright["hub_face_centre"]),
        spin_axis=place(upright["spin_axis"]),
        spacer=number(upright["spacer"]),
    )


def _point(axle: Plain, names: Names, end: str, role: str) -> Ref:
    """The left-hand point of a role; the ends of the rack are the rack's own."""
    if role in axle.get("rack_ends", ()):
        rack = names.ref("rack", "steering_rack")
        return Ref(rack.id, "left")
    return names.ref("point", f"{end}_{same_place(axle).get(role, role)}_L")


def link_name(inner: str) -> str:
    """What a link is called, from its inner end: «tie_inner» is the end of «tie»."""
    return inner.removesuffix("_inner").replace("_inner_", "_")


def _links(axle: Plain, names: Names, end: str) -> Iterator[Link]:
    for inner, outer in axle["links"]:
        yield Link(
            name=link_name(inner),
            inner=_point(axle, names, end, inner),
            outer=_point(axle, names, end, outer),
            outside=number(axle["link_od"]),
        )


def _arms(axle: Plain, names: Names, end: str) -> Iterator[Link]:
    """The tube of a trailing arm that is one piece with the upright."""
    if "arm_tube" in axle:
        inner, outer = axle["arm_tube"]
        yield Link(
            name="trailing_arm",
            inner=_point(axle, names, end, inner),
            outer=_point(axle, names, end, outer),
            outside=number(axle["link_od"]),
        )


def _roles(axle: Plain, names: Names, end: str) -> Iterator[Role]:
    """Every point of the linkage by what it is there; the damper names its own two."""
    for role in axle["hardpoints_left"]:
        if role != "wheel_centre" and not role.startswith("damper"):
            yield Role(role=role, point=_point(axle, names, end, role))


def _damper(axle: Plain, names: Names, end: str) -> Damper:
    damper = axle["damper"]
    return Damper(
        lower=_point(axle, names, end, "damper_lower"),
        upper=_point(axle, names, end, "damper_upper"),
        lower_on=damper["lower_on"],
        open_length=number(damper["open_length"]),
        closed_length=number(damper["closed_length"]),
        spring_rate=number(damper["spring_rate_N_per_mm"]),
        spring_outside=number(damper["spring_od"]),
        body_outside=number(damper["lower_body_od"]),
        body_length=number(damper["lower_body_length"]),
    )


def _adjusters(axle: Plain, names: Names, end: str) -> Iterator[Adjuster]:
    for role, entry in axle.get("adjusters", {}).items():
        least, most = entry["range"]
        yield Adjuster(
            point=_point(axle, names, end, role),
            least=number(least),
            most=number(most),
            sets=entry["sets"],
        )
