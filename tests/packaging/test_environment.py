"""The environment is made when it must be and only then, and failures are told in a sentence."""

import errno
import importlib.util
import os
import subprocess
import sys
from collections.abc import Sequence
from importlib.machinery import ModuleSpec
from pathlib import Path

import pytest

import environment
from environment import Environment, NotReadyError


class Recorder:
    """Runs nothing: keeps the commands, plays venv and pip, fails where it is told to."""

    def __init__(self, *, fails: str = "", says: str = "") -> None:
        self.commands: list[list[str]] = []
        self.fails = fails
        self.says = says

    def __call__(self, command: Sequence[str], log: Path) -> int:
        self.commands.append(list(command))
        if self.fails and self.fails in command:
            log.write_text(self.says, encoding="utf-8")
            return 1
        if "venv" in command:
            _make_folder(Path(command[-1]), ".".join(map(str, sys.version_info[:3])))
        return 0


def _make_folder(folder: Path, version: str) -> None:
    python = Environment(folder.parent).python
    python.parent.mkdir(parents=True, exist_ok=True)
    python.touch()
    (folder / "pyvenv.cfg").write_text(f"home = /usr/bin\nversion = {version}\n", encoding="utf-8")


def _one_sentence(text: str) -> bool:
    return text.endswith(".") and "\n" not in text and ". " not in text


