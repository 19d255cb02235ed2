"""What is said of donor corners in their list."""

from core.document.donors import DonorCorner, usual_links
from core.document.project import Document
from core.workshop.kinds import choice_words

HEAD = "Donor corners"
LEAD = (
    "They come over as they are: the points keep their places from the hub, which is as high as "
    "the tyre of this car makes it."
)
EMPTY = (
    "Measure a corner of a donor car from its hub face: each joint by what it does, so far ahead, "
    "outboard and up. It can then be carried over into this car, and held beside others."
)

STOOD = {
    "on_wheels": "measured on its wheels",
    "arms_set": "measured with its arms set",
    "hanging": "measured hanging",
    None: "how it stood is not known",
}


def summary(document: Document) -> str:
    """How many there are."""
    count = len(document.donor_corners)
    return f"{count} measured" if count else "none measured"


def donor_words(donor: DonorCorner) -> str:
    """What a donor's corner is, in a line."""
    count = len(donor.points)
    points = "no points yet" if not count else f"{count} point{'' if count == 1 else 's'}"
    linkage = "" if donor.linkage == "other" else f", {choice_words(donor.linkage)}"
    return f"{donor.end} {donor.side}{linkage}; {points}, {STOOD[donor.stood]}"


def links_offered(donor: DonorCorner) -> str:
    """The words that offer a donor's usual links; empty where it has links, or none are told."""
    count = 0 if donor.links else len(usual_links(donor.points))
    return f"Enter its {count} usual link{'' if count == 1 else 's'}" if count else ""


def told(words: str) -> str:
    """A sentence, with a capital and a full stop."""
    ends = words.endswith((".", "?", "!"))
    return f"{words[:1].upper()}{words[1:]}{'' if ends else '.'}"
