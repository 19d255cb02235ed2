"""Words of wheels, corners, steering, shafts and brakes."""

from core.document import running_gear as gear
from core.workshop.kind_words.record import FieldWords as F
from core.workshop.kind_words.record import KindWords, StructWords

KINDS = {
    gear.Axle: KindWords(
        "axle",
        {
            "end": F("end of the car"),
            "rack": F("steered by"),
            "driven": F("driven"),
            "bar": F("anti-roll bar"),
            "links": F("links of a rigid axle"),
            "holders": F("what else holds a rigid axle"),
        },
        many="axles",
        help="The front or the rear end: a pair of corners, and what steers or drives them.",
        columns=("end", "rack", "driven"),
        also=("front end", "rear end"),
    ),
    gear.Rack: KindWords(
        "rack",
        {
            "centre": F("centre", "mm", "middle between its two balls, in the car"),
            "ball_spacing": F("ball to ball", "mm", "spacing of the inner balls"),
            "travel_per_turn": F("travel in one turn", "mm"),
            "total_travel": F("travel stop to stop", "mm"),
            "used_each_way": F("used each way", "mm"),
            "housing_outside": F("housing, outside diameter", "mm"),
            "feet": F("feet"),
            "joint": F("its left ball", "mm", "mirrored for the right one"),
        },
        many="racks",
        help="A steering rack across the car; its two balls follow from place and spacing.",
        columns=("centre.x", "centre.z", "ball_spacing", "travel_per_turn", "total_travel"),
        also=("steering gear", "rack and pinion"),
    ),
    gear.Hub: KindWords(
        "hub",
        {
            "stud_count": F("studs"),
            "stud_circle": F("stud circle", "mm"),
            "stud_thread": F("thread of studs"),
            "spigot": F("spigot", "mm", "diameter that centres the wheel"),
            "bearing": F("bearing"),
            "nut_thread": F("thread of hub nut"),
            "nut_torque_nm": F("torque of hub nut", "N m"),
            "nut_across_flats": F("hub nut across flats", "mm"),
            "spline_count": F("splines"),
            "joint_to_face": F("outer joint to hub face", "mm", "joint centre to the wheel's seat"),
            "seat_to_face": F("joint seat to hub face", "mm"),
        },
        many="hubs",
        help="What turns with the wheel, and how deep the drive shaft sits in it.",
        columns=("stud_count", "stud_circle", "spigot", "joint_to_face", "seat_to_face"),
        also=("bearing", "hub nut"),
    ),
    gear.Wheel: KindWords(
        "wheel",
        {
            "rim_width_in": F("rim width", "in"),
            "rim_in": F("rim diameter", "in"),
            "offset": F(
                "offset, hub face to rim middle", "mm", "above zero, the hub face is outboard"
            ),
            "stud_count": F("studs"),
            "stud_circle": F("stud circle", "mm"),
            "stud_thread": F("thread of studs"),
            "centre_bore": F("centre bore", "mm"),
        },
        many="wheels",
        help="A rim by width, diameter and offset, and what it bolts to.",
        columns=("rim_width_in", "rim_in", "offset", "stud_count", "stud_circle"),
        also=("rim", "ET", "backspacing"),
    ),
    gear.Tyre: KindWords(
        "tyre",
        {
            "size": F("size", "", "as moulded on it, such as 205/50R15"),
            "loaded_radius": F("loaded radius", "mm", "wheel centre to ground under load"),
            "unloaded_radius": F(
                "unloaded radius", "mm", "only where it is not by the rule of its size"
            ),
            "vertical_stiffness": F("vertical stiffness", "N/mm"),
        },
        many="tyres",
        help="A tyre by the size moulded on it, and its radius under load.",
        columns=("size", "loaded_radius", "unloaded_radius", "vertical_stiffness"),
        also=("tire",),
    ),
    gear.Corner: KindWords(
        "corner",
        {
            "axle": F("axle"),
            "linkage": F("linkage"),
            "description": F("description"),
            "upright": F("upright", "mm"),
            "hub": F("hub"),
            "wheel": F("wheel"),
            "tyre": F("tyre"),
            "droop": F("droop", "mm", "wheel travel down from the design position"),
            "bump": F("bump", "mm", "wheel travel up from the design position"),
            "unsprung_mass_kg": F("unsprung mass", "kg"),
            "weight_kg": F("weight on this wheel", "kg", "off scales, at the design load"),
            "wanted_camber_deg": F("wanted camber", "deg", "above zero, top outward"),
            "wanted_toe_in_deg": F("wanted toe-in", "deg", "of one wheel"),
            "links": F("links"),
            "arms": F("arms of the upright", "", "tubes in one piece with it"),
            "points": F("points by role"),
            "holders": F("what else holds the upright", "", "of a linkage of your own"),
            "damper": F("damper and spring"),
            "rocker": F("rocker and its rod"),
            "torsion_bar": F("torsion bar"),
            "strap_droop": F(
                "droop at a strap or stop", "mm", "where it hangs with the damper off"
            ),
            "adjusters": F("adjusters"),
        },
        many="corners",
        help="One wheel's linkage, upright, wheel and damper.",
        columns=("axle", "linkage", "upright.hub_face.y", "droop", "bump", "wheel", "tyre"),
        also=("suspension", "wishbone", "strut", "link"),
    ),
    gear.DriveShaft: KindWords(
        "drive shaft",
        {
            "corner": F("drives the wheel of"),
            "unit": F("driven by"),
            "length": F(
                "outer joint to inner joint", "mm", "outer joint centre to inner sliding centre"
            ),
            "bench": F("as measured on the bench", "mm"),
            "bar_outside": F("bar, outside diameter", "mm"),
            "inner_joint": F("inner joint"),
            "outer_joint": F("outer joint"),
            "outer_boot_outside": F("outer gaiter, outside diameter", "mm"),
            "plunge_in": F("plunge in", "mm", "from mid stroke towards the gearbox"),
            "plunge_out": F("plunge out", "mm", "from mid stroke towards the wheel"),
            "inner_angle_deg": F("inner joint angle limit", "deg"),
            "outer_angle_deg": F("outer joint angle limit", "deg"),
            "angle_table": F("angle allowed over stroke"),
            "yield_mpa": F("yield strength", "MPa"),
            "spline_count": F("splines"),
            "bearing_y": F(
                "bearing of an intermediate shaft", "mm", "sideways on the engine and gearbox"
            ),
        },
        many="drive shafts",
        help="The shaft from the gearbox to a wheel, with its two joints.",
        columns=("corner", "length", "plunge_in", "plunge_out", "inner_angle_deg"),
        also=("half shaft", "CV joint", "plunge"),
    ),
    gear.Brake: KindWords(
        "brake",
        {
            "axle": F("axle"),
            "disc_diameter": F("disc diameter", "mm"),
            "disc_thickness": F("disc thickness", "mm"),
            "effective_radius": F("effective radius", "mm", "wheel axis to the middle of the pad"),
            "pistons_one_side": F("pistons on one side"),
            "piston_diameter": F("piston diameter", "mm"),
            "cylinder_diameter": F("master cylinder diameter", "mm"),
        },
        many="brakes",
        help="The brakes of one axle: disc, caliper and master cylinder.",
        columns=("axle", "disc_diameter", "effective_radius", "piston_diameter"),
        also=("disc", "caliper", "master cylinder"),
    ),
    gear.BrakeSystem: KindWords(
        "brake system",
        {
            "pad_friction": F("pad friction"),
            "pad_friction_low": F("pad friction, low"),
            "pad_friction_high": F("pad friction, high"),
            "pedal_ratio": F("pedal ratio"),
            "front_share_of_rod_force": F("front share of rod force", "", "0 to 1"),
            "front_share_least": F("front share, least", "", "0 to 1"),
            "front_share_most": F("front share, most", "", "0 to 1"),
            "what": F("description"),
            "handbrake": F("handbrake"),
        },
        many="brake systems",
        help="Pedal, balance, pads and handbrake.",
        columns=("pad_friction", "pedal_ratio", "front_share_of_rod_force"),
        also=("pedal", "balance bar", "handbrake"),
    ),
}

