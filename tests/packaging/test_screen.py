"""A screen in memory of our own, and the libraries that a window needs."""

import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest
import screen

from environment import Environment, NotReadyError

pytestmark = pytest.mark.skipif(
    not sys.platform.startswith("linux"), reason="other systems have a screen and Qt's libraries"
)


@pytest.fixture
def place(tmp_path: Path) -> Environment:
    return Environment(tmp_path)


def test_a_library_that_is_not_there_is_named_by_its_package(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(screen, "LIBRARIES", {"libc.so.6": "libc6", "libnowhere.so.9": "nowhere"})
    monkeypatch.setattr(screen, "PROGRAMS", {"sh": "dash", "no-such-program": "nothing"})

    assert screen.missing_packages(with_programs=False) == ["nowhere"]
    assert screen.missing_packages(with_programs=True) == ["nowhere", "nothing"]


def test_root_has_what_is_missing_installed(
    place: Environment, monkeypatch: pytest.MonkeyPatch
) -> None:
    answers = [["libegl1"], []]
    ran: list[Sequence[str]] = []

    def run(command: Sequence[str], _log: Path) -> int:
        ran.append(command)
        return 0

    monkeypatch.setattr(screen, "missing_packages", lambda **_: answers.pop(0))
    monkeypatch.setattr(screen, "_is_root", lambda: True)
    monkeypatch.setattr(shutil, "which", lambda _: "/usr/bin/apt-get")

    screen.require_packages(place, with_programs=True, may_install=True, run=run)

    assert ran == [
        ["apt-get", "update"],
        ["apt-get", "install", "-y", "--no-install-recommends", "libegl1"],
    ]


@pytest.mark.parametrize(("root", "may"), [(False, True), (True, False)])
def test_others_are_told_the_one_command(
    place: Environment, monkeypatch: pytest.MonkeyPatch, *, root: bool, may: bool
) -> None:
    monkeypatch.setattr(screen, "missing_packages", lambda **_: ["libegl1", "xvfb"])
    monkeypatch.setattr(screen, "_is_root", lambda: root)

    with pytest.raises(NotReadyError, match="apt-get install --no-install-recommends libegl1 xvfb"):
        screen.require_packages(place, with_programs=True, may_install=may)


def test_what_could_not_be_installed_is_told(
    place: Environment, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(screen, "missing_packages", lambda **_: ["libegl1"])
    monkeypatch.setattr(screen, "_is_root", lambda: True)
    monkeypatch.setattr(shutil, "which", lambda _: "/usr/bin/apt-get")

    with pytest.raises(NotReadyError, match="libegl1"):
        screen.require_packages(
            place, with_programs=True, may_install=True, run=lambda _command, _log: 100
        )


@pytest.mark.skipif(shutil.which("Xvfb") is None, reason="needs Xvfb")
def test_two_screens_of_our_own_are_two_and_end_when_they_are_left() -> None:
    with screen.own_screen() as one, screen.own_screen() as two:
        assert one["DISPLAY"] != two["DISPLAY"]
        assert _is_there(one["DISPLAY"])

    assert not _is_there(one["DISPLAY"])


def _is_there(display: str) -> bool:
    return Path(f"/tmp/.X11-unix/X{display[1:]}").exists()  # noqa: S108 - where X keeps its sockets


@pytest.mark.skipif(shutil.which("Xvfb") is None, reason="needs Xvfb")
def test_a_window_opens_on_a_screen_of_our_own() -> None:
    program = (
        "from PySide6.QtWidgets import QApplication; app = QApplication([]);"
        "print(app.primaryScreen().size().width(), app.platformName())"
    )

    with screen.own_screen() as display:
        done = subprocess.run(
            [sys.executable, "-c", program],
            env={**display, "PATH": "/usr/bin"},
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
        )

    assert done.stdout.split() == ["1920", "xcb"]
