import math
import struct
import tracemalloc

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from core.geometry.frames import Frame
from core.geometry.meshes import (
    BLOCK,
    MeshError,
    TriangleMesh,
    box_mesh,
    joined,
    mesh_from_ply,
    ply_bytes,
    winding_number,
)

BOX = box_mesh((-1.0, -2.0, -3.0), (4.0, 5.0, 6.0))


def tetrahedron() -> TriangleMesh:
    vertices = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]], dtype=np.float64)
    return TriangleMesh(vertices, np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]], np.int32))


def without_top(mesh: TriangleMesh) -> TriangleMesh:
    """The box without its face at the highest z."""
    top = mesh.bounds()[1, 2]
    lid = np.all(mesh.corners()[:, :, 2] == top, axis=1)
    return TriangleMesh(mesh.vertices, mesh.triangles[~lid])


def test_box_is_closed_and_has_its_volume_and_bounds() -> None:
    assert BOX.is_closed()
    assert BOX.volume() == pytest.approx(5.0 * 7.0 * 9.0, rel=1e-14)
    assert BOX.bounds().tolist() == [[-1.0, -2.0, -3.0], [4.0, 5.0, 6.0]]


def test_every_face_of_a_box_looks_outward() -> None:
    corners = BOX.corners()
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])

    outward = corners.mean(axis=1) - BOX.bounds().mean(axis=0)

    assert np.all(np.sum(normals * outward, axis=1) > 0.0)


def test_volume_of_a_tetrahedron_is_a_sixth_of_its_cube() -> None:
    assert tetrahedron().volume() == pytest.approx(1.0 / 6.0, rel=1e-14)


def test_volume_of_an_inside_out_mesh_is_negative() -> None:
    turned = TriangleMesh(BOX.vertices, BOX.triangles[:, ::-1])

    assert turned.volume() == pytest.approx(-BOX.volume(), rel=1e-14)
    assert turned.is_closed()


def test_mesh_without_a_face_is_open_along_its_rim() -> None:
    open_box = without_top(BOX)

    assert not open_box.is_closed()
    # The four walls have a triangle each on the rim; those of the floor have none.
    assert np.count_nonzero(open_box.has_open_edge()) == 4


def test_two_faces_that_look_opposite_ways_do_not_close() -> None:
    turned = BOX.triangles.copy()
    turned[0] = turned[0, ::-1]

    assert not TriangleMesh(BOX.vertices, turned).is_closed()


def test_moved_mesh_keeps_volume_and_goes_where_the_frame_says() -> None:
    turn = np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])

    moved = BOX.moved(Frame(np.array([100.0, 0.0, 0.0]), turn))

    assert moved.volume() == pytest.approx(BOX.volume(), rel=1e-12)
    assert moved.bounds().tolist() == [[95.0, -1.0, -3.0], [102.0, 4.0, 6.0]]


def test_joined_meshes_remember_where_each_triangle_came_from() -> None:
    mesh, part = joined([BOX, tetrahedron(), BOX])

    assert part.tolist() == [0] * 12 + [1] * 4 + [2] * 12
    assert mesh.volume() == pytest.approx(2 * BOX.volume() + 1.0 / 6.0, rel=1e-12)
    assert np.array_equal(mesh.corners()[part == 1], tetrahedron().corners())


def test_meshes_are_equal_by_content_and_cannot_be_written_to() -> None:
    again = box_mesh((-1.0, -2.0, -3.0), (4.0, 5.0, 6.0))

    assert again == BOX
    assert hash(again) == hash(BOX)
    assert box_mesh((-1.0, -2.0, -3.0), (4.0, 5.0, 6.5)) != BOX
    assert not BOX.vertices.flags.writeable
    assert not BOX.triangles.flags.writeable


def test_mesh_keeps_its_own_copy() -> None:
    vertices = tetrahedron().vertices.copy()
    mesh = TriangleMesh(vertices, tetrahedron().triangles)

    vertices[0] = 9.0

    assert mesh == tetrahedron()


@pytest.mark.parametrize(
    ("vertices", "triangles"),
    [
        ([[0.0, 0.0, math.nan]] * 3, [[0, 1, 2]]),
        ([[0.0, 0.0, math.inf]] * 3, [[0, 1, 2]]),
        ([[0.0, 0.0]] * 3, [[0, 1, 2]]),
        ([[0.0, 0.0, 0.0]] * 3, [[0, 1, 3]]),
        ([[0.0, 0.0, 0.0]] * 3, [[0, 1, -1]]),
        ([[0.0, 0.0, 0.0]] * 3, [[0, 1, 2**32]]),
        ([[0.0, 0.0, 0.0]] * 3, [[0, 1]]),
        ([[0.0, 0.0, 0.0]] * 3, np.zeros((0, 3))),
    ],
)
def test_bad_numbers_are_refused(vertices: list[list[float]], triangles: list[list[int]]) -> None:
    with pytest.raises(MeshError):
        TriangleMesh(np.array(vertices), np.array(triangles))


def test_flat_box_and_empty_join_are_refused() -> None:
    with pytest.raises(MeshError):
        box_mesh((0.0, 0.0, 0.0), (1.0, 0.0, 1.0))
    with pytest.raises(MeshError):
        joined([])


