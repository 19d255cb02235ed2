"""Words of what was measured on a donor car."""

from core.document import donors
from core.workshop.kind_words.record import FieldWords as F
from core.workshop.kind_words.record import KindWords, StructWords

KINDS = {
    donors.DonorCorner: KindWords(
        "donor corner",
        {
            "end": F("end of the donor"),
            "side": F("side measured"),
            "linkage": F("linkage"),
            "description": F("description"),
            "stood": F("how it stood", "", "arms hang at droop when the wheels are off the ground"),
            "datum": F("measured from"),
            "points": F("points by role", "mm"),
            "links": F("links"),
            "arms": F("arms of the upright", "", "tubes in one piece with it"),
            "camber_deg": F("camber as it stood", "deg", "above zero, top outward"),
            "toe_in_deg": F("toe-in as it stood", "deg", "of this wheel alone"),
            "tyre_size": F("tyre size", "", "as moulded on it, such as 205/50R15"),
            "loaded_radius": F("loaded radius", "mm", "wheel centre to ground under load"),
            "hub_height": F("hub above the ground", "mm", "the place measured from, as it stood"),
            "ride_height": F("body above the ground", "mm", "a mark on the body, as it stood"),
            "ride_height_at": F("mark on the body"),
            "track": F("track of the donor", "mm", "middle of tyre to middle of tyre"),
            "wheel_offset": F(
                "offset, hub face to rim middle", "mm", "above zero, the hub face is outboard"
            ),
        },
        many="donor corners",
        help="One corner of a donor car, measured as it stood, from its hub.",
        columns=("end", "side", "linkage", "tyre_size", "hub_height", "ride_height"),
        asks=("linkage", "stood", "datum", "points"),
        also=("donor", "parts car", "suspension"),
    ),
}

STRUCTS = {
    donors.DonorPoint: StructWords(
        "point of a donor",
        {
            "role": F("role"),
            "at": F("from the hub", "mm", "x ahead, y outboard, z up"),
            "on": F("on the"),
            "measured_to": F("measured to the"),
        },
    ),
    donors.DonorLink: StructWords(
        "link of a donor",
        {
            "name": F("name"),
            "inner": F("chassis end", "", "the role of the point there"),
            "outer": F("upright end", "", "the role of the point there"),
            "outside": F("outside diameter", "mm"),
        },
    ),
}
