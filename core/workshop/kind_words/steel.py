"""Words of the frame: points, tubes, brackets, sheets, and what they are made of and with."""

from core.document import steel
from core.workshop.kind_words.record import FieldWords as F
from core.workshop.kind_words.record import KindWords, StructWords

_STATE = F("state of the steel", "", "planned, cut, bent, tacked, welded or spoilt")
_OUTLINE = F("tube joints round the edge", "", "three or more, in order")

KINDS = {
    steel.Material: KindWords(
        "material",
        {
            "description": F("description"),
            "density_kg_m3": F("density", "kg/m3"),
            "youngs_modulus_mpa": F("Young's modulus", "MPa"),
            "yield_mpa": F("yield strength", "MPa", "of the steel as delivered, not of its weld"),
        },
        many="materials",
        help="A steel or a sheet metal, with the figures its strength and weight come from.",
        columns=("density_kg_m3", "youngs_modulus_mpa", "yield_mpa", "description"),
        also=("steel", "metal"),
    ),
    steel.Die: KindWords(
        "die",
        {
            "radius": F("bend radius", "mm", "of the tube's centre line"),
            "least_straight": F("least straight", "mm", "between two bends, for the grip"),
            "springback_deg_per_90": F("springback in 90°", "deg"),
            "test_bends": F("test bends"),
        },
        many="dies",
        help="A former of your own bender, with what its test bends taught.",
        columns=("radius", "least_straight", "springback_deg_per_90"),
        also=("bender", "former", "centre-line radius"),
    ),
    steel.Section: KindWords(
        "section",
        {
            "outside": F("outside diameter", "mm"),
            "wall": F("wall", "mm"),
            "material": F("material"),
            "die": F("die", "", "the one it is bent on"),
            "use": F("used for"),
            "sold_as": F("sold as"),
        },
        many="sections",
        help="A round tube by outside diameter and wall, with the die it is bent on.",
        columns=("outside", "wall", "material", "die", "use"),
        also=("tube size", "wall", "gauge"),
    ),
    steel.Stock: KindWords(
        "stock",
        {
            "length": F("length sold", "mm"),
            "kerf": F("saw cut", "mm", "width lost at each cut"),
            "section": F("section"),
            "pieces_in_hand": F("lengths in hand"),
            "price": F("price of a length"),
        },
        many="stock lengths",
        help="A length that tube is sold in.",
        columns=("length", "section", "pieces_in_hand", "kerf", "price"),
        also=("bar stock", "kerf"),
    ),
    steel.Point: KindWords(
        "point",
        {
            "at": F("place", "mm", "in the frame of what carries it"),
            "along": F("along a tube", "mm", "it follows that tube from then on"),
            "carrier": F("moves with"),
            "carrier_of": F("which one it moves with"),
            "measured_to": F("measured to"),
            "joint": F("joint of a link's end"),
        },
        many="points",
        help="A tube joint or a pick-up, by its coordinates or by its place along a tube.",
        columns=("at.x", "at.y", "at.z", "along.tube", "along.distance", "measured_to"),
        asks=("at", "measured_to"),
        also=("hardpoint", "node", "tube joint", "pick-up"),
    ),
    steel.Tube: KindWords(
        "tube",
        {
            "section": F("section"),
            "start": F("from tube joint"),
            "end": F("to tube joint"),
            "bends": F("bends", "", "in order from its start"),
            "through": F("passes", "", "tube joints that it passes and that do not follow it"),
            "role": F("what it is for"),
            "material": F("material", "", "only where it is not the section's"),
            "die": F("die", "", "only where it is not the section's"),
            "fixings": F("ends that are not welded"),
            "removable": F("can be taken out"),
            "state": _STATE,
        },
        many="tubes",
        help="A piece of tube from one tube joint to another, with its bends in order.",
        columns=("section", "start", "end", "state", "role"),
        also=("member", "rail", "cross tube", "diagonal", "hoop"),
    ),
    steel.Bracket: KindWords(
        "bracket",
        {
            "carries": F("carries", "", "a pick-up, a mount, or a foot of the rack"),
            "on": F("stands on", "", "best a tube joint"),
            "bought": F("bought", "", "a mount's own bracket"),
            "section": F("section", "", "where it is made of tube"),
            "thickness": F("plate thickness", "mm"),
            "mass_kg": F("mass", "kg"),
            "state": _STATE,
        },
        many="brackets",
        help="A plate that carries a pick-up, a mount or a rack foot, and what it stands on.",
        columns=("carries", "on", "thickness", "mass_kg", "state"),
        also=("tab", "ear", "lug"),
    ),
    steel.Panel: KindWords(
        "sheet",
        {
            "outline": _OUTLINE,
            "thickness": F("thickness", "mm"),
            "material": F("material"),
            "fixing": F("how it is fixed"),
            "flat_within": F("flat within", "mm"),
            "counted": F("trusted to stiffen"),
            "state": _STATE,
        },
        many="sheets",
        help="A sheet on the frame, by the tube joints round its edge.",
        columns=("thickness", "material", "outline", "counted", "state"),
        also=("panel", "floor", "bulkhead"),
    ),
    steel.Bay: KindWords(
        "bay",
        {
            "outline": _OUTLINE,
            "why": F("why it is open"),
            "closed_by": F("closed by"),
        },
        many="bays",
        help="A space between tubes without a diagonal that you know of, and why.",
        columns=("outline", "closed_by", "why"),
        also=("open panel",),
    ),
    steel.Datum: KindWords(
        "datum",
        {
            "origin": F("measured from"),
            "ahead": F("ahead of it"),
            "aside": F("to its left"),
            "what": F("what it is in the workshop"),
        },
        many="datums",
        help="A place in the workshop to measure from, by three points that can be touched.",
        columns=("origin", "ahead", "aside", "what"),
        also=("zero", "reference"),
    ),
}

STRUCTS = {
    steel.LinkEnd: StructWords(
        "joint",
        {
            "kind": F("kind of joint"),
            "carried_by": F("bolt or stud fixed to"),
            "direction": F("direction of bolt or stud"),
            "cup_direction": F("direction of its cup"),
            "width": F("width", "mm", "of the bush or eye, between its side faces"),
            "bolt": F("bolt"),
            "tilt_limit_deg": F("tilt limit", "deg", "from its middle, either way"),
            "limit_from": F("where the limit comes from"),
        },
    ),
    steel.Along: StructWords(
        "place along a tube",
        {
            "tube": F("tube it follows"),
            "distance": F("distance", "mm", "along the centre line"),
            "end": F("from its"),
        },
    ),
    steel.Bend: StructWords(
        "bend",
        {
            "point": F("middle of the arc"),
            "radius": F("radius", "mm", "of the centre line; left open, the die's"),
        },
    ),
    steel.EndFixing: StructWords(
        "end",
        {"end": F("end"), "kind": F("fixed by"), "note": F("note")},
    ),
    steel.TestBend: StructWords(
        "test bend",
        {
            "set_deg": F("angle set", "deg", "on the bender"),
            "left_deg": F("angle left", "deg", "when let go"),
        },
    ),
}
