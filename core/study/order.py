"""Which step of the order of work a finding belongs to, and which part of the driven end."""

from collections.abc import Iterable
from typing import Literal

from core.document.base import Ref
from core.document.project import Document
from core.document.running_gear import Axle, Corner, Rack
from core.engine.finding import Finding

StepKey = Literal["shell", "rear", "front", "frame", "bench"]
PartKey = Literal["unit", "shafts", "links", "mounts", "out"]

STEPS: tuple[StepKey, ...] = ("shell", "rear", "front", "frame", "bench")
PARTS: tuple[PartKey, ...] = ("unit", "shafts", "links", "mounts", "out")

PART_TITLES: dict[PartKey, str] = {
    "unit": "Engine and gearbox",
    "shafts": "Shafts and width",
    "links": "Links",
    "mounts": "Mounts",
    "out": "Way out",
}

_PART_OF_RULE: dict[str, PartKey] = {
    "unit_gap": "unit",
    "unit_gaps": "unit",
    "way_out": "out",
    "body_lift": "out",
    "shaft_plunge": "shafts",
    "shaft_angle": "shafts",
    "shaft_inner_angle": "shafts",
    "shaft_outer_angle": "shafts",
    "shaft_bench": "shafts",
    "hub_seats": "shafts",
    "wheel_planes": "shafts",
    "stay_fit": "mounts",
    "mounts_hold": "mounts",
    "mount_lost": "mounts",
    "mount_loads": "mounts",
    "mount_stops": "mounts",
    "mount_turn": "mounts",
    "unit_gap_moved": "mounts",
    "unit_gap_past_stops": "mounts",
}
_BY_SUBJECT = (
    "bracket_reach",
    "off_joint",
    "stacked_bracket",
    "not_carried",
    "corner_held",
    "wheel_travel",
    "bump_steer",
    "steering_arm",
    "rack_travel",
    "damper",
    "damper_closed",
    "damper_open",
    "link_tilt",
    "coil_bind",
    "spring_loose",
    "bump_stop",
    "hangs",
    "moving_gap",
    "set_up",
    "built",
    "carried_over",
)
"""Rules whose findings belong where their things stand."""


_STEP_OF_RULE: dict[str, StepKey] = {
    "front_locks": "front",
    "hand_brake": "front",
    "all_weighed": "bench",
    "weighed_apart": "bench",
    "stands": "bench",
}

Place = tuple[StepKey, PartKey | None]


class Order:
    """Sorts the findings of one document into the order of work.

    The engine and gearbox, its shafts and the driven corners are one step, whichever end of the
    car is driven; the other end with the rack is the next.
    """

    def __init__(self, document: Document) -> None:
        """Look at what of a document stands at which end."""
        driven = {axle.id for axle in document.axles if axle.driven}
        self.driven_end = next((axle.end for axle in document.axles if axle.driven), "rear")
        self._place_of: dict[str, Place] = {}
        for corner in document.corners:
            place: Place = ("rear", "links") if corner.axle.id in driven else ("front", None)
            self._put(_pickups(corner), place)
        for axle in document.axles:
            self._put(_of_axle(axle), ("rear", "links") if axle.id in driven else ("front", None))
        racks = {axle.rack.id for axle in document.axles if axle.driven and axle.rack}
        for rack in document.racks:
            place = ("rear", "links") if rack.id in racks else ("front", None)
            self._put(_rack_things(rack), place)
        self._put((mount.id for mount in document.mounts), ("rear", "mounts"))
        self._carries = {bracket.id: bracket.carries.id for bracket in document.brackets}

    def _put(self, ids: Iterable[str], place: Place) -> None:
        for thing_id in ids:
            self._place_of.setdefault(thing_id, place)

    def place(self, finding: Finding) -> Place:
        """The step and, in the driven end, the part that a finding belongs to."""
        part = _PART_OF_RULE.get(finding.rule)
        if part is not None:
            return "rear", part
        if finding.rule in _BY_SUBJECT:
            return self._by_subjects(finding.subjects)
        return _STEP_OF_RULE.get(finding.rule, "frame"), None

    def _by_subjects(self, subjects: tuple[Ref, ...]) -> Place:
        for ref in subjects:
            found = self._place_of.get(self._carries.get(ref.id, ref.id))
            if found is not None:
                return found
        return "frame", None

    def title(self, step: StepKey) -> str:
        """What a step is called in this car."""
        if self.driven_end == "front":
            return {"rear": "Driven front end", "front": "Rear end"}.get(step, _TITLES[step])
        return _TITLES[step]

    @property
    def other_end(self) -> tuple[str, ...]:
        """What the end that is not driven is made of, as a step waits for it."""
        if self.driven_end == "front":
            return ("the rear links",)
        return ("the rack", "the front links")


_TITLES: dict[StepKey, str] = {
    "shell": "Shell and people",
    "rear": "Rear end",
    "front": "Rack and front end",
    "frame": "Frame",
    "bench": "Bench",
}


def number_of(step: StepKey) -> int:
    """The number of a step, from 1."""
    return STEPS.index(step) + 1


def _pickups(corner: Corner) -> list[str]:
    links = (*corner.links, *corner.arms)
    ends = [ref.id for link in links for ref in (link.inner, link.outer)]
    roles = [role.point.id for role in corner.points]
    damper = corner.damper
    eyes = [] if damper is None else [damper.lower.id, damper.upper.id]
    return [corner.id, *ends, *roles, *eyes]


def _of_axle(axle: Axle) -> list[str]:
    """A rigid axle, with the points of what holds it."""
    ends = [ref.id for link in axle.links for ref in (link.inner, link.outer)]
    held = [ref.id for each in axle.holders for ref in each.points]
    return [axle.id, *ends, *held] if ends or held else []


def _rack_things(rack: Rack) -> list[str]:
    return [rack.id, *(foot.id for foot in rack.feet)]
