"""What is under the pointer, what a click chooses, and which handle the keys move."""

from collections.abc import Callable
from typing import Protocol

from app.scene.frame import Tag
from app.scene.paint_tags import place_words
from app.scene.picking import PlacedMesh, nearest_handle, thing_at
from app.scene.projection import Projection
from app.scene.walking import Walk, key_of
from app.selection import Selection, Step
from core.document.base import Ref
from core.document.lookup import Lookup
from core.scene.records import Handle, HandleKind, Scene

MOST_CHOSEN_TAGS = 3
HOVERED_CORNERS = 45_000
"""Corners of a mesh beyond which it is looked for at a click and no longer at every move."""


class PointedView(Protocol):
    """What pointing needs of the view it is done in."""

    @property
    def scene(self) -> Scene:
        """The car."""
        ...

    def shown_scene(self) -> Scene:
        """The car as it is shown, perhaps moved."""
        ...

    def projection(self) -> Projection:
        """How the view shows the car now."""
        ...

    def is_shown(self, ref: Ref) -> bool:
        """Whether a thing is not hidden."""
        ...

    def placed_meshes(self) -> list[PlacedMesh]:
        """The meshes that are drawn, where they stand."""
        ...

    def repaint_over(self) -> None:
        """Paint anew what lies over the car."""
        ...


class Pointing:
    """The pointer of one view."""

    def __init__(self, view: PointedView, selection: Selection) -> None:
        """Point at nothing."""
        self._view, self._selection = view, selection
        self._current: Handle | None = None
        self._walk = Walk()
        self.hovered: Handle | None = None

    # --- by mouse ----------------------------------------------------------------------------

    def handles(self) -> list[Handle]:
        """The handles that can be taken."""
        return [h for h in self._view.scene.handles if self._view.is_shown(h.ref)]

    def handle_at(self, x: float, y: float) -> Handle | None:
        """The handle in reach of a pixel."""
        return nearest_handle(self.handles(), self._view.projection(), x, y)

    def _at(
        self, x: float, y: float, most_corners: float = float("inf")
    ) -> tuple[Handle | None, Ref | None]:
        handle = self.handle_at(x, y)
        if handle is not None:
            return handle, handle.ref
        view = self._view
        meshes = [m for m in view.placed_meshes() if len(m.points) <= most_corners]
        return None, thing_at(view.shown_scene(), view.projection(), x, y, view.is_shown, meshes)

    def hover_at(self, x: float, y: float) -> None:
        """Mark what is under the pointer; the car itself is not drawn again for that."""
        handle, ref = self._at(x, y, HOVERED_CORNERS)
        if handle != self.hovered:
            self.hovered = handle
            self._view.repaint_over()
        self._selection.point_at(ref)

    def leave(self) -> None:
        """The pointer is elsewhere."""
        self.hovered = None
        self._selection.point_at(None)
        self._view.repaint_over()

    def choose_at(self, x: float, y: float, *, adds: bool) -> None:
        """Choose what a click meets; with `adds`, beside what is chosen already."""
        self._current, ref = self._at(x, y)
        refs: tuple[Ref, ...] = () if ref is None else (ref,)
        if adds:
            kept = tuple(r for r in self._selection.refs if r != ref)
            refs = kept if ref in self._selection.refs else (*kept, *refs)
        self._selection.choose(*refs)
        self._view.repaint_over()

    def choose_handle(self, handle: Handle) -> None:
        """Choose what a handle stands for; keys move it from now on."""
        self._current = handle
        self._walk.begin_at(handle)
        self._selection.choose(handle.ref)

    # --- by keys -----------------------------------------------------------------------------

    def current(self) -> Handle | None:
        """The handle that keys move, where it is now; else that of the one thing chosen."""
        key = None if self._current is None else key_of(self._current)
        found = next((h for h in self._view.scene.handles if key_of(h) == key), None)
        if found is not None or len(self._selection.refs) != 1:
            return found
        chosen = self._selection.refs[0]
        return next((h for h in self.handles() if h.ref == chosen), None)

    def walk(self, *, back: bool) -> Handle | None:
        """Make the next handle, or the one before, current."""
        found = self._walk.back(self.handles()) if back else self._walk.on(self.handles())
        if found is not None:
            self._current = found
            self._selection.choose(found.ref)
            self._view.repaint_over()
        return found

    # --- tags --------------------------------------------------------------------------------

    def tags(self, lookup: Lookup) -> tuple[Tag, ...]:
        """A tag for what is chosen and for what is under the pointer."""
        chosen = [h for h in self._view.scene.handles if h.ref in self._selection.refs]
        chosen = chosen[:MOST_CHOSEN_TAGS]
        tags = [_tag(lookup, handle, is_chosen=True) for handle in chosen]
        if self.hovered is not None and self.hovered not in chosen:
            tags.append(_tag(lookup, self.hovered, is_chosen=False))
        return tuple(tags)


def spoken(lookup: Lookup, handle: Handle) -> str:
    """A handle as it is read aloud: name, figures, what holds it."""
    held = f", held: {handle.held}" if handle.held else ""
    return f"{lookup.label(handle.ref)}, {place_words(handle.at)}{held}"


def _tag(lookup: Lookup, handle: Handle, *, is_chosen: bool) -> Tag:
    x, y, z = handle.at
    return Tag((x, y, z), lookup.label(handle.ref), place_words(handle.at), is_chosen)


_KINDS: dict[Step, tuple[HandleKind, ...]] = {
    "shell": ("obstacle",),
    "rear": ("unit", "mount", "wheel_centre"),
    "front": ("rack", "wheel_centre"),
    "frame": ("joint",),
    "bench": (),
}


def forward_in(step: Step, scene: Scene) -> Callable[[Handle], bool]:
    """Whether a handle is one of those that matter in a step; wheels only at their own end."""
    wheels = [h.at.x for h in scene.handles if h.kind == "wheel_centre"]
    middle = (min(wheels) + max(wheels)) / 2.0 if wheels else 0.0

    def is_forward(handle: Handle) -> bool:
        if handle.kind not in _KINDS[step]:
            return False
        return handle.kind != "wheel_centre" or (handle.at.x > middle) == (step == "front")

    return is_forward
