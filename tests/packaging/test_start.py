"""The script for a builder says in words what the check answered, and what is missing."""

import os
import sys
from datetime import datetime
from pathlib import Path

import pytest
import screen
import start

import environment
from environment import Environment, NotReadyError

pytestmark = pytest.mark.skipif(
    sys.platform == "win32", reason="plays the program by a shell script"
)

# Plays the environment's Python: notes how it was called, answers `check` and `export`.
PROGRAM = """#!/bin/sh
echo "$*" >> "{folder}/calls"
case "$*" in
  *" export "*) exit {export} ;;
  *) {speak} exit {check} ;;
esac
"""


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Environment:
    """A project whose environment is ready, with a demo car, and the person standing in it."""
    found = Environment(tmp_path / "project")
    found.python.parent.mkdir(parents=True)
    (found.project / "pyproject.toml").touch()
    (found.project / "assets").mkdir()
    (found.project / start.DEMO).touch()
    found.stamp.write_text(f"{environment.key(found)} run\n", encoding="utf-8")
    monkeypatch.setattr(environment, "here", lambda: found)
    monkeypatch.chdir(found.project)
    return found


def _program(place: Environment, *, check: int = 0, export: int = 0, speak: str = "") -> None:
    text = PROGRAM.format(folder=place.project, check=check, export=export, speak=speak)
    place.python.write_text(text, encoding="utf-8")
    place.python.chmod(0o755)


def _calls(place: Environment) -> list[str]:
    return (place.project / "calls").read_text(encoding="utf-8").splitlines()


@pytest.fixture
def screened(place: Environment, monkeypatch: pytest.MonkeyPatch) -> Environment:
    """The same, at a system with a screen and all that a window needs."""
    monkeypatch.setenv("DISPLAY", ":0")
    monkeypatch.setattr(screen, "missing_packages", lambda **_: [])
    return place


def test_without_a_file_the_demo_car_is_opened_in_its_window(screened: Environment) -> None:
    _program(screened)

    ended = start.main([])

    assert ended == 0
    assert _calls(screened) == ["-P -m app open assets/demo-car.jigplate"]


def test_a_window_that_does_not_come_up_is_told(
    screened: Environment, capsys: pytest.CaptureFixture[str]
) -> None:
    _program(screened, check=70)

    ended = start.main([])

    assert ended == 2
    assert "could not be shown" in capsys.readouterr().err


def test_without_a_screen_it_says_so_first_and_does_what_needs_none(
    place: Environment, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    _program(place)
    monkeypatch.setattr(screen, "has_screen", lambda: False)

    ended = start.main([])

    said = capsys.readouterr()
    assert ended == 0
    assert said.out.startswith("There is no screen here")
    assert "check, assess, export hardpoints, why and fault" in said.out
    assert "The check ran" in said.out
    assert "hardpoints" in said.out.splitlines()[-1]


def test_libraries_that_the_system_lacks_are_named_in_one_command(
    place: Environment, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    place.stamp.unlink()
    monkeypatch.setenv("DISPLAY", ":0")
    monkeypatch.setattr(screen, "missing_packages", lambda **_: ["libxcb-icccm4", "libegl1"])

    ended = start.main([])

    said = capsys.readouterr().err
    assert ended == 2
    assert "apt-get install --no-install-recommends libxcb-icccm4 libegl1»" in said
    assert len(said.splitlines()) == 1


@pytest.mark.parametrize(
    ("code", "words"),
    [(0, "nothing in it fails"), (1, "something fails"), (3, "unknown does not mean fine")],
)
def test_an_answer_of_the_check_is_told_and_is_no_failure_of_the_script(
    code: int, words: str, place: Environment, capsys: pytest.CaptureFixture[str]
) -> None:
    _program(place, check=code)

    ended = start.main(["--check"])

    assert ended == 0
    assert words in capsys.readouterr().out


def test_without_a_file_the_demo_car_is_checked_and_its_hardpoints_are_written(
    place: Environment, capsys: pytest.CaptureFixture[str]
) -> None:
    _program(place)
    today = datetime.now().astimezone().date().isoformat()

    start.main(["--check"])

    table = place.project / "build" / "demo-car-hardpoints.csv"
    assert _calls(place) == [
        "-P -m app check assets/demo-car.jigplate",
        f"-P -m app export hardpoints assets/demo-car.jigplate {table} --date {today}",
    ]
    assert capsys.readouterr().out.endswith("are in build/demo-car-hardpoints.csv\n")


def test_a_file_is_named_from_where_the_person_stands(
    place: Environment, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _program(place)
    (tmp_path / "mine.jigplate").touch()
    monkeypatch.chdir(tmp_path)

    start.main(["--check", "mine.jigplate"])

    assert _calls(place)[0] == "-P -m app check mine.jigplate"


@pytest.mark.parametrize("code", [2, 4, 127])
def test_a_check_that_could_not_run_is_told_and_nothing_is_written(
    code: int, place: Environment, capsys: pytest.CaptureFixture[str]
) -> None:
    _program(place, check=code)

    ended = start.main(["--check"])

    assert ended == 2
    assert "could not run" in capsys.readouterr().err
    assert len(_calls(place)) == 1


def test_a_program_that_broke_off_is_not_taken_for_one_that_found_a_fault(
    place: Environment, capsys: pytest.CaptureFixture[str]
) -> None:
    _program(place, check=1, speak="echo 'Traceback (most recent call last):' >&2;")

    ended = start.main(["--check"])

    assert ended == 2
    assert "something fails" not in capsys.readouterr().out


def test_hardpoints_that_could_not_be_written_are_told(
    place: Environment, capsys: pytest.CaptureFixture[str]
) -> None:
    _program(place, export=2)

    ended = start.main(["--check"])

    assert ended == 2
    assert "could not be written" in capsys.readouterr().err


def test_a_file_that_is_not_there_is_told_before_anything_is_installed(
    place: Environment, capsys: pytest.CaptureFixture[str]
) -> None:
    place.stamp.unlink()

    ended = start.main(["--check", "nowhere.jigplate"])

    assert ended == 2
    assert capsys.readouterr().err == (
        "There is no file nowhere.jigplate: name a .jigplate file that exists.\n"
    )


def test_what_is_missing_is_told_in_its_one_sentence(
    place: Environment, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise NotReadyError("There is no network.")

    _program(place)
    monkeypatch.setattr(environment, "prepare", refuse)

    ended = start.main(["--check"])

    assert ended == 2
    assert capsys.readouterr() == ("", "There is no network.\n")


def test_a_table_that_is_protected_is_told(
    place: Environment, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    _program(place)
    monkeypatch.setattr(os, "access", lambda *_: False)

    ended = start.main(["--check"])

    assert ended == 2
    assert "write-protected" in capsys.readouterr().err
