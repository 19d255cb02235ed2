"""Words of the car itself, parts, limits, cases, acceptances, notes, and how the engine leaves."""

from core.document import records
from core.workshop.kind_words.record import FieldWords as F
from core.workshop.kind_words.record import KindWords, StructWords

KINDS = {
    records.Car: KindWords(
        "car",
        {
            "statement": F("what it is to be"),
            "layout": F("layout"),
            "origin": F("where measures start"),
            "pose": F("design position"),
            "design_load": F("load it is drawn at"),
            "driver_side": F("driver sits"),
            "stations": F("stations", "mm"),
        },
        many="cars",
        help="The car as a whole: its name, its layout, the load it is drawn at, its stations.",
        columns=("layout", "design_load", "driver_side"),
        also=("layout", "station", "origin"),
    ),
    records.Part: KindWords(
        "part",
        {
            "how_got": F("bought or made"),
            "mass_kg": F("mass", "kg"),
            "centre_of_gravity": F("centre of gravity", "mm", "in the frame of what carries it"),
            "carrier": F("moves with"),
            "stands_for": F("stands for"),
            "in_hand": F("in hand"),
            "candidates": F("candidates"),
            "interfaces": F("must mate with"),
            "price": F("price"),
            "lead_days": F("days to wait", "days"),
        },
        many="parts",
        help="A thing that weighs something: bought, made or wanted.",
        columns=("how_got", "in_hand", "mass_kg", "stands_for", "price", "lead_days"),
        also=("bought part", "shopping list", "weight"),
    ),
    records.Limit: KindWords(
        "limit",
        {
            "rule": F("rule", "", "its key, as shown with the finding"),
            "value": F("value"),
            "unit": F("in unit"),
            "source": F("source"),
            "basis": F("basis"),
            "only_for": F("only for"),
        },
        many="limits",
        help="A rule's number for this car, in place of the program's own.",
        columns=("rule", "value", "unit", "only_for", "source"),
        also=("rule", "requirement"),
    ),
    records.LoadCase: KindWords(
        "load case",
        {
            "aboard": F("aboard", "kg"),
            "without": F("left out"),
            "acceleration_g": F("acceleration of the car", "g"),
            "source": F("source"),
        },
        many="load cases",
        help="A case: what is aboard, and the accelerations of the car.",
        columns=("acceleration_g.x", "acceleration_g.y", "acceleration_g.z", "source"),
        also=("loads", "braking", "cornering"),
    ),
    records.Weighing: KindWords(
        "weighing",
        {
            "load_case": F("load case it stood in", "", "none, the load the car is drawn at"),
            "front_left_kg": F("front left wheel", "kg"),
            "front_right_kg": F("front right wheel", "kg"),
            "rear_left_kg": F("rear left wheel", "kg"),
            "rear_right_kg": F("rear right wheel", "kg"),
            "scales_uncertainty_kg": F("likely error", "kg", "of one reading of the scales"),
            "raised_front_kg": F("both front wheels, tail raised", "kg", "suspension blocked"),
            "tail_raised": F("tail raised by", "mm", "how much higher the rear wheels stood"),
            "raised_uncertainty": F("likely error of that", "mm"),
        },
        many="weighings",
        help="The car on scales: its four wheels, and the front ones once more with the tail "
        "raised, which tells how high the centre of gravity is.",
        columns=("front_left_kg", "front_right_kg", "rear_left_kg", "rear_right_kg"),
        also=("scales", "corner weights", "weight", "centre of gravity"),
    ),
    records.Acceptance: KindWords(
        "acceptance",
        {
            "rule": F("rule"),
            "subjects": F("about"),
            "verdict": F("verdict accepted"),
            "measured": F("figure accepted"),
            "higher_is_worse": F("a higher figure is worse"),
            "reason": F("reason"),
            "who": F("who"),
            "when": F("when"),
        },
        many="acceptances",
        help="What you accepted, with the reason; it opens again when it gets worse.",
        columns=("rule", "subjects", "measured", "reason", "who", "when"),
        also=("accepted",),
    ),
    records.Note: KindWords(
        "note",
        {"text": F("text"), "about": F("about")},
        many="notes",
        help="Why something is as it is.",
        columns=("text", "about"),
        also=("why", "remark"),
    ),
    records.WayOut: KindWords(
        "way out",
        {
            "direction": F("direction it leaves in"),
            "distance": F("how far", "mm"),
            "tubes_out": F("tubes taken out first"),
        },
        many="ways out",
        help="How the engine and gearbox leave: a straight move, and the tubes taken out first.",
        columns=("distance", "tubes_out"),
        also=("drop out", "engine removal"),
    ),
    records.Lift: KindWords(
        "lift",
        {"stands": F("stands under"), "states": F("states it stands in")},
        many="lifts",
        help="Where the raised car stands, and what is taken out while it stands there.",
        columns=("stands",),
        also=("axle stand", "jack"),
    ),
    records.CheckLength: KindWords(
        "check length",
        {"start": F("from"), "end": F("to")},
        many="check lengths",
        help="A distance between two points by which the shape is proved with a tape.",
        columns=("start", "end"),
        also=("diagonal", "tape", "cross measurement"),
    ),
}

STRUCTS = {
    records.Station: StructWords(
        "station",
        {"name": F("name"), "x": F("ahead", "mm", "below zero, behind"), "what": F("what it is")},
    ),
    records.Candidate: StructWords(
        "candidate",
        {
            "name": F("name"),
            "state": F("state"),
            "why": F("why"),
            "where": F("where"),
            "price": F("price"),
            "lead_days": F("days to wait", "days"),
            "condition": F("condition"),
        },
    ),
    records.Interface: StructWords(
        "mating size",
        {
            "name": F("name"),
            "size": F("size", "mm"),
            "form": F("form"),
            "mates": F("mates with"),
        },
    ),
    records.Aboard: StructWords("aboard", {"part": F("part"), "mass_kg": F("mass", "kg")}),
    records.LiftState: StructWords("state", {"name": F("name"), "without": F("without")}),
}
