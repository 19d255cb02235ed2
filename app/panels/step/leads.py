"""The one sentence that leads a step: what it is about, or what to enter and what will follow."""

from core.document.base import Ref
from core.document.lookup import Lookup
from core.document.project import Document
from core.study.order import Place
from core.study.steps import StepState

_EMPTY = {
    "shell": "Enter the shell's openings and where the people sit: they cannot change, so the "
    "frame, the engine and the pedals must go round them.",
    "rear": "Enter the engine and gearbox, both drive shafts, hubs and wheels. The track, the "
    "stroke left and the gaps follow. Any figure may stay at «don't know».",
    "front": "Enter the rack and the front links. How the toe changes in travel follows from them.",
    "frame": "Draw the first tube between two tube joints. Which bends are met, what ends in "
    "mid-tube and the weight follow.",
    "bench": "No tubes yet. Sheets for bending and notching follow from the frame.",
}
_LEADS = {
    "shell": "What cannot change: everything else goes round it.",
    "front": "The rack and the links decide how the front wheels move and steer.",
    "frame": "A force should run on along other tubes; where none lies in its line, a tube bends.",
    "bench": "Sheets for the bench. The hardpoint table can be exported now; sheets for bends, "
    "notches and cut lengths are not made by this version.",
}


def lead(document: Document, place: Place, state: StepState) -> str:
    """The sentence that leads a step or a part of the driven end."""
    step, part = place
    if state.state == "waiting" and state.key != "bench" and _is_empty(document, step):
        return _EMPTY[step]
    if step == "bench" and not document.tubes:
        return _EMPTY["bench"]
    if step == "front":
        end = "rear" if state.title == "Rear end" else "front"
        return _LEADS["front"] if end == "front" else "The links decide how the rear wheels move."
    if step != "rear":
        return _LEADS[step]
    return {
        "unit": _hung(document),
        "shafts": "The shafts are bought, so they decide the width: it is the result of this step.",
        "links": "The links join the uprights to tube joints and decide how each wheel moves.",
        "mounts": "Each mount is carried from a tube joint by a short bracket.",
        "out": "It must come out as one piece, without cutting a tube.",
        None: "",
    }[part]


def _is_empty(document: Document, step: str) -> bool:
    return {
        "shell": not (document.shells or document.occupants or document.openings),
        "rear": not (document.power_units or document.drive_shafts),
        "front": not (document.racks or document.corners),
        "frame": not document.tubes,
        "bench": not document.tubes,
    }[step]


def _hung(document: Document) -> str:
    """What carries the engine and gearbox, by the names of its tube joints."""
    if not document.power_units:
        return _EMPTY["rear"]
    lookup = Lookup(document)
    mounts = {mount.id for mount in document.mounts}
    joints: dict[Ref, None] = {}
    for bracket in document.brackets:
        if bracket.carries.id in mounts:
            joints[bracket.on] = None
    names = [lookup.label(ref) for ref in joints]
    if not names:
        return "Nothing says yet from which tube joints the engine and gearbox hangs."
    told = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
    return f"Hung from tube joints {told}. Sideways it follows the drive shafts."
