"""Files put in place whole: at every moment the old one or the new one is there."""

import errno
import os
import secrets
import shutil
import stat
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import BinaryIO


def replace_file(
    path: Path, write: Callable[[BinaryIO], object], *, mode_of: Path | None = None
) -> None:
    """Put in place of `path` what `write` writes; if anything fails, the old file stays whole.

    The bytes go to a file beside it, reach the disk, then take its name in one step. A link is
    followed; the permissions of an existing file are kept. What is protected, or no ordinary file
    (a pipe, a device, a folder), is not replaced.

    Args:
        path: file to make or replace; its folder exists.
        write: writes the whole content to the open binary file it is given.
        mode_of: file whose permissions a new file gets.

    Raises:
        PermissionError: if the file is protected.
        OSError: if the folder or the file cannot be written, or it is no ordinary file.
    """
    refuse_what_is_no_file(path)
    target = path.resolve()
    if target.exists() and not os.access(target, os.W_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))
    beside = target.with_name(f".{secrets.token_hex(8)}.part")
    try:
        with beside.open("xb") as stream:
            write(stream)
            stream.flush()
            os.fsync(stream.fileno())
        _take_mode(beside, target if target.exists() else mode_of)
        beside.replace(target)
    finally:
        beside.unlink(missing_ok=True)
    _sync_folder(target.parent)


def refuse_what_is_no_file(path: Path) -> None:
    """Refuse a path that leads, by links or not, to anything but a file or a new name.

    Raises:
        IsADirectoryError: it is a folder.
        OSError: it is a pipe, a device or the like, or its links lead round in a circle.
    """
    try:
        mode = path.stat().st_mode
    except FileNotFoundError:
        return
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
    if not stat.S_ISREG(mode):
        raise OSError(errno.EINVAL, "it is no ordinary file, such as a pipe", str(path))


def _take_mode(path: Path, model: Path | None) -> None:
    if model is not None:
        with suppress(PermissionError):  # some disks know no permissions
            shutil.copymode(model, path)


def _sync_folder(folder: Path) -> None:
    """Let the new name reach the disk as well, where the system can."""
    if os.name != "posix":
        return
    with suppress(OSError):  # the file is in place; some disks have no such thing
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def write_atomically(path: Path, data: bytes, *, mode_of: Path | None = None) -> None:
    """Write a file so that at every moment the old or the new one is there, whole.

    Raises:
        OSError: the folder or the disk refuses; the old file is untouched.
    """
    replace_file(path, lambda stream: stream.write(data), mode_of=mode_of)
