"""Words of what the frame goes round: shell, openings, obstacles, pipes, people, bolts."""

from core.document import surroundings as around
from core.workshop.kind_words.record import FieldWords as F
from core.workshop.kind_words.record import KindWords, StructWords

_CARRIER = F("moves with")
_KNOWN = F("tubes known to cross it")

KINDS = {
    around.Shell: KindWords(
        "shell",
        {
            "front_x": F("front end, ahead", "mm"),
            "rear_x": F("rear end, ahead", "mm", "below zero, behind"),
            "half_width": F("half width", "mm"),
            "roof_z": F("roof height", "mm", "above ground at the design load"),
            "roof": F("roof", "mm"),
            "sills": F("sills", "mm"),
            "arches": F("wheel arches", "mm"),
        },
        many="shells",
        help="The body shell that cannot change: outside size, sills, roof and wheel arches.",
        columns=("front_x", "rear_x", "half_width", "roof_z"),
        also=("body", "roof", "sill", "wheel arch"),
    ),
    around.Opening: KindWords(
        "opening",
        {"outline": F("corners", "mm", "three or more"), "carrier": _CARRIER, "known": _KNOWN},
        many="openings",
        help="A hole in the shell or the frame that a thing or a person must pass.",
        columns=("carrier", "known"),
        also=("door", "hatch", "window"),
    ),
    around.Obstacle: KindWords(
        "obstacle",
        {
            "box": F("box", "mm", "either a box or a line"),
            "line": F("line", "mm", "two or more points; either a line or a box"),
            "outside": F("outside diameter of a line", "mm"),
            "bend_radius": F("bend radius of a line", "mm"),
            "carrier": _CARRIER,
            "hot": F("hot"),
            "rigid": F("rigid"),
            "litres": F("holds", "l"),
        },
        many="obstacles",
        help="A rigid thing that nothing may enter: tank, radiator, battery, silencer, pipe.",
        columns=("carrier", "hot", "outside", "litres"),
        asks=("box", "line", "outside"),
        also=("tank", "radiator", "battery", "silencer"),
    ),
    around.KeepOut: KindWords(
        "keep out",
        {"box": F("box", "mm"), "carrier": _CARRIER, "why": F("why"), "known": _KNOWN},
        many="keep-outs",
        help="A space that nothing may enter.",
        columns=("why", "carrier", "known"),
        also=("no-go zone", "envelope"),
    ),
    around.Exhaust: KindWords(
        "exhaust",
        {
            "unit_solids": F("hot solids", "", "of the engine and gearbox, by name"),
            "heat_distance": F("kept from heat", "mm"),
            "heat_distance_with_shield": F("kept from heat, with a shield", "mm"),
            "heat_distance_from": F("where the distance comes from"),
            "tube_gap": F("kept from tubes", "mm"),
        },
        many="exhausts",
        help="What is hot, and how far other things keep from it.",
        columns=("heat_distance", "heat_distance_with_shield", "tube_gap"),
        also=("heat", "manifold"),
    ),
    around.Run: KindWords(
        "run",
        {
            "what": F("description"),
            "outside": F("outside diameter", "mm"),
            "bend_radius": F("bend radius", "mm", "at each corner, as drawn"),
            "least_bend_radius": F("least bend radius", "mm", "what it stands"),
            "points": F("points in order", "mm", "two or more"),
            "ends_on": F("may touch at its ends"),
        },
        many="runs",
        help="A hose, pipe or cable along a line of points, with a radius at each corner.",
        columns=("what", "outside", "bend_radius", "least_bend_radius"),
        also=("hose", "pipe", "cable", "wiring"),
    ),
    around.Occupant: KindWords(
        "occupant",
        {
            "hip_point": F("hip point", "mm"),
            "heel": F("heel", "mm"),
            "shoulder": F("shoulder", "mm"),
            "helmet_centre": F("centre of the helmet", "mm"),
            "helmet_radius": F("helmet radius", "mm"),
            "drives": F("drives"),
            "seat": F("seat", "mm"),
            "belts": F("belts", "mm"),
        },
        many="occupants",
        help="A person seated: hip point, heel, shoulder, helmet room, seat and belts.",
        columns=("hip_point.x", "hip_point.y", "hip_point.z", "helmet_radius", "drives"),
        also=("driver", "passenger", "seat", "belt", "helmet"),
    ),
    around.Controls: KindWords(
        "controls",
        {
            "pedals": F("pedals", "mm"),
            "pedal_faces_x": F("pedal faces, ahead", "mm"),
            "wheel_centre": F("centre of the steering wheel", "mm"),
            "wheel_diameter": F("steering wheel diameter", "mm"),
            "rim_outside": F("rim, outside diameter", "mm"),
            "column": F("steering column", "mm", "wheel, joints in order, rack pinion"),
            "column_outside": F("column, outside diameter", "mm"),
            "joint_angle_limit_deg": F("angle limit of column joints", "deg"),
        },
        many="controls",
        help="Pedals, steering wheel and steering column.",
        columns=("pedal_faces_x", "wheel_diameter", "column_outside"),
        also=("pedal", "steering column", "steering wheel"),
    ),
    around.Fastener: KindWords(
        "fastener",
        {
            "what": F("description"),
            "thread": F("thread"),
            "across_flats": F("across flats", "mm"),
            "head_place": F("middle of its head", "mm"),
            "tool_from": F("tool comes off towards"),
            "tool_outside": F("tool, outside diameter", "mm"),
            "tool_length": F("tool length", "mm"),
            "tool_checked": F("room for the tool is checked"),
            "hub": F("hub nut of"),
            "fixes": F("fixes"),
        },
        many="fasteners",
        help="A bolt or nut with the place of its head and the way the tool comes off.",
        columns=("what", "thread", "across_flats", "tool_checked"),
        also=("bolt", "nut", "tool"),
    ),
    around.Workshop: KindWords(
        "workshop",
        {
            "sockets_in_hand": F("sockets in hand", "mm", "across flats"),
            "across_flats_by_thread": F("usual nut sizes"),
            "dolly_height": F("height of the dolly", "mm"),
        },
        many="workshops",
        help="What the workshop has: sockets, usual nut sizes, the dolly's height.",
        columns=("dolly_height", "sockets_in_hand"),
        also=("socket", "dolly"),
    ),
}