STRUCTS = {
    gear.BenchReadings: StructWords(
        "as measured on the bench",
        {
            "pushed_home": F("pushed home", "mm", "seat face to seat face"),
            "pulled_to_stop": F("pulled to its stop", "mm", "seat face to seat face"),
            "seats_uncertainty": F("both read to ±", "mm"),
            "gearbox_seat_to_joint": F("gearbox seat to inner joint", "mm"),
            "gearbox_seat_uncertainty": F("read to ±", "mm"),
            "joint_to_hub_seat": F("outer joint to hub seat", "mm"),
            "hub_seat_uncertainty": F("read to ±", "mm"),
            "kept_each_end": F("kept at each end", "mm", "stroke that is never used"),
            "how": F("how it was measured"),
        },
    ),
    gear.AngleAtStroke: StructWords(
        "angle at a stroke",
        {"plunge": F("at plunge", "mm"), "angle_deg": F("angle allowed", "deg")},
    ),
    gear.Handbrake: StructWords(
        "handbrake",
        {
            "axle": F("axle"),
            "what": F("description"),
            "hand_force": F("pull of the hand", "N"),
            "lever_ratio": F("lever ratio"),
            "cable_efficiency": F("cable efficiency", "", "0 to 1"),
            "caliper_ratio": F("caliper ratio"),
            "slope_wanted_percent": F("must hold on", "%"),
        },
    ),
}
