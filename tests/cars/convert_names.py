"""The names of the things of a neutral file, with its left and right ones made pairs."""

from collections.abc import Iterator

from tests.cars.neutral import ENDS, Plain
from tests.cars.pairs import Named, Names, collapsed


def names_of(car: Plain) -> Names:
    """Ids for all things that other things refer to."""
    sections = car["frame"]["tube_stock"]
    single_kinds = {
        "material": list(car["materials"]),
        "section": list(sections),
        "die": [die_name(section) for section in sections],
        "power_unit": [unit_name(car)],
        "mount": [mount["name"] for mount in car["power_unit"]["mounts"]],
        "axle": [f"{end} axle" for end in ENDS],
        "rack": ["steering_rack"],
        "hub": [f"{end}_hub" for end in ENDS],
        "wheel": [f"{end} wheel" for end in ENDS],
        "tyre": [f"{end} tyre" for end in ENDS],
        "part": [mass["id"] for mass in car["masses"]],
    }
    catalogue = {kind: [Named(name) for name in names] for kind, names in single_kinds.items()}
    catalogue["corner"] = [Named(f"{end} corner", pair=True) for end in ENDS]
    catalogue["drive_shaft"] = [Named("drive_shaft", pair=True)]
    catalogue["point"] = list(_points(car))
    catalogue["tube"] = _tubes(car)
    return Names(catalogue)


def die_name(section: str) -> str:
    """What the die that bends a section is called."""
    return f"die {section}"


def unit_name(car: Plain) -> str:
    """The first words of the power unit's name; the rest is said of how it lies."""
    name: str = car["power_unit"]["name"]
    return name.split(", ", 1)[0]


def _points(car: Plain) -> Iterator[Named]:
    yield from collapsed(car["frame"]["nodes"])
    for end in ENDS:
        for role in own_roles(car["suspension"][end]):
            yield Named(f"{end}_{role}", pair=True)
    if "feet" in car["donor_parts"]["steering_rack"]:
        yield Named("rack_foot", pair=True)


def own_roles(axle: Plain) -> list[str]:
    """The hardpoints of an axle that are kept as points of their own.

    The wheel centre follows from the hub face, the ends of the rack from the rack, and the eyes
    of a strut's damper are the two places that the strut itself names.
    """
    following = {"wheel_centre", *axle.get("rack_ends", ()), *same_place(axle)}
    return [role for role in axle["hardpoints_left"] if role not in following]


def same_place(axle: Plain) -> dict[str, str]:
    """Hardpoints of a strut that are said twice, and the name each is kept under."""
    if not axle.get("strut"):
        return {}
    return {"damper_lower": "strut_lower", "damper_upper": "strut_top"}


def _tubes(car: Plain) -> list[Named]:
    members = {member["id"]: member for member in car["frame"]["members"]}
    pairs = {name for name, pair in collapsed(car["frame"]["nodes"]) if pair}
    stems = {name for name, pair in collapsed(members) if pair}
    unlike = {
        stem
        for stem in stems
        if _shape(members[stem + "_L"], pairs, turned=True)
        != _shape(members[stem + "_R"], pairs, turned=False)
    }
    return collapsed(members, frozenset(unlike))


def _shape(member: Plain, pairs: set[str], *, turned: bool) -> tuple[object, ...]:
    """What two tubes must have in common to be one pair; for the left one with its nodes turned."""

    def node(label: str) -> str:
        return mirrored_label(label, pairs) if turned else label

    ends = (node(member["start_node"]), node(member["end_node"]))
    bends = tuple((node(bend["node"]), bend["clr"]) for bend in member["bends"])
    return (
        *ends,
        bends,
        {node(n) for n in member["through_nodes"]},
        member["tube"],
        member["role"],
    )


def mirrored_label(label: str, pairs: set[str]) -> str:
    """The label of the same node on the other side; a single node is its own mirror image."""
    stem, side = label[:-2], label[-2:]
    if stem not in pairs or side not in ("_L", "_R"):
        return label
    return stem + ("_R" if side == "_L" else "_L")
