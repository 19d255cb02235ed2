"""The runner of migrations with steps made up here, and every saved file of an older version."""

import json
from pathlib import Path
from typing import Any

import msgspec
import pytest

from core.document import codec, migrations
from core.document.codec import decode_project, encode_project, read_project
from core.document.errors import FileRefusedError
from core.document.migrations import CURRENT_VERSION, FIRST_VERSION, STEPS, migrate
from core.document.project import KINDS, Project
from tests.core.document.small_car import FILES, small_project

FIRST = FILES / "version-1.jigplate"
SAVED = sorted(FILES.glob("*.jigplate"))


@pytest.mark.parametrize("path", SAVED, ids=lambda path: path.name)
def test_every_saved_file_is_read_and_comes_to_rest(path: Path) -> None:
    project = read_project(path)

    data = encode_project(project)

    assert decode_project(data) == project
    assert encode_project(decode_project(data)) == data


def test_there_is_a_saved_file_of_every_version() -> None:
    versions = {json.loads(path.read_text("utf-8"))["version"] for path in SAVED}

    assert versions == set(range(FIRST_VERSION, CURRENT_VERSION + 1))
    assert len(STEPS) + FIRST_VERSION == CURRENT_VERSION


SINCE_VERSION_1 = ["donor_corners", "toe_boards", "weighings"]
"""Kinds that version 1 did not know."""


def test_a_saved_file_has_a_thing_of_every_kind_that_its_version_knew() -> None:
    older, newest = read_project(FIRST), small_project()

    assert [f for f in KINDS if not getattr(older.drawn, f)] == SINCE_VERSION_1
    assert [f for f in KINDS if not getattr(newest.drawn, f)] == []


def test_the_file_of_the_first_version_is_read_as_what_stands_in_it() -> None:
    """A sample by hand; and the newer file says all of that and no more than it adds."""
    project = read_project(FIRST)

    assert [own.of for own in project.drawn.points[11].right] == ["at", "along"]
    assert project.drawn.points[0].facts[1].because[0].words == "width"
    assert project.drawn.power_units[0].axes.x == (0.0, 1.0, 0.0)
    assert [layer.name for layer in project.layers] == ["with the longer shaft", "as welded"]
    assert project.readings[0].value == 800.5
    added = dict.fromkeys(SINCE_VERSION_1, ())
    assert msgspec.structs.replace(small_project().drawn, **added) == project.drawn
    assert small_project().layers == project.layers


def test_a_file_of_an_older_version_is_written_as_the_newest_and_is_then_no_older() -> None:
    project = read_project(FIRST)

    assert encode_project(project).startswith(b'{"format":"jigplate project","version":2,\n')
    with pytest.raises(FileRefusedError, match="newer version, and this program reads"):
        decode_project(encode_project(project).replace(b'"version":2', b'"version":3', 1))


def twos(plain: dict[str, Any]) -> dict[str, Any]:
    return {**plain, "drawn": plain["car"], "names": [*plain.get("names", ()), "two"]}


def threes(plain: dict[str, Any]) -> dict[str, Any]:
    return {**plain, "names": [*plain["names"], "three"]}


def test_each_step_is_done_once_from_the_version_of_the_file_on() -> None:
    first = {"version": 1, "car": 5}

    assert migrate(first, 1, (twos, threes))["names"] == ["two", "three"]
    assert migrate(first, 1, (twos, threes))["version"] == 3
    assert migrate({"version": 2, "names": []}, 2, (twos, threes))["names"] == ["three"]
    assert migrate({"version": 3}, 3, (twos, threes)) == {"version": 3}
    assert first == {"version": 1, "car": 5}


@pytest.mark.parametrize("plain", [{}, {"car": 1, "names": 5}])
def test_data_that_a_step_does_not_understand_are_told(plain: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match="it is not as version 1 had it"):
        migrate(plain, 1, (twos, threes))


def renamed_head(plain: dict[str, Any]) -> dict[str, Any]:
    """A made-up step: what was called `car` is called `drawn`."""
    return {("drawn" if key == "car" else key): plain[key] for key in ("car", *plain)}


@pytest.fixture
def next_version(monkeypatch: pytest.MonkeyPatch) -> None:
    """As if the program were one version on."""

    def one_step(plain: dict[str, Any], version: int) -> dict[str, Any]:
        return migrate(plain, version, (*STEPS, renamed_head))

    for module in (codec, migrations):
        monkeypatch.setattr(module, "CURRENT_VERSION", 3)
    monkeypatch.setattr(codec, "migrate", one_step)


@pytest.mark.usefixtures("next_version")
def test_an_older_file_is_read_as_the_newer_project() -> None:
    old = FIRST.read_bytes().replace(b'"drawn":', b'"car":')

    project = decode_project(old)

    assert project == msgspec.convert(msgspec.to_builtins(project), Project)
    assert len(project.drawn.points) == 12
    assert encode_project(project).startswith(b'{"format":"jigplate project","version":3,\n')
    assert decode_project(encode_project(project)) == project


@pytest.mark.usefixtures("next_version")
def test_an_older_file_that_does_not_hold_is_refused_in_a_sentence() -> None:
    old = FIRST.read_bytes().replace(b'"drawn":', b'"car":')

    with pytest.raises(
        FileRefusedError, match=r"^line \d+, \$.drawn.tubes\[2\].name: Expected `str`"
    ):
        decode_project(old.replace(b'"name":"cross"', b'"name":7'))
    with pytest.raises(
        FileRefusedError, match=r"^line \d+, \$.car.tubes\[2\].name: this is written"
    ):
        decode_project(old.replace(b'"name":"cross"', b'"name":"cross","name":"x"'))
    with pytest.raises(FileRefusedError, match="^this file of version 1 cannot be made new: it is"):
        decode_project(old.replace(b'"car":', b'"cart":'))
    with pytest.raises(FileRefusedError, match="cannot be made new: Number out of range"):
        decode_project(old.replace(b'"wall":2.0', b'"wall":1e999'))
    with pytest.raises(FileRefusedError, match="this program reads version 1 to 3"):
        decode_project(old.replace(b'"version":1', b'"version":4'))
