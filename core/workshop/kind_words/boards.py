"""Words of toe read with a board."""

from core.document import boards
from core.workshop.kind_words.record import FieldWords as F
from core.workshop.kind_words.record import KindWords, StructWords

KINDS = {
    boards.ToeBoard: KindWords(
        "toe board",
        {
            "corner": F("wheel"),
            "instrument": F("read with"),
            "uncertainty_deg": F("likely error", "deg", "of one reading"),
            "when": F("when"),
            "readings": F("readings"),
        },
        many="toe boards",
        help="Toe of one wheel read with a board, with the wheel jacked to several heights.",
        columns=("corner", "uncertainty_deg", "when"),
        asks=("uncertainty_deg",),
        also=("bump steer", "readings", "set-up", "jack"),
    ),
}

STRUCTS = {
    boards.ToeReading: StructWords(
        "reading of toe",
        {
            "height": F("wheel up by", "mm", "from the design position; below zero, down"),
            "toe_in_deg": F("toe-in", "deg", "of this wheel; below zero, out"),
        },
    ),
}