@pytest.fixture
def place(tmp_path: Path) -> Environment:
    (tmp_path / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
    return Environment(tmp_path)


@pytest.mark.parametrize("with_checkers", [False, True])
def test_a_second_call_runs_nothing(place: Environment, *, with_checkers: bool) -> None:
    environment.prepare(place, with_checkers=with_checkers, run=Recorder())
    second = Recorder()

    environment.prepare(place, with_checkers=with_checkers, run=second)

    assert second.commands == []


def test_the_project_is_installed_as_a_link_and_without_questions(place: Environment) -> None:
    run = Recorder()

    environment.prepare(place, with_checkers=False, run=run)

    assert run.commands[-1][0] == str(place.python)
    assert run.commands[-1][-2:] == ["--editable", str(place.project)]
    assert "--no-input" in run.commands[-1]


def test_checkers_are_installed_when_asked_for(place: Environment) -> None:
    environment.prepare(place, with_checkers=False, run=Recorder())
    run = Recorder()

    environment.prepare(place, with_checkers=True, run=run)

    assert run.commands[-1][-1] == f"{place.project}[dev]"


def test_with_checkers_there_is_all_that_the_program_needs(place: Environment) -> None:
    environment.prepare(place, with_checkers=True, run=Recorder())

    assert environment.is_ready(place, with_checkers=False)


def test_without_checkers_there_is_not_all_that_the_tests_need(place: Environment) -> None:
    environment.prepare(place, with_checkers=False, run=Recorder())

    assert not environment.is_ready(place, with_checkers=True)


def test_a_change_of_pyproject_installs_again(place: Environment) -> None:
    environment.prepare(place, with_checkers=False, run=Recorder())

    (place.project / "pyproject.toml").write_text("[project]\nname='x'\n", encoding="utf-8")

    assert not environment.is_ready(place, with_checkers=False)


def test_another_python_installs_again(place: Environment, monkeypatch: pytest.MonkeyPatch) -> None:
    environment.prepare(place, with_checkers=False, run=Recorder())

    monkeypatch.setattr(sys, "version", "3.99.0 (another)")

    assert not environment.is_ready(place, with_checkers=False)


def test_a_folder_that_was_moved_installs_again(place: Environment, tmp_path: Path) -> None:
    (tmp_path / "old").mkdir()
    (tmp_path / "old" / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
    environment.prepare(Environment(tmp_path / "old"), with_checkers=False, run=Recorder())

    moved = Environment((tmp_path / "old").rename(tmp_path / "new"))

    assert moved.stamp.exists()
    assert not environment.is_ready(moved, with_checkers=False)
    assert not environment.is_ready(place, with_checkers=False)


def test_an_environment_whose_python_is_gone_is_made_again(place: Environment) -> None:
    environment.prepare(place, with_checkers=False, run=Recorder())
    place.python.unlink()
    run = Recorder()

    environment.prepare(place, with_checkers=False, run=run)

    assert "--clear" in run.commands[0]


def test_an_environment_of_another_python_is_made_from_nothing(place: Environment) -> None:
    _make_folder(place.folder, "3.8.0")
    run = Recorder()

    environment.prepare(place, with_checkers=False, run=run)

    assert "--clear" in run.commands[0]


def test_an_environment_of_this_python_is_kept_and_completed(place: Environment) -> None:
    _make_folder(place.folder, ".".join(map(str, sys.version_info[:3])))
    run = Recorder()

    environment.prepare(place, with_checkers=False, run=run)

    assert "--clear" not in run.commands[0]


def test_a_stamp_of_rubbish_counts_as_none(place: Environment) -> None:
    environment.prepare(place, with_checkers=False, run=Recorder())

    place.stamp.write_bytes(b"\xff\xfe")

    assert not environment.is_ready(place, with_checkers=False)


def test_an_installation_that_failed_leaves_no_stamp(place: Environment) -> None:
    environment.prepare(place, with_checkers=False, run=Recorder())

    with pytest.raises(NotReadyError):
        environment.prepare(place, with_checkers=True, run=Recorder(fails="pip"))

    assert not environment.is_ready(place, with_checkers=False)


@pytest.mark.parametrize("version", [(2, 7), (3, 9), (3, 10)])
def test_an_old_python_is_refused_in_one_sentence(version: tuple[int, int]) -> None:
    with pytest.raises(NotReadyError, match=r"needs Python 3\.11 or newer") as told:
        environment.require_python(version)

    assert f"this is {version[0]}.{version[1]}" in str(told.value)
    assert str(told.value).endswith(".")


@pytest.mark.parametrize("version", [(3, 11), (3, 13), (4, 0)])
def test_a_new_enough_python_is_taken(version: tuple[int, int]) -> None:
    environment.require_python(version)


@pytest.mark.parametrize("missing", ["venv", "ensurepip"])
def test_without_venv_the_debian_package_is_named(
    missing: str, place: Environment, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = importlib.util.find_spec

    def find_others(name: str) -> ModuleSpec | None:
        return None if name == missing else found(name)

    monkeypatch.setattr(importlib.util, "find_spec", find_others)

    with pytest.raises(NotReadyError, match="python3-venv") as told:
        environment.prepare(place, with_checkers=False, run=Recorder())

    assert _one_sentence(str(told.value))


@pytest.mark.parametrize(
    ("says", "told_as"),
    [
        ("... Failed to establish a new connection: [Errno 101] ...", "no network"),
        ("... Temporary failure in name resolution ...", "no network"),
        ("ERROR: ... [Errno 28] No space left on device", "disk is full"),
        ("ERROR: No matching distribution found", "pip could not install"),
    ],
)
def test_when_pip_fails_the_reason_and_its_log_are_told(
    says: str, told_as: str, place: Environment
) -> None:
    with pytest.raises(NotReadyError, match=told_as) as told:
        environment.prepare(place, with_checkers=False, run=Recorder(fails="pip", says=says))

    assert "build/install.log" in str(told.value)
    assert str(place.project) not in str(told.value)
    assert _one_sentence(str(told.value))


def test_when_venv_fails_it_is_told_in_one_sentence(place: Environment) -> None:
    with pytest.raises(NotReadyError, match="delete the folder") as told:
        environment.prepare(place, with_checkers=False, run=Recorder(fails="venv"))

    assert "build/install.log" in str(told.value)


@pytest.mark.parametrize("number", [errno.EACCES, errno.EPERM, errno.EROFS])
def test_a_write_protected_folder_is_told_in_one_sentence(
    number: int, place: Environment, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(Path, "mkdir", refuse)

    with pytest.raises(NotReadyError, match="write-protected") as told:
        environment.prepare(place, with_checkers=False, run=Recorder())

    assert _one_sentence(str(told.value))


def test_a_command_that_is_run_leaves_its_words_in_the_log(tmp_path: Path) -> None:
    log = tmp_path / "log"
    command = [sys.executable, "-c", "import sys; print('out'); sys.exit('wrong')"]

    code = environment.run_logged(command, log)

    assert code == 1
    assert set(log.read_text(encoding="utf-8").split()) == {"out", "wrong"}


def test_variables_that_lead_to_other_packages_are_dropped(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("PYTHONPATH", "elsewhere")
    monkeypatch.setenv("SOMETHING_ELSE", "kept")

    variables = environment.clean_variables()

    assert "PYTHONPATH" not in variables
    assert variables["SOMETHING_ELSE"] == "kept"


def test_every_script_is_found_from_any_folder(tmp_path: Path) -> None:
    scripts = environment.here().project / "packaging"

    for name in ("start.py", "test.py"):
        done = subprocess.run(
            [sys.executable, scripts / name, "--help"],
            cwd=tmp_path,
            capture_output=True,
            check=True,
        )

        assert done.stdout.startswith(b"usage:")
