import hashlib
from pathlib import Path

import pytest

from core.document.errors import FileRefusedError
from core.document.mesh_store import MeshStore


def test_a_mesh_is_kept_under_the_hash_of_its_bytes(tmp_path: Path) -> None:
    store = MeshStore.beside(tmp_path / "car.jigplate")

    sha256 = store.add(b"ply")

    # FIPS 180-4, SHA-256, as in Python's own hashlib
    assert sha256 == hashlib.sha256(b"ply").hexdigest()
    assert store.path(sha256) == tmp_path / "car.meshes" / f"{sha256}.ply"
    assert store.get(sha256) == b"ply"
    assert sha256 in store


def test_a_mesh_that_is_there_is_not_written_again(tmp_path: Path) -> None:
    store = MeshStore(tmp_path)
    before = store.path(store.add(b"ply")).stat()

    after = store.path(store.add(b"ply")).stat()

    assert (before.st_ino, before.st_mtime_ns) == (after.st_ino, after.st_mtime_ns)


@pytest.mark.parametrize("data", [b"", b"plY", b"ply "])
def test_a_damaged_mesh_is_told_and_mended_when_it_comes_again(tmp_path: Path, data: bytes) -> None:
    store = MeshStore(tmp_path)
    sha256 = store.add(b"ply")
    store.path(sha256).write_bytes(data)

    with pytest.raises(FileRefusedError, match=f"the mesh {sha256[:12]}… in .* is damaged"):
        store.get(sha256)
    assert store.add(b"ply") == sha256
    assert store.get(sha256) == b"ply"


def test_a_missing_mesh_is_told_with_what_to_do(tmp_path: Path) -> None:
    store = MeshStore.beside(tmp_path / "car.jigplate")

    with pytest.raises(FileRefusedError, match="is not in car.meshes; put that folder back"):
        store.get("0" * 64)
    assert "0" * 64 not in store
    assert not store.folder.exists()


def test_meshes_taken_from_another_store_are_told_where_they_are_not_whole(tmp_path: Path) -> None:
    old, new = MeshStore(tmp_path / "old"), MeshStore(tmp_path / "new")
    good, bad = old.add(b"good"), old.add(b"bad")
    old.path(bad).write_bytes(b"worse")

    assert new.take_from(old, [good, bad, "0" * 64]) == (bad, "0" * 64)
    assert [path.name for path in new.folder.iterdir()] == [f"{good}.ply"]
    assert new.take_from(MeshStore(tmp_path / "none"), [good]) == ()
