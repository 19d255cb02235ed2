"""Projects on disk: whole or not at all, the version before kept, meshes first."""

import errno
import os
import stat
from pathlib import Path

import msgspec
import pytest

from core.document.codec import (
    LARGEST_FILE,
    decode_project,
    encode_project,
    previous_of,
    read_project,
    wanted_meshes,
    write_project,
)
from core.document.errors import FileRefusedError
from core.document.layers import without_things
from core.document.mesh_store import MeshStore
from core.document.power import MeshRef
from core.document.project import Project, empty_project
from core.document.running_gear import Hub
from tests.core.document.small_car import DEMO, SMALL, changed, small_project

needs_posix = pytest.mark.skipif(os.name == "nt", reason="permissions and pipes are those of Unix")


def with_mesh(sha256: str) -> Project:
    project = small_project()
    drawn = changed(project.drawn, "power_unit1", mesh=MeshRef(sha256=sha256))
    return msgspec.structs.replace(project, drawn=drawn)


def named(name: str) -> Project:
    return empty_project(name)


def content(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, by its path there."""
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def test_what_was_written_is_read(tmp_path: Path) -> None:
    path = tmp_path / "car.jigplate"

    write_project(small_project(), path)

    assert read_project(path) == small_project()
    assert path.read_bytes() == SMALL.read_bytes()


def test_the_version_before_is_kept_beside(tmp_path: Path) -> None:
    path = tmp_path / "car.jigplate"

    for name in ("first", "second", "third"):
        write_project(named(name), path)

    assert read_project(path) == named("third")
    assert decode_project(previous_of(path).read_bytes()) == named("second")
    assert sorted(content(tmp_path)) == ["car.jigplate", "car.jigplate.previous"]


def test_saving_what_is_saved_already_keeps_the_version_before(tmp_path: Path) -> None:
    path = tmp_path / "car.jigplate"
    for name in ("first", "second", "second"):
        write_project(named(name), path)

    assert decode_project(previous_of(path).read_bytes()) == named("first")


def test_a_damaged_file_is_told_by_name_with_the_version_before_it(tmp_path: Path) -> None:
    path = tmp_path / "car.jigplate"
    path.write_bytes(SMALL.read_bytes()[:-3])

    with pytest.raises(FileRefusedError, match=r"^car.jigplate: line \d+: the file is damaged"):
        read_project(path)
    previous_of(path).write_bytes(SMALL.read_bytes())
    with pytest.raises(FileRefusedError, match=r"; the version before it is car.jigplate.previous"):
        read_project(path)


def test_a_missing_file_a_folder_and_a_file_too_large_are_told(tmp_path: Path) -> None:
    large = tmp_path / "large.jigplate"
    with large.open("wb") as stream:
        stream.truncate(LARGEST_FILE + 1)  # takes no room on the disk

    with pytest.raises(FileRefusedError, match="none.jigplate: it cannot be read: No such file"):
        read_project(tmp_path / "none.jigplate")
    with pytest.raises(FileRefusedError, match="this is no file"):
        read_project(tmp_path)
    with pytest.raises(FileRefusedError, match="large.jigplate: this is larger than 4 MB"):
        read_project(large)


@needs_posix
def test_a_pipe_is_refused_and_not_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.jigplate"
    os.mkfifo(pipe)

    with pytest.raises(FileRefusedError, match="this is no file"):
        read_project(pipe)


@needs_posix
def test_a_project_is_not_saved_over_a_pipe_and_does_not_wait_for_it(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.jigplate"
    os.mkfifo(pipe)

    with pytest.raises(OSError, match="no ordinary file"):
        write_project(named("car"), pipe)

    assert pipe.is_fifo()
    assert list(tmp_path.iterdir()) == [pipe]


@pytest.mark.parametrize("name", ["n" * 300, "n" * 250, "", ".", "..", "/"])
def test_a_name_that_no_file_can_have_is_told_in_a_sentence(name: str, tmp_path: Path) -> None:
    path = Path(name) if len(name) < 250 else tmp_path / name

    with pytest.raises(FileRefusedError, match=r"^[^:]+: (this is no file|it cannot be read: )"):
        read_project(path)


def test_what_could_not_be_read_again_is_not_written(tmp_path: Path) -> None:
    path = tmp_path / "car.jigplate"
    write_project(small_project(), path)
    before = content(tmp_path)
    drawn = small_project().drawn
    broken = {
        "names point3, which is not there": without_things(drawn, frozenset({"point3"})),
        "half a character": changed(drawn, "point4", note="\ud800"),
        "it changes power_unit1, which is not": without_things(
            drawn,
            frozenset(
                {"power_unit1", "mount1", "mount2", "drive_shaft1", "fastener1", "acceptance1"}
            ),
        ),
    }

    for words, document in broken.items():
        with pytest.raises(FileRefusedError, match="this car cannot be saved as it is") as caught:
            write_project(msgspec.structs.replace(small_project(), drawn=document), path)
        assert words in str(caught.value)
        assert content(tmp_path) == before


def test_a_value_of_a_wrong_type_that_no_rule_sees_is_not_written(tmp_path: Path) -> None:
    hub = Hub(id="hub1", name="hub", bearing=7)  # type: ignore[arg-type]  # past every checker
    document = msgspec.structs.replace(empty_project().drawn, hubs=(hub,), next_number=2)

    with pytest.raises(FileRefusedError, match="Expected `str`, got `int`; undo the last edits"):
        write_project(Project(drawn=document), tmp_path / "car.jigplate")
    assert content(tmp_path) == {}


FAILURES = [
    OSError(errno.ENOSPC, "No space left on device"),
    PermissionError(errno.EACCES, "Permission denied"),
    OSError(errno.EIO, "Input/output error"),
]


@pytest.mark.parametrize("call", ["os.fsync", "pathlib.Path.replace", "pathlib.Path.open"])
@pytest.mark.parametrize("error", FAILURES, ids=lambda error: error.strerror)
def test_a_disk_that_refuses_leaves_the_old_files_whole_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str, error: OSError
) -> None:
    path = tmp_path / "car.jigplate"
    write_project(named("first"), path)
    write_project(named("second"), path)
    before = content(tmp_path)

    def refuse(*_: object, **__: object) -> None:
        raise error

    with monkeypatch.context() as patch:
        patch.setattr(call, refuse)
        with pytest.raises(OSError, match=error.strerror):
            write_project(named("third"), path)

    assert content(tmp_path) == before


@pytest.mark.parametrize("turn", [1, 2])
def test_a_disk_that_fills_up_half_way_leaves_the_old_file_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, turn: int
) -> None:
    """At the first turn the version before is written, at the second the file itself."""
    path = tmp_path / "car.jigplate"
    write_project(named("first"), path)
    real, turns = os.fsync, [0]

    def fill(handle: int) -> None:
        turns[0] += stat.S_ISREG(os.fstat(handle).st_mode)
        if turns[0] == turn:
            raise OSError(errno.ENOSPC, "No space left on device")
        real(handle)

    monkeypatch.setattr("os.fsync", fill)
    with pytest.raises(OSError, match="No space left"):
        write_project(named("second"), path)

    assert read_project(path) == named("first")
    assert not list(tmp_path.glob(".*"))


@needs_posix
def test_a_protected_file_is_not_replaced(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "car.jigplate"
    write_project(named("first"), path)
    path.chmod(0o444)
    monkeypatch.setattr("os.access", lambda *_: False)  # as it is for all but the superuser

    with pytest.raises(PermissionError, match="Permission denied"):
        write_project(named("second"), path)

    assert read_project(path) == named("first")


@needs_posix
def test_the_version_before_is_as_private_as_the_file(tmp_path: Path) -> None:
    path = tmp_path / "car.jigplate"
    write_project(named("first"), path)
    path.chmod(0o600)

    write_project(named("second"), path)

    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(previous_of(path).stat().st_mode) == 0o600


def test_meshes_go_along_to_another_place(tmp_path: Path) -> None:
    old, new = tmp_path / "old.jigplate", tmp_path / "elsewhere" / "new.jigplate"
    new.parent.mkdir()
    sha256 = MeshStore.beside(old).add(b"ply one")
    MeshStore.beside(old).add(b"ply of another car")

    absent = write_project(with_mesh(sha256), new, MeshStore.beside(old))

    assert absent == ()
    assert content(new.parent / "new.meshes") == {f"{sha256}.ply": b"ply one"}
    assert MeshStore.beside(new).get(sha256) == b"ply one"


def test_a_mesh_that_is_not_whole_is_told_and_the_car_is_saved(tmp_path: Path) -> None:
    old, new = tmp_path / "old.jigplate", tmp_path / "new.jigplate"
    sha256 = MeshStore.beside(old).add(b"ply one")
    MeshStore.beside(old).path(sha256).write_bytes(b"ply ones")

    assert write_project(with_mesh(sha256), new, MeshStore.beside(old)) == (sha256,)
    assert write_project(with_mesh(sha256), new) == (sha256,)
    assert read_project(new) == with_mesh(sha256)
    assert not MeshStore.beside(new).folder.exists()


def test_meshes_are_there_before_the_file_that_refers_to_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old, new = tmp_path / "old.jigplate", tmp_path / "new.jigplate"
    sha256 = MeshStore.beside(old).add(b"ply one")
    real, order = Path.replace, list[str]()

    def note(self: Path, target: Path) -> Path:
        order.append(target.suffix)
        return real(self, target)

    monkeypatch.setattr("pathlib.Path.replace", note)
    write_project(with_mesh(sha256), new, MeshStore.beside(old))

    assert order == [".ply", ".jigplate"]


def test_the_demo_car_has_its_mesh_beside_it() -> None:
    project = read_project(DEMO)

    wanted = wanted_meshes(project)

    assert len(wanted) == 1
    assert MeshStore.beside(DEMO).get(wanted[0]).startswith(b"ply")


def test_writing_and_reading_again_comes_to_rest(tmp_path: Path) -> None:
    path = tmp_path / "car.jigplate"
    project = read_project(DEMO)

    write_project(project, path)

    assert encode_project(read_project(path)) == path.read_bytes() == DEMO.read_bytes()
