"""Words of links and what else holds a wheel, dampers, bars and adjusters."""

from core.document import links
from core.document.base import Entity
from core.workshop.kind_words.record import FieldWords as F
from core.workshop.kind_words.record import KindWords, StructWords

KINDS: dict[type[Entity], KindWords] = {}

STRUCTS = {
    links.Link: StructWords(
        "link",
        {
            "name": F("name"),
            "inner": F("chassis end"),
            "outer": F("upright end"),
            "outside": F("outside diameter", "mm"),
        },
    ),
    links.Role: StructWords("role", {"role": F("role"), "point": F("point")}),
    links.Upright: StructWords(
        "upright",
        {
            "hub_face": F("hub face", "mm", "centre of the face that the wheel bolts to"),
            "spin_axis": F("spin axis", "", "direction, outboard"),
            "spacer": F("spacer", "mm", "between hub face and wheel"),
        },
    ),
    links.Damper: StructWords(
        "damper and spring",
        {
            "lower": F("lower eye"),
            "upper": F("upper eye"),
            "lower_on": F("lower eye is on the"),
            "open_length": F("open, eye to eye", "mm"),
            "closed_length": F("closed, eye to eye", "mm"),
            "spring_rate": F("spring rate", "N/mm"),
            "spring_outside": F("spring, outside diameter", "mm"),
            "spring_free_length": F("spring, free length", "mm"),
            "spring_block_length": F("spring, coil bind at", "mm", "length with its coils closed"),
            "spring_seats": F(
                "eyes to spring seats",
                "mm",
                "both together; of the length, not taken by the spring",
            ),
            "bump_stop": F("bump stop"),
            "body_outside": F("body, outside diameter", "mm"),
            "body_length": F("body length", "mm"),
        },
    ),
    links.Adjuster: StructWords(
        "adjuster",
        {
            "point": F("moves"),
            "least": F("least", "mm", "from the design position; below zero, the other way"),
            "most": F("most", "mm", "from the design position"),
            "sets": F("sets"),
            "how": F("adjusted by"),
            "step": F("one turn, or thinnest shim", "mm"),
            "direction": F("way it moves the point", "", "none, along the links there"),
            "thread_engaged": F("thread engaged", "mm", "as drawn"),
            "thread_needed": F("thread needed", "mm", "at least"),
        },
    ),
    links.Holder: StructWords(
        "holder",
        {
            "name": F("name"),
            "how": F("holds as"),
            "points": F("points"),
            "direction": F("slides along", "", "direction, of a guide"),
        },
    ),
    links.Rocker: StructWords(
        "rocker and its rod",
        {
            "pivot": F("pivot"),
            "pivot_axis": F("turns about", "", "direction"),
            "rod_outer": F("rod, outer end"),
            "rod_on": F("rod stands on the"),
            "rod_inner": F("rod, end on the rocker"),
            "rod_outside": F("rod, outside diameter", "mm"),
        },
    ),
    links.TorsionBar: StructWords(
        "torsion bar",
        {"on": F("twisted by the"), "rate_nm_per_deg": F("rate", "N m/deg")},
    ),
    links.BumpStop: StructWords(
        "bump stop",
        {
            "length": F("length", "mm", "damper travel left when it is met"),
            "rate": F("rate", "N/mm"),
        },
    ),
    links.AntiRollBar: StructWords(
        "anti-roll bar",
        {
            "bearing": F("left bearing"),
            "arm_end": F("left drop link, end on the bar"),
            "link_lower": F("left drop link, other end"),
            "link_on": F("drop link stands on the"),
            "rate_nm_per_deg": F("rate, one end against the other", "N m/deg"),
            "outside": F("bar, outside diameter", "mm"),
            "bore": F("bar, bore", "mm"),
            "length": F("length that twists", "mm"),
        },
    ),
}
