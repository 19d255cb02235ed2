"""A heavy mesh is made lighter in a process of its own while the window goes on."""

import time

import numpy as np
import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.scene.mesh_loading import MOST_TRIANGLES, LightMesh, MeshLoader
from core.geometry.meshes import TriangleMesh, ply_bytes

LONGEST_GAP_MS = 100.0


def fine_ball(rows: int, radius: float = 400.0) -> TriangleMesh:
    """A ball of 2 rows^2 triangles."""
    tall, round_ = np.meshgrid(
        np.linspace(1e-3, np.pi - 1e-3, rows + 1),
        np.linspace(0, 2 * np.pi, rows, endpoint=False),
        indexing="ij",
    )
    places = np.stack(
        [np.sin(tall) * np.cos(round_), np.sin(tall) * np.sin(round_), np.cos(tall)], axis=-1
    )
    first = np.arange(rows)[:, None] * rows + np.arange(rows)
    beside = np.arange(rows)[:, None] * rows + (np.arange(rows) + 1) % rows
    one = np.stack([first, first + rows, beside + rows], axis=-1).reshape(-1, 3)
    two = np.stack([first, beside + rows, beside], axis=-1).reshape(-1, 3)
    return TriangleMesh(radius * places.reshape(-1, 3), np.concatenate([one, two]))


@pytest.mark.parametrize("rows", [806])  # 1.3 million triangles
def test_the_window_never_waits_for_a_heavy_mesh(qtbot: QtBot, rows: int) -> None:
    data = ply_bytes(fine_ball(rows))
    loader = MeshLoader()
    ticks: list[float] = []
    clock = QTimer()
    clock.setInterval(5)
    clock.timeout.connect(lambda: ticks.append(time.monotonic()))
    try:
        with qtbot.waitSignal(loader.loaded, timeout=60_000):
            clock.start()
            ticks.append(time.monotonic())
            assert loader.get("a", lambda: data) is None
    finally:
        clock.stop()
        loader.close()

    mesh = loader.get("a", lambda: None)
    assert isinstance(mesh, LightMesh)
    assert mesh.triangles == 2 * rows * rows
    assert 0 < len(mesh.shaded.points) // 3 <= MOST_TRIANGLES
    assert mesh.deviation > 0.0
    assert 1000.0 * max(np.diff(ticks)) < LONGEST_GAP_MS


def test_what_is_no_mesh_is_refused_with_its_reason(qtbot: QtBot) -> None:
    loader = MeshLoader()
    try:
        with qtbot.waitSignal(loader.loaded, timeout=30_000):
            loader.get("b", lambda: b"no mesh at all")
    finally:
        loader.close()

    assert loader.get("b", lambda: None) is None
    assert "no mesh file" in loader.refusal("b")


def test_closing_ends_what_is_under_way(qapp: QApplication) -> None:
    loader = MeshLoader(qapp)
    loader.get("c", lambda: ply_bytes(fine_ball(200)))

    loader.close()

    assert not loader.is_busy


def test_a_mesh_that_is_not_at_hand_is_asked_for_again_later(qapp: QApplication) -> None:
    loader = MeshLoader(qapp)

    assert loader.get("d", lambda: None) is None
    assert not loader.is_busy
    assert loader.refusal("d") == ""
