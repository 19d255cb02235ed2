"""What is painted over the car, in logical pixels, on a sheet of glass that lets the mouse through.

A sheet of its own, and not a painter on the 3D surface, because (measured on a screen drawn in
software, 1600 x 900): a change of it alone costs a third of drawing the car, which is then not
drawn again; and its lines have smooth edges, which Qt's painter on a surface of one sample a pixel
does not give them.
"""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from app.scene.frame import Frame
from app.scene.paint_handles import paint_free_directions, paint_handles
from app.scene.paint_lines import (
    paint_before,
    paint_chosen,
    paint_dimensions,
    paint_gaps,
    paint_join,
    paint_made_edges,
    paint_not_design,
    paint_notes,
    paint_stations,
    paint_title,
)
from app.scene.paint_names import paint_names
from app.scene.paint_tags import paint_read_out, paint_tags
from app.scene.paint_weight import paint_weight

PAINTERS: tuple[Callable[[QPainter, Frame], None], ...] = (
    paint_stations,
    paint_made_edges,
    paint_before,
    paint_chosen,
    paint_dimensions,
    paint_gaps,
    paint_join,
    paint_handles,
    paint_weight,
    paint_names,
    paint_notes,
    paint_free_directions,
    paint_read_out,
    paint_tags,
    paint_title,
    paint_not_design,
)


class Overlay(QWidget):
    """The sheet of glass over one view."""

    def __init__(self, parent: QWidget, frame: Callable[[], Frame | None]) -> None:
        """Cover a view.

        Args:
            parent: the view.
            frame: gives the moment to paint; nothing when there is none to paint.
        """
        super().__init__(parent)
        self._frame = frame
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setAttribute(Qt.WidgetAttribute.WA_NoSystemBackground)
        self.setAttribute(Qt.WidgetAttribute.WA_TranslucentBackground)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint everything anew."""
        del event
        frame = self._frame()
        if frame is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
        for paint in PAINTERS:
            painter.save()
            paint(painter, frame)
            painter.restore()
        if frame.has_focus:
            painter.setPen(QPen(frame.look.colour("sel"), 2.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(frame.area.adjusted(1, 1, -1, -1))
        painter.end()
