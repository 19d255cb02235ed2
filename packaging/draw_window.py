"""Draw the window over the demo car and write its picture: what `picture.py` has done for it.

    .venv/bin/python packaging/draw_window.py FILE

Needs a screen and everything that the program needs.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from PIL import Image  # comes with pyvista
from PySide6.QtGui import QColor, QImage
from PySide6.QtTest import QTest
from scipy.spatial import cKDTree

from app.gui import application
from app.look.look import Look
from app.look.tokens import LIGHT
from app.scene.mesh_loading import MeshLoader
from app.selection import Selection
from app.session import Session
from app.settings import Settings
from app.window import MainWindow

if TYPE_CHECKING:
    from numpy.typing import NDArray

SIZE = (1600, 900)
COLOURS = 256
"""Of its palette: all of them would make a file of twice the size, for the eye to see no more."""

LONGEST_WAIT_S = 60.0
STILL_S = 0.6
"""How long nothing may have changed before the picture is taken."""


def draw(target: Path) -> None:
    """Open the window over the demo car, wait until it stands still, and write its picture."""
    with tempfile.TemporaryDirectory(prefix="jigplate-") as settings:
        window = MainWindow(Session(), Selection(), Look("light"), Settings(Path(settings)))
        try:
            window.resize(*SIZE)
            window.show()
            window.files.open_demo()
            window.selection.go_to("rear")
            picture = _when_still(window)
        finally:
            window.close()
            window.deleteLater()
    target.parent.mkdir(parents=True, exist_ok=True)
    _write(picture, target)


def _when_still(window: MainWindow) -> QImage:
    """The window once it has looked the same for a while.

    Raises:
        TimeoutError: it never does.
    """
    began = since = time.monotonic()
    before = QImage()
    while time.monotonic() - began < LONGEST_WAIT_S:
        QTest.qWait(100)
        now = window.grab().toImage()
        if now != before or _is_reading(window) or not _is_drawn(now):
            before, since = now, time.monotonic()
        elif time.monotonic() - since > STILL_S:
            return now
    msg = f"the window did not come to rest in {LONGEST_WAIT_S:.0f} s"
    raise TimeoutError(msg)


def _is_reading(window: MainWindow) -> bool:
    """Whether a mesh is still to come into the picture."""
    return any(loader.is_busy for loader in window.findChildren(MeshLoader))


def _is_drawn(picture: QImage) -> bool:
    """Whether there are more colours in the middle than an empty ground has."""
    width, height = picture.width(), picture.height()
    across, down = range(width // 4, width // 2, 7), range(height // 4, height // 2, 7)
    return len({picture.pixel(x, y) for x in across for y in down}) > 100


def _write(picture: QImage, target: Path) -> None:
    """Write a picture as a file that is small enough for a page."""
    plain = picture.convertToFormat(QImage.Format.Format_RGB888)
    width, height = plain.width(), plain.height()
    lines = np.frombuffer(bytes(plain.constBits()), np.uint8).reshape(height, -1)
    pixels = lines[:, : 3 * width].reshape(-1, 3)
    palette = _palette(Image.fromarray(pixels.reshape(height, width, 3)))
    found, where = np.unique(pixels, axis=0, return_inverse=True)
    nearest: NDArray[np.intp] = np.asarray(cKDTree(palette).query(found)[1], dtype=np.intp)
    few = Image.fromarray(nearest[where].astype(np.uint8).reshape(height, width))
    few.putpalette(palette.tobytes())
    few.save(target, optimize=True)


def _palette(picture: Image.Image) -> NDArray[np.uint8]:
    """The colours to draw with, (256, 3): those seen most, and every one of the look.

    The marks are small and their colours mean something, so none of them may be lost.
    """
    own = [QColor(colour) for colour in sorted(set(LIGHT.values()))]
    often = picture.quantize(COLOURS - len(own), Image.Quantize.MEDIANCUT).getpalette() or []
    flat = [*often, *(part for q in own for part in (q.red(), q.green(), q.blue()))]
    return np.array(flat, dtype=np.uint8).reshape(-1, 3)


if __name__ == "__main__":
    application()
    draw(Path(sys.argv[1]))
