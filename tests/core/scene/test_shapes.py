"""Simple solids to draw are closed and face outwards."""

import numpy as np
import pytest

from core.geometry.meshes import TriangleMesh
from core.scene.shapes import ball_mesh, rim_mesh, tyre_mesh

CENTRE, AXIS = np.array([10.0, 20.0, 30.0]), np.array([0.0, 1.0, 0.1])


@pytest.mark.parametrize(
    "mesh",
    [
        ball_mesh(CENTRE, 150.0),
        tyre_mesh(CENTRE, AXIS, 205.0, 293.5, 190.5),
        rim_mesh(CENTRE, AXIS, 177.8, 190.5),
    ],
    ids=["ball", "tyre", "rim"],
)
def test_solid_is_closed_and_faces_outwards(mesh: TriangleMesh) -> None:
    assert mesh.is_closed()
    assert mesh.volume() > 0


def test_ball_holds_nearly_what_a_ball_holds() -> None:
    # Facets lie inside the ball: a little less than 4/3 pi r^3.
    assert ball_mesh(CENTRE, 150.0).volume() == pytest.approx(4 / 3 * np.pi * 150.0**3, rel=0.02)
