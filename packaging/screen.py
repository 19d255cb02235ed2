"""What a window needs of a Linux system: a screen, and libraries that no Python package brings.

Uses the standard library alone, and loads in any Python from 3.7 on, as `environment` does.
"""

from __future__ import annotations

import contextlib
import ctypes
import os
import shutil
import subprocess
import sys
from typing import TYPE_CHECKING

import environment
from environment import NotReadyError

if TYPE_CHECKING:
    from collections.abc import Generator

    from environment import Environment, Runner

# What Qt loads when it opens a window, and the Debian package that has it. Found from a bare
# system by asking which libraries were missing until a window with a drawing in it opened.
LIBRARIES = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libX11-xcb.so.1": "libx11-xcb1",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}
# What tests need besides: a screen in memory.
PROGRAMS = {"Xvfb": "xvfb", "xauth": "xauth"}

SCREEN = "1920x1200x24"


def has_screen() -> bool:
    """Whether there is a screen to open a window on; on Linux the environment tells."""
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def missing_packages(*, with_programs: bool) -> list[str]:
    """Debian packages of what this system lacks; empty on systems that are not Linux."""
    if not sys.platform.startswith("linux"):
        return []
    found = [package for library, package in LIBRARIES.items() if not _loads(library)]
    if with_programs:
        found += [package for program, package in PROGRAMS.items() if not shutil.which(program)]
    return found


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def require_packages(
    place: Environment, *, with_programs: bool, may_install: bool, run: Runner | None = None
) -> None:
    """Have what a window needs: install it where that is allowed, else say the one command.

    Args:
        place: the project, for its log.
        with_programs: whether a screen in memory is needed too.
        may_install: whether to install what is missing, which takes root and apt-get.
        run: runs a command; another one is for tests.

    Raises:
        NotReadyError: something is missing still, with the command that installs it.
    """
    missing = missing_packages(with_programs=with_programs)
    if missing and may_install and _is_root() and shutil.which("apt-get"):
        _install(place, missing, run or environment.run_logged)
        missing = missing_packages(with_programs=with_programs)
    if missing:
        raise NotReadyError(install_sentence(missing))


def install_sentence(packages: list[str]) -> str:
    """One sentence with the command that installs packages."""
    return (
        "A window needs libraries that this system lacks: install them with "
        f"«sudo apt-get install --no-install-recommends {' '.join(packages)}» "
        "(Debian and Ubuntu; other systems have them under like names) and try again."
    )


def _install(place: Environment, packages: list[str], run: Runner) -> None:
    print(f"Installing {', '.join(packages)}; this happens once.", flush=True)
    try:
        place.log.parent.mkdir(exist_ok=True)
        run(["apt-get", "update"], place.log)
        run(["apt-get", "install", "-y", "--no-install-recommends", *packages], place.log)
    except OSError as error:
        raise NotReadyError(environment.write_sentence(error)) from error


def _is_root() -> bool:
    return hasattr(os, "geteuid") and os.geteuid() == 0


@contextlib.contextmanager
def own_screen() -> Generator[dict[str, str], None, None]:
    """Variables that lead to a screen in memory while it lasts; none where it is not needed.

    Raises:
        NotReadyError: it does not start.
    """
    if not sys.platform.startswith("linux"):
        yield {}
        return
    reading, writing = os.pipe()
    command = ["Xvfb", "-displayfd", str(writing), "-screen", "0", SCREEN, "-nolisten", "tcp"]
    try:
        server = subprocess.Popen(
            command, pass_fds=(writing,), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
    except OSError as error:
        raise NotReadyError(install_sentence(["xvfb"])) from error
    finally:
        os.close(writing)
    try:
        yield {"DISPLAY": f":{_number(reading)}", "QT_QPA_PLATFORM": "xcb", "QT_API": "pyside6"}
    finally:
        server.terminate()
        server.wait()


def _number(reading: int) -> str:
    """The number that the server gave its screen; it writes it when it is ready."""
    with os.fdopen(reading, encoding="ascii") as stream:
        number = stream.readline().strip()
    if not number:
        raise NotReadyError("Xvfb, the screen in memory, did not start: try again.")
    return number