@given(st.tuples(*[st.floats(-10.0, 10.0)] * 3))
def test_winding_number_is_one_inside_a_box_and_nought_outside(place: tuple[float, ...]) -> None:
    low, high = BOX.bounds()
    away = np.maximum(low - place, place - high)
    if np.abs(np.max(away)) < 1e-6:
        return  # on the skin there is no answer

    found = winding_number(BOX, np.array([place]))

    assert found[0] == pytest.approx(1.0 if np.max(away) < 0.0 else 0.0, abs=1e-9)


@pytest.mark.parametrize("depth", [10.0, 100.0, 400.0])
def test_winding_number_below_an_open_face_lacks_the_share_of_the_opening(depth: float) -> None:
    """A rectangle 2a by 2b at distance d over its middle fills 4 asin(ab / sqrt((a2+d2)(b2+d2))).

    Solid angle of a rectangle: closed form, from memory; a sphere has 4 pi.
    """
    a, b = 200.0, 250.0
    open_box = without_top(box_mesh((-a, -b, -500.0), (a, b, 0.0)))

    found = winding_number(open_box, np.array([[0.0, 0.0, -depth]]))

    missing = math.asin(a * b / math.sqrt((a * a + depth**2) * (b * b + depth**2))) / math.pi
    assert found[0] == pytest.approx(1.0 - missing, abs=1e-12)


def test_winding_number_does_not_depend_on_the_blocks_it_is_worked_in() -> None:
    many = BLOCK // len(BOX.triangles) + 7
    places = np.random.default_rng(3).uniform(-10.0, 10.0, (many, 3))

    together = winding_number(BOX, places)

    alone = [winding_number(BOX, place[None])[0] for place in places[-20:]]
    assert together[-20:] == pytest.approx(alone, abs=1e-12)


def test_winding_number_of_a_mesh_larger_than_a_block() -> None:
    copies = BLOCK // 12 + 2
    triangles = np.tile(BOX.triangles, (copies, 1))

    found = winding_number(TriangleMesh(BOX.vertices, triangles), np.zeros((1, 3)))

    assert found[0] == pytest.approx(copies, rel=1e-9)


def test_ply_gives_back_the_very_same_mesh_and_bytes() -> None:
    data = ply_bytes(BOX)

    again = mesh_from_ply(data)

    assert again == BOX
    assert ply_bytes(again) == data


def test_ply_is_laid_out_as_the_format_says() -> None:
    """Read by hand: header in lines, then doubles, then for each face a count and its corners.

    Format: Turk, The PLY Polygon File Format, 1994 (from memory).
    """
    mesh = tetrahedron()
    head, _, body = ply_bytes(mesh).partition(b"end_header\n")

    assert head.split(b"\n")[:3] == [
        b"ply",
        b"format binary_little_endian 1.0",
        b"element vertex 4",
    ]
    assert struct.unpack("<12d", body[:96]) == tuple(mesh.vertices.ravel())
    faces = list(struct.iter_unpack("<Biii", body[96:]))
    assert faces == [(3, *triangle) for triangle in mesh.triangles.tolist()]


def test_ply_with_comments_is_read() -> None:
    data = ply_bytes(BOX).replace(b"1.0\n", b"1.0\ncomment scanned on Tuesday\n", 1)

    assert mesh_from_ply(data) == BOX


def test_every_cut_of_a_ply_is_refused_in_words() -> None:
    data = ply_bytes(tetrahedron())

    for length in range(len(data)):
        with pytest.raises(MeshError):
            mesh_from_ply(data[:length])
    with pytest.raises(MeshError, match="too long"):
        mesh_from_ply(data + b"\0")


def test_ply_with_lying_counts_is_refused_without_taking_memory() -> None:
    data = ply_bytes(tetrahedron()).replace(b"vertex 4", b"vertex 999999999")

    tracemalloc.start()
    with pytest.raises(MeshError, match="cut short"):
        mesh_from_ply(data)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()

    assert peak < 100_000


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        (b"binary_little_endian", b"ascii"),
        (b"binary_little_endian", b"binary_big_endian"),
        (b"double x", b"float x"),
        (b"vertex 4", b"vertex -4"),
        (b"vertex 4", b"vertex 99999999999999999999999"),
        (b"vertex 4", b"vertex four"),
        (b"uchar int", b"uchar uint"),
        (b"\nend_header", b"\nproperty uchar red\nend_header"),
    ],
)
def test_ply_of_another_form_is_refused(right: bytes, wrong: bytes) -> None:
    data = ply_bytes(tetrahedron())

    with pytest.raises(MeshError):
        mesh_from_ply(data.replace(right, wrong, 1))


def test_ply_with_a_face_of_four_corners_is_refused() -> None:
    data = bytearray(ply_bytes(tetrahedron()))
    data[-13] = 4

    with pytest.raises(MeshError, match="no triangle"):
        mesh_from_ply(bytes(data))


@given(st.binary(max_size=300))
@example(b"")
@example(b"ply\n")
@example(b"solid scan")
def test_any_bytes_give_a_mesh_or_a_mesh_error(data: bytes) -> None:
    with pytest.raises(MeshError):
        mesh_from_ply(data)


@given(st.data())
def test_a_changed_byte_gives_a_mesh_or_a_mesh_error(data: st.DataObject) -> None:
    changed = bytearray(ply_bytes(tetrahedron()))
    changed[data.draw(st.integers(0, len(changed) - 1))] = data.draw(st.integers(0, 255))

    try:
        mesh = mesh_from_ply(bytes(changed))
    except MeshError:
        return

    assert ply_bytes(mesh)[-52:] == bytes(changed)[-52:]
