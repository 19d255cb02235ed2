"""The surface that VTK draws on: any number of requests to redraw become one drawing."""

from typing import Any

import numpy as np
from PySide6.QtCore import QEvent, QTimer, Signal
from PySide6.QtGui import (
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QKeyEvent,
    QMouseEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget
from pyvistaqt import QtInteractor
from vtkmodules.vtkRenderingCore import vtkRenderer

from app.scene.cameras import VIEW_ANGLE_DEG, Pose
from app.scene.projection import Projection

GL_RENDERER = 0x1F01
SOFTWARE = ("llvmpipe", "softpipe", "swrast", "software")
SMOOTH_AFTER_MS = 150
"""How long after the last movement a software-drawn picture has its steps smoothed."""

SMOOTHING_SAMPLES = 4
"""Samples a pixel where a graphics processor does the work."""


class Canvas(QtInteractor):
    """A 3D surface that is drawn when asked, at most once in a pass of the event loop.

    VTK gets no mouse and no key: gestures are ours.

    Attributes:
        draws: how often the scene was drawn.
    """

    drawn = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make the surface; it has no graphics context before it is shown."""
        self.draws = 0
        self._stale = True
        self._is_software = True
        self._moving = False
        super().__init__(parent, auto_update=False, multi_samples=0)
        self.setAcceptDrops(False)
        self._any.reset_key_events()
        # Blending in the order of drawing: on a software screen the exact kind costs a quarter
        # more, and little here lies behind anything that is seen through.
        self.stage.UseOITOff()
        interactor = self._any.iren.interactor
        interactor.EnableRenderOff()
        interactor.SetInteractorStyle(None)
        interactor.AddObserver("RenderEvent", self._render_asked)
        self._idle = QTimer(self)
        self._idle.setSingleShot(True)
        self._idle.setInterval(SMOOTH_AFTER_MS)
        self._idle.timeout.connect(self._came_to_rest)

    # --- drawing -----------------------------------------------------------------------------

    def request_repaint(self) -> None:
        """Ask for the scene to be drawn again in this pass of the event loop."""
        self._stale = True
        self.update()

    def render(self) -> None:  # type: ignore[override]  # the plotter's, not the widget's
        """Ask for a drawing, where the plotter would draw at once."""
        self._rendered = True
        self.request_repaint()

    def _render_asked(self, *_: object) -> None:
        if not self._in_paint:
            self.request_repaint()

    def initializeGL(self) -> None:
        """Find out who draws, and smooth edges where that costs little."""
        super().initializeGL()  # type: ignore[no-untyped-call]
        name = str(self.context().functions().glGetString(GL_RENDERER)).lower()
        self._is_software = any(word in name for word in SOFTWARE)
        if not self._is_software:
            self._any.ren_win.SetMultiSamples(SMOOTHING_SAMPLES)
        self._idle.start()

    @property
    def _any(self) -> Any:  # noqa: ANN401 - the plotter's parts have no types
        return self

    @property
    def stage(self) -> vtkRenderer:
        """The renderer; the plotter's own property has no type."""
        renderer: vtkRenderer = self._any.renderer
        return renderer

    @property
    def is_closed(self) -> bool:
        """Whether the plotter is closed."""
        return bool(getattr(self._any, "_closed", True))

    def resizeGL(self, w: int, h: int) -> None:
        """Draw anew at the new size."""
        self._stale = True
        super().resizeGL(w, h)  # type: ignore[no-untyped-call]

    def paintGL(self) -> None:
        """Draw the scene if anything changed, else show the picture there is."""
        if self.is_closed or not hasattr(self, "iren"):
            return
        stale, self._stale = self._stale, False
        interactor = self._any.iren.interactor
        if stale:
            self.draws += 1
            self.stage.ResetCameraClippingRange()
            interactor.EnableRenderOn()
        self._painting(stale=stale)
        interactor.EnableRenderOff()

    def _painting(self, *, stale: bool) -> None:
        # The parent's paint asks the interactor to render; with its flag off nothing is drawn and
        # the last picture is shown again.
        super().paintGL()  # type: ignore[no-untyped-call]
        if stale:
            self.drawn.emit()

    # --- smooth at rest ----------------------------------------------------------------------

    def in_motion(self) -> None:
        """Say that something moves: the picture is drawn plainly until it comes to rest."""
        if self._is_software and not self.is_closed:
            if not self._moving:
                self._moving = True
                self.stage.UseFXAAOff()
            self._idle.start()

    def _came_to_rest(self) -> None:
        self._moving = False
        if self._is_software and not self.is_closed and not self.stage.GetUseFXAA():
            self.stage.UseFXAAOn()
            self.request_repaint()

    # --- looking -----------------------------------------------------------------------------

    def look_from(self, pose: Pose) -> None:
        """Point VTK's camera."""
        if self.is_closed:
            return
        camera: Any = self.stage.GetActiveCamera()
        camera.SetViewAngle(VIEW_ANGLE_DEG)
        camera.SetPosition(*pose.eye)
        camera.SetFocalPoint(*pose.target)
        camera.SetViewUp(*pose.up)
        camera.SetParallelProjection(pose.parallel)
        camera.SetParallelScale(pose.half_height)
        self.request_repaint()

    def projection(self) -> Projection:
        """How the view shows the car now, in logical pixels."""
        width, height = max(self.width(), 1), max(self.height(), 1)
        camera: Any = self.stage.GetActiveCamera()
        made = camera.GetCompositeProjectionTransformMatrix(width / height, -1.0, 1.0)
        rows = [[made.GetElement(i, j) for j in range(4)] for i in range(4)]
        return Projection(np.array(rows, dtype=np.float64), float(width), float(height))

    # --- what Qt would hand on to VTK --------------------------------------------------------

    def mousePressEvent(self, ev: QMouseEvent) -> None:
        """Keep from VTK."""

    def mouseReleaseEvent(self, ev: QMouseEvent) -> None:
        """Keep from VTK."""

    def mouseMoveEvent(self, ev: QMouseEvent) -> None:
        """Keep from VTK."""

    def mouseDoubleClickEvent(self, ev: QMouseEvent) -> None:
        """Keep from VTK."""

    def wheelEvent(self, ev: QWheelEvent) -> None:
        """Keep from VTK."""

    def keyPressEvent(self, ev: QKeyEvent) -> None:
        """Keep from VTK; the window's shortcuts may have it."""
        ev.ignore()

    def keyReleaseEvent(self, ev: QKeyEvent) -> None:
        """Keep from VTK."""
        ev.ignore()

    def enterEvent(self, ev: Any) -> None:  # noqa: ANN401 - the stubs of Qt 6 know it by another name
        """Keep from VTK."""

    def leaveEvent(self, ev: QEvent) -> None:
        """Keep from VTK."""

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Refuse what is dropped: files are opened by the window."""
        event.ignore()

    def dropEvent(self, event: QDropEvent) -> None:
        """Refuse what is dropped."""
        event.ignore()

    # --- the end -----------------------------------------------------------------------------

    def closeEvent(self, evt: QCloseEvent) -> None:
        """Close the plotter: left open, it would take the program down with it later."""
        self.close()
        evt.accept()

    def close(self) -> bool:  # type: ignore[override]  # the widget's, not the plotter's
        """Close the plotter; a second time does nothing."""
        if not self.is_closed:
            self._idle.stop()
            super().close()
        return True
