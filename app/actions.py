"""Everything the window can be asked to do, as data for menus, shortcuts and the command box."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from app.desk import Desk
from app.selection import Selection
from app.session import Session

Menu = Literal["File", "Edit", "View", "Make", "Find", "Help"]
MENUS: tuple[Menu, ...] = ("File", "Edit", "View", "Make", "Find", "Help")

When = Callable[[Session, Selection], bool]


def always(_session: Session, _selection: Selection) -> bool:
    """At any time."""
    return True


def something_chosen(_session: Session, selection: Selection) -> bool:
    """Something is chosen."""
    return bool(selection.refs)


def one_chosen(_session: Session, selection: Selection) -> bool:
    """Exactly one thing is chosen."""
    return len(selection.refs) == 1


def two_chosen(_session: Session, selection: Selection) -> bool:
    """Exactly two things are chosen."""
    return len(selection.refs) == 2


def side_chosen(_session: Session, selection: Selection) -> bool:
    """Something chosen is one side of a pair."""
    return any(ref.side != "one" for ref in selection.refs)


def can_undo(session: Session, _selection: Selection) -> bool:
    """There is a step to take back."""
    return session.history.can_undo


def can_redo(session: Session, _selection: Selection) -> bool:
    """There is a step to bring back."""
    return session.history.can_redo


def has_findings(session: Session, _selection: Selection) -> bool:
    """There is something to look at."""
    return bool(session.state.findings)


@dataclass(frozen=True)
class Action:
    """One thing the window can be asked to do.

    Attributes:
        id: its own short name; never shown.
        name: what it is called.
        tip: what it does, in plain words.
        run: does it.
        menu: where it stands.
        keys: its shortcuts, as Qt writes keys, with « or » between them; empty if it has none.
        when: whether it can be done now.
        also: other words that find it.
        line_before: whether a line parts it from the one above.
    """

    id: str
    name: str
    tip: str
    run: Callable[[Desk], object]
    menu: Menu
    keys: str = ""
    when: When = always
    also: tuple[str, ...] = ()
    line_before: bool = False


FILE: tuple[Action, ...] = (
    Action("new", "New car", "Begin an empty car.", lambda d: d.files.new(), "File", "Ctrl+N",
           also=("create", "blank")),
    Action("open", "Open…", "Open a car from a file.", lambda d: d.files.open(), "File", "Ctrl+O",
           also=("load", "file")),
    Action("open_demo", "Open the demo car", "Open an invented car to try things on; your own "
           "files are not touched.", lambda d: d.files.open_demo(), "File",
           also=("example", "sample", "tutorial")),
    Action("save", "Save", "Write the car to its file; the version before is kept beside it.",
           lambda d: d.files.save(), "File", "Ctrl+S", also=("write", "keep"), line_before=True),
    Action("save_as", "Save as…", "Write the car to another file and go on with that one.",
           lambda d: d.files.save_as(), "File", "Ctrl+Shift+S", also=("copy", "rename file")),
    Action("export_hardpoints", "Export hardpoint table…",
           "Write every hardpoint with its place and where it comes from, as a spreadsheet.",
           lambda d: d.files.export_hardpoints(), "File", "Ctrl+E",
           also=("csv", "xlsx", "excel", "spreadsheet", "print", "pick-ups", "coordinates"),
           line_before=True),
    Action("close", "Close", "Close the window; unsaved work is asked about.",
           lambda d: d.close(), "File", "Ctrl+Q", also=("quit", "exit"), line_before=True),
)  # fmt: skip

EDIT: tuple[Action, ...] = (
    Action("undo", "Undo", "Take the last change back.", lambda d: d.undo(), "Edit", "Ctrl+Z",
           when=can_undo, also=("revert", "back")),
    Action("redo", "Redo", "Bring back what was undone.", lambda d: d.redo(), "Edit",
           "Ctrl+Shift+Z", when=can_redo, also=("again", "forward")),
    Action("rename", "Call it otherwise…", "Give the chosen thing another name.",
           lambda d: d.chosen.rename(), "Edit", "F2", when=one_chosen, also=("rename", "name"),
           line_before=True),
    Action("delete", "Take out", "Take the chosen things out of the car.",
           lambda d: d.chosen.delete(), "Edit", "Del", when=something_chosen,
           also=("delete", "remove", "erase")),
    Action("hold", "Hold where it is…", "Lock the place of the chosen thing, with your reason.",
           lambda d: d.chosen.hold(), "Edit", when=one_chosen, also=("lock", "clamp", "fix"),
           line_before=True),
    Action("set_free", "Set free", "Let the chosen thing move again, whatever held it.",
           lambda d: d.chosen.set_free(), "Edit", when=one_chosen, also=("unlock", "release")),
    Action("other_side", "Choose the other side", "Choose the mirror image of what is chosen.",
           lambda d: d.chosen.other_side(), "Edit", "M", when=side_chosen,
           also=("mirror", "opposite"), line_before=True),
    Action("choose_nothing", "Choose nothing", "Let go of what is chosen.",
           lambda d: d.selection.choose(), "Edit", when=something_chosen,
           also=("deselect", "clear selection")),
)  # fmt: skip

VIEW: tuple[Action, ...] = (
    Action("view_free", "Free view", "Look at the car from anywhere.",
           lambda d: d.views.show_view("free"), "View", "Ctrl+Alt+0",
           also=("perspective", "3d", "orbit")),
    Action("view_plan", "Plan", "Look straight down, nose to the left.",
           lambda d: d.views.show_view("plan"), "View", "Ctrl+Alt+1", also=("top", "above")),
    Action("view_side", "Side", "Look from the left side, nose to the left.",
           lambda d: d.views.show_view("side"), "View", "Ctrl+Alt+2", also=("elevation",)),
    Action("view_front", "Front", "Look at the car from ahead.",
           lambda d: d.views.show_view("front"), "View", "Ctrl+Alt+3", also=("nose",)),
    Action("view_rear", "Rear", "Look at the car from behind.",
           lambda d: d.views.show_view("rear"), "View", "Ctrl+Alt+4", also=("back", "tail")),
    Action("view_four", "All four", "Free view with the plane views beside it.",
           lambda d: d.views.show_view("four"), "View", "Ctrl+Alt+5", also=("quad", "split")),
    Action("show_all", "Show the whole car", "Fit all of the car into the view.",
           lambda d: d.views.show_all(), "View", "F", also=("fit", "zoom all", "reset view"),
           line_before=True),
    Action("show_chosen", "Go to what is chosen", "Bring the chosen thing into the middle.",
           lambda d: d.views.show_chosen(), "View", ".", when=something_chosen,
           also=("zoom", "focus", "centre")),
    Action("light", "Light", "Dark lines on a light ground.",
           lambda d: d.look.set_theme("light"), "View", also=("theme", "colour", "color", "bright"),
           line_before=True),
    Action("dark", "Dark", "Light lines on a dark ground.",
           lambda d: d.look.set_theme("dark"), "View", also=("theme", "colour", "color", "night")),
    Action("as_system", "As the system", "Light or dark as the rest of the desktop.",
           lambda d: d.look.set_theme("system"), "View", also=("theme", "colour", "color")),
    Action("larger", "Larger", "Make words and marks larger, up to twice their size.",
           lambda d: d.larger(1), "View", "Ctrl+=", also=("zoom in", "scale", "font size"),
           line_before=True),
    Action("smaller", "Smaller", "Make words and marks smaller.",
           lambda d: d.larger(-1), "View", "Ctrl+-", also=("zoom out", "scale", "font size")),
    Action("usual_size", "Usual size", "Words and marks at their usual size.",
           lambda d: d.look.set_scale(1.0), "View", "Ctrl+0", also=("100 %", "scale")),
    Action("usual_layout", "Usual division of the window",
           "Give order of work, car, panel and travel strip the sizes that fit the window.",
           lambda d: d.usual_layout(), "View", also=("reset layout", "panels")),
    Action("next_place", "Next part of the window", "Go round: order of work, car, panel, travel "
           "strip, gauges.", lambda d: d.next_place(1), "View", "F6", also=("focus", "keyboard"),
           line_before=True),
    Action("previous_place", "Part of the window before", "Go round the other way.",
           lambda d: d.next_place(-1), "View", "Shift+F6", also=("focus", "keyboard")),
)  # fmt: skip

MAKE: tuple[Action, ...] = (
    Action("make_tube", "Tube between the two chosen joints",
           "Put a straight tube from the first chosen tube joint to the second.",
           lambda d: d.chosen.make_tube(), "Make", "T", when=two_chosen,
           also=("member", "add tube", "new tube", "brace", "diagonal")),
    Action("make_joint", "Tube joint at the middle of the chosen tube",
           "Put a tube joint on the chosen tube; it follows the tube and can be slid along it.",
           lambda d: d.chosen.make_joint(), "Make", "J", when=one_chosen,
           also=("node", "point", "add joint", "new joint")),
    Action("cut_tube", "Two tubes out of one, at the chosen joint",
           "Part the tube that the chosen joint follows, so that each piece ends there.",
           lambda d: d.chosen.cut_tube(), "Make", when=one_chosen, also=("split", "cut", "divide")),
    Action("make_pair", "Left and right pair", "Give the chosen thing its mirror image on the "
           "other side of the car.", lambda d: d.chosen.make_pair(), "Make", when=one_chosen,
           also=("mirror", "symmetric", "other side"), line_before=True),
    Action("make_copy", "A copy…", "Put a second one of the chosen thing in, under its own name.",
           lambda d: d.chosen.copy(), "Make", when=one_chosen, also=("duplicate", "clone")),
)  # fmt: skip

FIND: tuple[Action, ...] = (
    Action("find", "Find anything…", "Type a few letters of a thing or of something to do.",
           lambda d: d.find_anything(), "Find", "Ctrl+K or /", also=("search", "command", "go to")),
    Action("next_to_look_at", "Next to look at", "Go to the next place that is not fine.",
           lambda d: d.next_to_look_at(1), "Find", "F4", when=has_findings,
           also=("next finding", "next problem", "next warning"), line_before=True),
    Action("previous_to_look_at", "To look at before", "Go to the place before.",
           lambda d: d.next_to_look_at(-1), "Find", "Shift+F4", when=has_findings,
           also=("previous finding", "previous problem")),
    Action("step_shell", "1 Shell and people", "Bring this step of the work to the front.",
           lambda d: d.selection.go_to("shell"), "Find", "Ctrl+1",
           also=("body", "occupant", "driver"), line_before=True),
    Action("step_rear", "2 Rear end", "Bring this step of the work to the front.",
           lambda d: d.selection.go_to("rear"), "Find", "Ctrl+2",
           also=("engine", "gearbox", "drive shafts", "width", "mounts", "way out")),
    Action("step_front", "3 Rack and front end", "Bring this step of the work to the front.",
           lambda d: d.selection.go_to("front"), "Find", "Ctrl+3", also=("steering",)),
    Action("step_frame", "4 Frame", "Bring this step of the work to the front.",
           lambda d: d.selection.go_to("frame"), "Find", "Ctrl+4",
           also=("tubes", "chassis", "load paths")),
    Action("step_bench", "5 Bench", "Bring this step of the work to the front.",
           lambda d: d.selection.go_to("bench"), "Find", "Ctrl+5",
           also=("workshop", "cut", "sheets", "ready to cut")),
)  # fmt: skip

HELP: tuple[Action, ...] = (
    Action("welcome", "Where to begin", "The three ways to begin: demo car, fault tour, your own.",
           lambda d: d.welcome(), "Help", "F1", also=("start", "help", "tutorial", "first")),
    Action("fault_tour", "Fault tour", "Break the demo car on purpose and see what is said of it.",
           lambda d: d.fault_tour(), "Help", also=("tutorial", "learn", "example", "mistakes")),
    Action("not_looked_at", "What is not looked at", "What no check of this program answers yet.",
           lambda d: d.not_looked_at(), "Help", also=("limits", "missing", "coverage"),
           line_before=True),
    Action("keys", "Keys", "Every shortcut there is.", lambda d: d.keys(), "Help",
           also=("shortcuts", "keyboard")),
    Action("about", "About Jigplate", "Version, licences, and where the log is.",
           lambda d: d.about(), "Help", also=("version", "licence", "license", "log")),
)  # fmt: skip

ACTIONS: tuple[Action, ...] = (*FILE, *EDIT, *VIEW, *MAKE, *FIND, *HELP)
