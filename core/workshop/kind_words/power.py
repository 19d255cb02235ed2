"""Words of the engine and gearbox, its mounts, and the room its service needs."""

from core.document import base, power
from core.workshop.kind_words.record import FieldWords as F
from core.workshop.kind_words.record import KindWords, StructWords

_ITS_FRAME = "in the frame of the engine and gearbox"

KINDS = {
    power.PowerUnit: KindWords(
        "engine and gearbox",
        {
            "origin": F("where it stands", "mm", "crank axis where it meets the bell-housing face"),
            "axes": F("which way it points"),
            "orientation": F("lies"),
            "mass_kg": F("mass", "kg", "wet, with everything bolted to it"),
            "centre_of_gravity": F("centre of gravity", "mm", _ITS_FRAME),
            "inertia": F("inertia", "kg m2"),
            "outputs": F("outputs", "mm", _ITS_FRAME),
            "solids": F("solids", "mm", "boxes that stand for it"),
            "mesh": F("mesh"),
            "torque_nm": F("highest torque", "N m"),
            "torque_at_rpm": F("at", "rpm"),
            "torque_low_nm": F("torque at low revs", "N m"),
            "torque_high_nm": F("torque at high revs", "N m"),
            "power_kw": F("power", "kW"),
            "power_at_rpm": F("at", "rpm"),
            "rev_limit_rpm": F("rev limit", "rpm"),
            "gear_ratios": F("gear ratios"),
            "reverse_ratio": F("reverse"),
            "final_drive": F("final drive"),
            "clutch_factor": F(
                "clutch limit over torque", "", "what the clutch takes over the highest torque"
            ),
            "exhaust_note": F("exhaust"),
        },
        many="engines and gearboxes",
        help="Engine and gearbox bolted together and moved as one.",
        columns=("origin.x", "origin.y", "origin.z", "mass_kg", "torque_nm"),
        also=("power unit", "drivetrain", "transmission"),
    ),
    power.Mount: KindWords(
        "mount",
        {
            "unit": F("holds"),
            "form": F("form", "", "a bush in one place, or a stay with two ends"),
            "what": F("description"),
            "place": F("place on the engine and gearbox", "mm", _ITS_FRAME),
            "chassis_end": F("chassis end of a stay", "mm", "in the car"),
            "stay_length": F("length of a stay", "mm", "as bought, centre to centre"),
            "axes": F("which way its axes point"),
            "inserts": F("rubbers to choose from"),
            "fitted": F("rubber fitted"),
            "stop_gap": F("gap to its stops", "mm"),
            "captive": F("captive", "", "it cannot come apart if the rubber fails"),
        },
        many="mounts",
        help="A rubber mount of the engine and gearbox, or a stay that takes twist.",
        columns=("form", "place.x", "place.y", "place.z", "fitted", "captive"),
        asks=("chassis_end",),
        also=("motor mount", "torque stay", "engine steady"),
    ),
    power.ServiceZone: KindWords(
        "service zone",
        {
            "box": F("room", "mm"),
            "want": F("wanted for"),
            "carrier": F("moves with"),
            "known": F("tubes known to cross it"),
        },
        many="service zones",
        help="Room that work on the car needs, and the tubes known to pass through it.",
        columns=("want", "carrier", "known"),
        also=("access",),
    ),
}

STRUCTS = {
    power.Solid: StructWords("solid", {"name": F("name"), "box": F("box", "mm")}),
    power.MeshRef: StructWords(
        "mesh",
        {
            "sha256": F("file", "", "kept beside the project, by its SHA-256"),
            "what": F("description"),
            "shown": F("shown"),
        },
    ),
    power.Inertia: StructWords(
        "inertia",
        {
            "xx": F("about fore and aft", "kg m2", "through the centre of gravity"),
            "yy": F("about sideways", "kg m2"),
            "zz": F("about upright", "kg m2"),
            "xy": F("product x y", "kg m2"),
            "xz": F("product x z", "kg m2"),
            "yz": F("product y z", "kg m2"),
        },
    ),
    power.Outputs: StructWords(
        "outputs",
        {
            "left": F("left inner joint", "mm", "its centre at mid stroke"),
            "right": F("right inner joint", "mm", "its centre at mid stroke"),
            "left_axis": F("axis of the left output"),
            "right_axis": F("axis of the right output"),
        },
    ),
    power.Stiffness: StructWords(
        "stiffness",
        {
            "x": F("along x", "N/mm"),
            "y": F("along y", "N/mm"),
            "z": F("along z", "N/mm"),
        },
    ),
    power.Insert: StructWords(
        "rubber", {"name": F("name"), "stiffness": F("stiffness", "N/mm", "along its own axes")}
    ),
    power.StopGap: StructWords(
        "gap to its stops",
        {"x": F("along x", "mm"), "y": F("along y", "mm"), "z": F("along z", "mm")},
    ),
    base.Box: StructWords(
        "box",
        {
            "low": F("rear right bottom corner", "mm", "the least of x, y and z"),
            "high": F("front left top corner", "mm", "the most of x, y and z"),
        },
    ),
    base.Axes: StructWords(
        "axes",
        {
            "x": F("its x points"),
            "y": F("its y points"),
            "z": F("its z points"),
        },
    ),
}