STRUCTS = {
    around.Roof: StructWords(
        "roof",
        {
            "z": F("height", "mm"),
            "front_x": F("front edge, ahead", "mm"),
            "rear_x": F("rear edge, ahead", "mm"),
            "half_width": F("half width", "mm"),
        },
    ),
    around.Sill: StructWords(
        "sill",
        {
            "name": F("name"),
            "start": F("from", "mm"),
            "end": F("to", "mm"),
            "height": F("tall", "mm"),
            "width": F("wide", "mm"),
        },
    ),
    around.Arch: StructWords(
        "wheel arch",
        {
            "end": F("end of the car"),
            "centre_x": F("centre, ahead", "mm"),
            "centre_z": F("centre, up", "mm"),
            "radius": F("radius", "mm"),
        },
    ),
    around.Seat: StructWords(
        "seat",
        {
            "cushion": F("cushion", "mm"),
            "back_low": F("foot of the back", "mm"),
            "back_high": F("top of the back", "mm"),
            "back_half_thickness": F("half its thickness", "mm"),
        },
    ),
    around.Belt: StructWords(
        "belt",
        {
            "name": F("name"),
            "body": F("leaves the body at", "mm"),
            "anchor": F("anchor", "mm"),
            "on": F("anchored on"),
        },
    ),
    around.Pedal: StructWords(
        "pedal",
        {
            "name": F("name"),
            "pad_centre": F("middle of the pad", "mm"),
            "pad_width": F("pad wide", "mm"),
            "pad_height": F("pad tall", "mm"),
            "travel": F("travel", "mm"),
        },
    ),
    around.ThreadSize: StructWords(
        "nut size", {"thread": F("thread"), "across_flats": F("across flats", "mm")}
    ),
}
