"""Actions for every kind of thing: the tube tools, a new one of each kind, a table of each kind."""

from collections.abc import Mapping
from functools import partial
from types import MappingProxyType

from app.action import Action, When, always, tube_chosen
from app.desk import Desk
from app.panels.things.actions import ActionSpec, make_action_specs
from app.panels.tubes.actions import Tool, TubeActionSpec, tube_action_specs
from core.document import boards, donors, power, records, running_gear, steel, surroundings
from core.document.project import KINDS

GROUPS: Mapping[str, str] = MappingProxyType(
    {
        steel.__name__: "Frame and metal",
        power.__name__: "Engine and gearbox",
        running_gear.__name__: "Wheels, links and steering",
        donors.__name__: "Wheels, links and steering",
        boards.__name__: "Wheels, links and steering",
        surroundings.__name__: "Body, people and room",
        records.__name__: "Parts, limits and notes",
    }
)
"""The menu inside a menu that a kind stands in."""

HAVE_TOOLS = ("tubes", "points", "brackets", "mounts")
"""Kinds that a tube tool makes, which knows more of them than a form does."""


def _tool(spec: TubeActionSpec) -> Action:
    is_new = spec.tool in ("tube", "point", "bracket", "mount")
    when: When = always if is_new else tube_chosen
    run = partial(_use_tool, tool=spec.tool)
    line = spec.tool == "bend"
    return Action(
        spec.id,
        spec.words,
        spec.tooltip,
        run,
        "Make",
        when=when,
        also=spec.synonyms,
        line_before=line,
    )


def _use_tool(desk: Desk, tool: Tool) -> None:
    desk.use_tool(tool)


def _kind(spec: ActionSpec) -> Action:
    run = partial(_begin if spec.does == "make" else _list, field=spec.field)
    return Action(
        spec.id,
        spec.words,
        spec.tooltip,
        run,
        spec.menu,
        also=spec.synonyms,
        group=GROUPS[KINDS[spec.field].__module__],
    )


def _begin(desk: Desk, field: str) -> None:
    desk.selection.make_wanted.emit(field)


def _list(desk: Desk, field: str) -> None:
    desk.selection.list_wanted.emit(field)


def _in_groups(found: list[Action]) -> tuple[Action, ...]:
    """The actions with those of one group together, in the order of the groups."""
    groups = dict.fromkeys(GROUPS.values())
    return tuple(one for group in groups for one in found if one.group == group)


_SPECS = make_action_specs()

TOOLS: tuple[Action, ...] = tuple(_tool(spec) for spec in tube_action_specs())
"""What the tube tools do."""

NEW_THINGS: tuple[Action, ...] = _in_groups(
    [_kind(s) for s in _SPECS if s.does == "make" and s.field not in HAVE_TOOLS]
)
"""A new thing of each kind that has no tool."""

LISTS: tuple[Action, ...] = (
    Action(
        "list_everything",
        "Everything in a table",
        "Every thing of the car in one table, to look through and to search.",
        partial(_list, field=""),
        "Find",
        "Ctrl+L",
        also=("list", "schedule", "spreadsheet", "all things", "bill of materials"),
        line_before=True,
    ),
    *_in_groups([_kind(s) for s in _SPECS if s.does == "list"]),
)
"""A table of each kind, and one of everything."""
