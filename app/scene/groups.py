"""What is shown, seen through or hidden together, by the words that switch it."""

from typing import Literal, get_args

from core.document.base import Ref
from core.document.lookup import Lookup
from core.document.power import Mount, PowerUnit, ServiceZone
from core.document.running_gear import Axle, Corner, DriveShaft, Hub, Rack
from core.document.steel import Bay, Bracket, Panel, Point, Tube
from core.document.surroundings import (
    Controls,
    Exhaust,
    KeepOut,
    Obstacle,
    Occupant,
    Opening,
    Run,
    Shell,
)

Group = Literal[
    "Frame",
    "Engine",
    "Wheels",
    "Parts",
    "People",
    "Shell",
    "Zones",
    "Floor drawing",
    "Weight",
    "Names",
]
GROUPS: tuple[Group, ...] = get_args(Group)

Shown = Literal["shown", "see-through", "hidden"]

_GROUP_OF_KIND: dict[type, Group] = {
    Tube: "Frame",
    Point: "Frame",
    Bracket: "Frame",
    Panel: "Frame",
    Bay: "Frame",
    PowerUnit: "Engine",
    Mount: "Engine",
    DriveShaft: "Engine",
    Exhaust: "Engine",
    Axle: "Wheels",
    Corner: "Wheels",
    Hub: "Wheels",
    Rack: "Wheels",
    Obstacle: "Parts",
    Run: "Parts",
    Controls: "Parts",
    Occupant: "People",
    Shell: "Shell",
    Opening: "Shell",
    KeepOut: "Zones",
    ServiceZone: "Zones",
}

_AT_FIRST_HIDDEN: tuple[Group, ...] = ("Shell", "Zones", "Weight", "Names")
AT_FIRST: dict[Group, Shown] = {
    group: "hidden" if group in _AT_FIRST_HIDDEN else "shown" for group in GROUPS
}
"""Shell, zones, weight and names lie all over the car: shown when asked for."""

NEXT: dict[Shown, Shown] = {"shown": "see-through", "see-through": "hidden", "hidden": "shown"}

SEEN_THROUGH = 0.16
"""How much of a thing seen through is left."""

SOFT = 0.30
"""The same for what is always seen through a little: tank, radiator, battery, people."""


class Grouping:
    """Which group each thing of one document is in."""

    def __init__(self, lookup: Lookup) -> None:
        """Look things up in a document."""
        self._lookup = lookup
        self._known: dict[str, Group] = {}

    def of(self, ref: Ref) -> Group:
        """The group of a thing; parts where it is of no other."""
        found = self._known.get(ref.id)
        if found is None:
            found = _GROUP_OF_KIND.get(type(self._lookup.by_id.get(ref.id)), "Parts")
            self._known[ref.id] = found
        return found
