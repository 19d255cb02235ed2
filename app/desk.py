"""What an action may ask of the window, so that actions need no window to be listed or tested."""

from typing import Literal, Protocol

from app.look.look import Look
from app.panels.tubes.actions import Tool
from app.selection import Selection
from app.session import Session

ViewName = Literal["free", "plan", "side", "front", "rear", "four"]


class Files(Protocol):
    """The file work of a window; each says in words how it went and whether it was done."""

    def new(self) -> bool:
        """Begin an empty car."""
        ...

    def open(self) -> bool:
        """Ask for a file and open it."""
        ...

    def open_demo(self) -> bool:
        """Open the demo car as a copy."""
        ...

    def save(self) -> bool:
        """Save, asking for a file if there is none."""
        ...

    def save_as(self) -> bool:
        """Ask for a file and save there."""
        ...

    def export_hardpoints(self) -> bool:
        """Ask for a file and write the hardpoint table."""
        ...


class Chosen(Protocol):
    """What can be done with what is chosen; refusals are told in words."""

    def hold(self) -> None:
        """Ask for a reason and hold its place."""
        ...

    def set_free(self) -> None:
        """Set its place free."""
        ...

    def other_side(self) -> None:
        """Choose its mirror image."""
        ...

    def make_tube(self) -> None:
        """A tube between two chosen points."""
        ...

    def make_joint(self) -> None:
        """A joint on the chosen tube."""
        ...

    def cut_tube(self) -> None:
        """Two tubes out of one."""
        ...

    def make_pair(self) -> None:
        """A mirror image for a single thing."""
        ...

    def copy(self) -> None:
        """A second one."""
        ...

    def settle_width(self) -> None:
        """Hold the driven wheels where the drive shafts let them."""
        ...


class Views(Protocol):
    """What can be asked of the views of the car."""

    def show_view(self, name: ViewName, /) -> None:
        """Bring one view, or all of them, to the front."""
        ...

    def show_all(self) -> None:
        """Fit the whole car in."""
        ...

    def show_chosen(self) -> None:
        """Bring what is chosen into the middle."""
        ...


class Desk(Protocol):
    """The window, as actions see it."""

    @property
    def session(self) -> Session:
        """The car and its past."""
        ...

    @property
    def selection(self) -> Selection:
        """What is chosen."""
        ...

    @property
    def look(self) -> Look:
        """Theme and scale."""
        ...

    @property
    def files(self) -> Files:
        """The file work."""
        ...

    @property
    def chosen(self) -> Chosen:
        """What can be done with what is chosen."""
        ...

    @property
    def views(self) -> Views:
        """The views of the car."""
        ...

    def close(self) -> bool:
        """Close the window; false when the builder keeps working."""
        ...

    def undo(self) -> None:
        """Take the last change back and say which it was."""
        ...

    def redo(self) -> None:
        """Bring a change back and say which it was."""
        ...

    def rename_chosen(self) -> None:
        """Take the keyboard to the name of the chosen thing."""
        ...

    def take_out_chosen(self) -> None:
        """Take the chosen things out, after what hangs on them has been named."""
        ...

    def use_tool(self, tool: Tool) -> None:
        """Bring a tube tool to the front."""
        ...

    def larger(self, steps: int) -> None:
        """Change all sizes by so many steps."""
        ...

    def less_motion(self) -> None:
        """Let the views go to a place at once, or ease there again."""
        ...

    def curves_or_not(self) -> None:
        """Show the curves between car and travel strip, or put them away."""
        ...

    def usual_layout(self) -> None:
        """Divide the window as fits its size."""
        ...

    def next_place(self, by: int) -> None:
        """Take the keyboard to the next part of the window."""
        ...

    def find_anything(self) -> None:
        """Open the command box."""
        ...

    def next_to_look_at(self, by: int) -> None:
        """Go to the next finding that is not fine."""
        ...

    def welcome(self) -> None:
        """Show the ways to begin."""
        ...

    def fault_tour(self) -> None:
        """Go on the fault tour."""
        ...

    def not_looked_at(self) -> None:
        """Tell what no check answers."""
        ...

    def keys(self) -> None:
        """List the shortcuts."""
        ...

    def about(self) -> None:
        """Tell version and licences."""
        ...
