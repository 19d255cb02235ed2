"""What of the neutral files is not carried into the projects, and why: this one table."""

from tests.cars.convert_facts import worked_out
from tests.cars.neutral import Plain, fits

NOT_CONVERTED = ("doubled_truths", "doubled_truths_note", "reference_results", "seeded_faults")
"""Entries about the file and its checker, not about the car."""

DROPPED = {
    "frame/node_rule": "what a node on a bend is, is the rule of the document itself",
    "frame/known_open_panels/1/why": "«same, right side»: said by the pair",
    "runs_note": "what the points of a run are, is the rule of the document itself",
    "link_end_note/*": "what the entries of a link end mean, is said by the document's fields",
    "donor_parts/measured_note": "a remark on reading the file, not on the car",
    "tyres/rule": "the rule is the program's own, and the file's radii are checked by it",
    "shell/arch_centres": "says where else the arches are entered",
    "people/helmet_room": "says where else the helmets are entered",
    "power_unit/mount_note": "what the entries of a mount mean, is said by the document's fields",
    "power_unit/unit_frame/transform": "how a place is moved into the car is known here",
    "sources/states/*": "the words for where a figure comes from are the document's own",
    "sources/roots/*": "which figures want a source is for the program to say",
    "sources/note": "that the longest path counts, is the rule of the document itself",
}
"""Paths of remarks and headings that are left out (`*` stands for any one step), and why."""


def why_dropped(car: Plain, path: str) -> str | None:
    """Why a leaf of the file is not carried; none if it must be."""
    steps = path.split("/")
    if steps[:2] == ["sources", "list"] and steps[-1] != "path":
        source: str = car["sources"]["list"][int(steps[2])]["path"]
        return worked_out(source)
    return next((why for pattern, why in DROPPED.items() if fits(pattern, path, "/")), None)
