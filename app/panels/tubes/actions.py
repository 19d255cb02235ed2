"""What the menus and the command box can ask of the tube tools, as plain data."""

from typing import Literal, NamedTuple

Tool = Literal["tube", "point", "bracket", "mount", "bend", "split", "join", "section", "state"]


class TubeActionSpec(NamedTuple):
    """A tube tool: `TubeTools.begin(tool)` brings it to the front."""

    id: str
    words: str
    tooltip: str
    synonyms: tuple[str, ...]
    tool: Tool


def tube_action_specs() -> tuple[TubeActionSpec, ...]:
    """One action for each tool."""
    return (
        TubeActionSpec(
            "draw_tube",
            "Draw a tube…",
            "From one tube joint to another, chosen in the view or by name.",
            ("member", "new tube", "add tube", "brace", "diagonal", "rail"),
            "tube",
        ),
        TubeActionSpec(
            "new_point",
            "New point…",
            "A tube joint or pick-up at coordinates, or on a tube which it follows.",
            ("node", "hardpoint", "joint", "pick-up"),
            "point",
        ),
        TubeActionSpec(
            "new_bracket",
            "New bracket…",
            "Choose what it carries and the tube joint it stands on.",
            ("tab", "ear", "lug"),
            "bracket",
        ),
        TubeActionSpec(
            "new_mount",
            "New mount…",
            "A mount of the engine and gearbox, with its bracket to a tube joint.",
            ("engine mount", "motor mount", "stay"),
            "mount",
        ),
        TubeActionSpec(
            "put_in_bend",
            "Put in a bend…",
            "In the middle of a leg of the chosen tube; then drag its point.",
            ("bend", "curve", "add bend"),
            "bend",
        ),
        TubeActionSpec(
            "split_tube",
            "Part the tube…",
            "Two tubes out of one, at a tube joint that follows it.",
            ("split", "cut", "divide"),
            "split",
        ),
        TubeActionSpec(
            "join_tubes",
            "Join two tubes…",
            "One tube out of two that meet end to start.",
            ("merge", "weld together", "one piece"),
            "join",
        ),
        TubeActionSpec(
            "section_of_tubes",
            "Section of the chosen tubes…",
            "Give all chosen tubes another section.",
            ("size", "wall", "diameter"),
            "section",
        ),
        TubeActionSpec(
            "state_of_tubes",
            "How far the chosen tubes are made…",
            "Planned, cut, bent, tacked, welded or spoilt.",
            ("state", "cut", "tacked", "welded", "progress"),
            "state",
        ),
    )
