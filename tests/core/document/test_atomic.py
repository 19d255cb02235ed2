import os
from pathlib import Path
from typing import BinaryIO

import pytest

from core.document.atomic import replace_file, write_atomically


def test_the_old_file_is_there_whole_until_the_new_one_is(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"older")
    seen: list[bytes] = []

    def look(stream: BinaryIO) -> None:
        stream.write(b"new")
        stream.flush()
        seen.append(path.read_bytes())

    replace_file(path, look)

    assert seen == [b"older"]
    assert path.read_bytes() == b"new"


@pytest.mark.parametrize("error", [OSError("full"), KeyboardInterrupt(), ValueError("bug")])
def test_whatever_goes_wrong_half_way_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, error: BaseException
) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"older")

    def fail(stream: BinaryIO) -> None:
        stream.write(b"new")
        raise error

    with pytest.raises(type(error)):
        replace_file(path, fail)

    assert path.read_bytes() == b"older"
    assert list(tmp_path.iterdir()) == [path]


def test_a_folder_that_is_not_there_is_not_made(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        write_atomically(tmp_path / "none" / "a", b"x")

    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.name == "nt", reason="permissions and links are those of Unix")
def test_permissions_stay_and_a_link_is_followed(tmp_path: Path) -> None:
    path, link, model = tmp_path / "a", tmp_path / "link", tmp_path / "model"
    path.write_bytes(b"older")
    path.chmod(0o640)
    model.write_bytes(b"")
    model.chmod(0o604)
    link.symlink_to(path)

    write_atomically(link, b"new", mode_of=model)
    write_atomically(tmp_path / "fresh", b"new", mode_of=model)

    assert link.is_symlink()
    assert path.read_bytes() == b"new"
    assert path.stat().st_mode & 0o777 == 0o640
    assert (tmp_path / "fresh").stat().st_mode & 0o777 == 0o604


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such permissions")
def test_a_new_file_is_as_open_as_any_other_new_file(tmp_path: Path) -> None:
    (tmp_path / "other").write_bytes(b"")

    write_atomically(tmp_path / "a", b"x")

    assert (tmp_path / "a").stat().st_mode == (tmp_path / "other").stat().st_mode


needs_unix = pytest.mark.skipif(os.name == "nt", reason="such nodes are those of Unix")


def fifo(folder: Path) -> Path:
    path = folder / "pipe"
    os.mkfifo(path)
    return path


@needs_unix
@pytest.mark.parametrize("is_linked", [False, True])
def test_what_is_no_ordinary_file_is_refused_and_left_as_it_is(
    tmp_path: Path, *, is_linked: bool
) -> None:
    node = fifo(tmp_path)
    path = tmp_path / "link" if is_linked else node
    if is_linked:
        path.symlink_to(node)
    before = sorted(tmp_path.iterdir())

    with pytest.raises(OSError, match="no ordinary file"):
        write_atomically(path, b"x")

    assert node.is_fifo()
    assert path.is_symlink() == is_linked
    assert sorted(tmp_path.iterdir()) == before


@needs_unix
def test_a_device_and_a_folder_are_refused(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="no ordinary file"):
        write_atomically(Path(os.devnull), b"x")
    with pytest.raises(IsADirectoryError):
        write_atomically(tmp_path, b"x")

    assert Path(os.devnull).is_char_device()


@needs_unix
def test_a_link_to_nothing_makes_the_file_and_stays_a_link(tmp_path: Path) -> None:
    link = tmp_path / "link"
    link.symlink_to(tmp_path / "new")

    write_atomically(link, b"x")

    assert link.is_symlink()
    assert (tmp_path / "new").read_bytes() == b"x"


@needs_unix
def test_links_round_in_a_circle_are_refused_and_stay(tmp_path: Path) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    one.symlink_to(other)
    other.symlink_to(one)

    with pytest.raises(OSError, match="symbolic links"):
        write_atomically(one, b"x")

    assert one.is_symlink()
    assert other.is_symlink()
