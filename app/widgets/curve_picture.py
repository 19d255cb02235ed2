"""A plot as a file: dots or lines, twice as large as on the screen."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QRect, QSize
from PySide6.QtGui import QImage, QImageWriter, QPainter
from PySide6.QtSvg import QSvgGenerator

LARGER = 2
"""How much larger than on the screen."""

Paint = Callable[[QPainter], None]


def write_picture(paint: Paint, size: QSize, path: Path, title: str, description: str) -> None:
    """Write what is painted as PNG or SVG, told from how the file's name ends.

    Args:
        paint: paints it as large as on the screen.
        size: of that.
        path: where to.
        title: written into the file.
        description: the same.

    Raises:
        ValueError: if the name ends otherwise.
        OSError: if it cannot be written.
    """
    kinds = {".png": _png, ".svg": _svg}
    kind = kinds.get(path.suffix.lower())
    if kind is None:
        raise ValueError("A picture's name ends in .png or .svg.")
    path.write_bytes(kind(paint, size * LARGER, title, description))


def _png(paint: Paint, size: QSize, title: str, description: str) -> bytes:
    image = QImage(size, QImage.Format.Format_RGB32)
    image.setText("Title", title)
    image.setText("Description", description)
    _draw(paint, QPainter(image))
    data = QByteArray()
    buffer = _opened(data)
    QImageWriter(buffer, QByteArray(b"png")).write(image)
    buffer.close()
    return bytes(data.data())


def _svg(paint: Paint, size: QSize, title: str, description: str) -> bytes:
    data = QByteArray()
    buffer = _opened(data)
    drawing = QSvgGenerator()
    drawing.setOutputDevice(buffer)
    drawing.setTitle(title)
    drawing.setDescription(description)
    drawing.setSize(size)
    drawing.setViewBox(QRect(0, 0, size.width(), size.height()))
    _draw(paint, QPainter(drawing))
    buffer.close()
    return bytes(data.data())


def _opened(data: QByteArray) -> QBuffer:
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    return buffer


def _draw(paint: Paint, painter: QPainter) -> None:
    painter.scale(LARGER, LARGER)
    paint(painter)
    painter.end()
