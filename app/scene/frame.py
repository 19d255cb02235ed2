"""What those who paint over the car see of one moment of one view."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen

from app.look.fonts import FontRole
from app.look.look import Look
from app.scene.cameras import CameraKind, Pose
from app.scene.dragging import Asked, Drag
from app.scene.groups import Shown
from app.scene.projection import Projection
from core.document.base import Ref, Vec3
from core.geometry.types import Array
from core.scene.records import Handle, Scene
from core.scene.weight import WeightMark

SMALL = 330.0
"""Logical pixels of the shorter side of a view that counts as small."""

HALO = 4.0
"""Logical pixels of table colour round a figure, so that it reads over lines."""


@dataclass(frozen=True)
class Tag:
    """A tag tied to a place: a title and one line."""

    place: tuple[float, float, float]
    title: str
    line: str = ""
    is_chosen: bool = False


class Note(NamedTuple):
    """Words at a place."""

    place: Vec3
    words: str


@dataclass(frozen=True, eq=False)
class Frame:
    """One moment of one view.

    Attributes:
        look: colours, fonts, sizes.
        kind: which view.
        pose: where it looks from.
        projection: in logical pixels.
        scene: the car.
        is_design: whether the car is shown where it is drawn, and not moved.
        before: the car at the press, while it is drawn as a before-shape.
        label: the name of a thing.
        is_shown: whether a thing is not hidden.
        is_forward: whether a handle is one of those that matter in this step.
        chosen: what is selected.
        hovered: the handle under the pointer.
        pointed: the thing under the pointer, in this view or another.
        current: the handle that keys move.
        drag: what is in the hand.
        asked: what the last move came to.
        pointer: where the pointer is.
        tags: at most six.
        notes: what is said of things that cannot be seen yet.
        has_focus: whether keys come here.
        by_state: whether steel is told apart by how far it is made.
        is_dimensioned: whether the chain of lengths is drawn.
        weight: the centre of gravity, where it is asked for and known.
        names: whether names are written beside things; seen-through, those of this step alone.
    """

    look: Look
    kind: CameraKind
    pose: Pose
    projection: Projection
    scene: Scene
    is_design: bool
    before: Scene | None
    label: Callable[[Ref], str]
    is_shown: Callable[[Ref], bool]
    is_forward: Callable[[Handle], bool]
    chosen: frozenset[Ref]
    hovered: Handle | None
    pointed: Ref | None
    current: Handle | None
    drag: Drag
    asked: Asked | None
    pointer: tuple[float, float]
    tags: tuple[Tag, ...] = ()
    notes: tuple[Note, ...] = ()
    has_focus: bool = False
    is_dimensioned: bool = True
    by_state: bool = False
    weight: WeightMark | None = None
    names: Shown = "hidden"
    taken: list[QRectF] = field(default_factory=list[QRectF])
    """Boxes that figures and tags have taken already, so that none lies over another."""

    @property
    def is_small(self) -> bool:
        """Whether there is room for marks but for few words."""
        return min(self.projection.width, self.projection.height) < SMALL

    @property
    def mark_scale(self) -> float:
        """By how much marks are larger than at 100 %; a small view has smaller ones."""
        return self.look.scale * (0.75 if self.is_small else 1.0)

    @property
    def area(self) -> QRectF:
        """The whole view."""
        return QRectF(0.0, 0.0, self.projection.width, self.projection.height)

    def at(self, place: object) -> QPointF | None:
        """Where a place (3,) is on the screen; nothing behind the eye."""
        shown = self.projection.to_screen(np.array([place], dtype=np.float64))[0]
        return QPointF(float(shown[0]), float(shown[1])) if np.isfinite(shown).all() else None

    def line(self, places: Array) -> QPainterPath:
        """A polyline (n, 3) on the screen, broken where it is behind the eye."""
        path = QPainterPath()
        pen_down = False
        for x, y, _ in self.projection.to_screen(places):
            if np.isfinite(x) and np.isfinite(y):
                (path.lineTo if pen_down else path.moveTo)(float(x), float(y))
                pen_down = True
            else:
                pen_down = False
        return path


def pen(colour: QColor, width: float, *, broken: bool = False) -> QPen:
    """A pen of logical pixels."""
    made = QPen(colour, width)
    made.setCapStyle(Qt.PenCapStyle.FlatCap)
    if broken:
        made.setDashPattern([4.0, 3.0])
    return made


def halo_text(
    painter: QPainter,
    frame: Frame,
    words: str,
    middle: QPointF,
    colour: QColor,
    role: FontRole = "head",
) -> QRectF:
    """Write words round a place with a halo of table colour; returns the box they take."""  # noqa: DOC201
    font = frame.look.font(role)
    metrics = QFontMetricsF(font)
    width, height = metrics.horizontalAdvance(words), metrics.capHeight()
    box = QRectF(0, 0, width + 2 * HALO, metrics.height())
    box.moveCenter(middle)
    path = QPainterPath()
    path.addText(middle.x() - width / 2, middle.y() + height / 2, font, words)
    outline = QPen(frame.look.colour("table_far", 0.92), HALO)
    outline.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.strokePath(path, outline)
    painter.fillPath(path, colour)
    return box
