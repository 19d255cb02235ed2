"""The program as a process: what it imports, how it ends, and consoles that know few letters."""

import json
import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

import app
from tests.app.cars import DEMO, REPOSITORY, tubes_only_car

RUN = [sys.executable, "-m", "app"]
DRAWING = ("PySide6", "PyQt6", "vtk", "vtkmodules", "pyvista", "pyvistaqt", "matplotlib")

COMMANDS = """
import sys
from app.__main__ import main
car, points = sys.argv[1:]
for words in (["check", car], ["assess", car], ["why", car, "A.at.x"], ["fault", car, "--list"],
              ["export", "hardpoints", car, points]):
    main(words)
print("\\n" + " ".join(name for name in sys.modules if name.partition(".")[0] in %r))
"""


def run(*words: str | Path, **variables: str) -> subprocess.CompletedProcess[bytes]:
    environment = {**os.environ, "PYTHONPATH": str(REPOSITORY), **variables}
    return subprocess.run(
        [*RUN, *map(str, words)], capture_output=True, check=False, env=environment, timeout=120
    )


def test_no_command_draws(tmp_path: Path) -> None:
    car, points = tubes_only_car(tmp_path), tmp_path / "points.csv"
    done = subprocess.run(
        [sys.executable, "-c", COMMANDS % (DRAWING,), car, points],
        capture_output=True,
        check=True,
        cwd=REPOSITORY,
    )
    assert points.exists()
    assert done.stdout.splitlines()[-1] == b""


def test_help_imports_no_numbers() -> None:
    code = (
        "import sys\nfrom app.__main__ import main\ntry: main(['--help'])\n"
        "except SystemExit: pass\nprint('numpy' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, check=True, cwd=REPOSITORY
    )
    assert done.stdout.splitlines()[-1] == b"False"


def test_the_process_ends_with_the_code_of_the_command(tmp_path: Path) -> None:
    assert run("check", tubes_only_car(tmp_path)).returncode == 3
    assert run("check", tmp_path / "none.jigplate").returncode == 2
    no_screen = {"DISPLAY": "", "WAYLAND_DISPLAY": "", "QT_QPA_PLATFORM": ""}
    assert run(**no_screen).returncode == 2  # without a command it is the window that is meant
    assert run("--version").stdout.decode().strip() == f"Jigplate {app.__version__}"


def test_the_assessment_is_utf_8_whatever_the_console() -> None:
    done = run("assess", DEMO, PYTHONIOENCODING="ascii")
    json.loads(done.stdout.decode("utf-8"))


def test_a_console_that_knows_few_letters_is_spoken_to_plainly() -> None:
    done = run("why", DEMO, "drive_shaft_L.length", PYTHONIOENCODING="ascii")
    assert done.returncode == 0
    assert b"measured +/- 0.6" in done.stdout
    assert b"?" not in done.stdout.splitlines()[0]


def test_nobody_reading_on_is_no_complaint() -> None:
    reader, writer = os.pipe()
    os.close(reader)
    done = subprocess.run(
        [*RUN, "check", str(DEMO)],
        stdout=writer,
        stderr=subprocess.PIPE,
        check=False,
        cwd=REPOSITORY,
    )
    os.close(writer)
    assert done.stderr == b""
    assert done.returncode == 0


needs_unix = pytest.mark.skipif(os.name == "nt", reason="these are shells and devices of Unix")
ANSWERS = (("check",), ("assess",), ("why", "K_L.at.y"), ("fault", "SF06"))


def in_shell(redirection: str, *words: str | Path) -> subprocess.CompletedProcess[bytes]:
    """Run as `run` does, with the redirection behind it as a shell reads it."""
    return subprocess.run(
        ["/bin/sh", "-c", f'exec "$@" {redirection}', "sh", *RUN, *map(str, words)],
        capture_output=True,
        check=False,
        cwd=REPOSITORY,
    )


@needs_unix
@pytest.mark.parametrize("redirection", [">/dev/full", ">&-"])
@pytest.mark.parametrize("words", ANSWERS, ids=lambda words: words[0])
def test_an_answer_that_cannot_be_written_is_told_in_a_sentence(
    words: tuple[str, ...], redirection: str
) -> None:
    done = in_shell(redirection, words[0], DEMO, *words[1:])
    assert done.returncode == 2
    assert done.stderr.startswith(b"The answer cannot be written: ")
    assert done.stderr.count(b"\n") == 1


@needs_unix
@pytest.mark.parametrize("words", ["--help", "--version"])
def test_help_that_cannot_be_written_is_told_too(words: str) -> None:
    done = in_shell(">/dev/full", words)
    assert done.returncode == 2
    assert done.stderr.startswith(b"The answer cannot be written: ")


@needs_unix
@pytest.mark.parametrize("redirection", ["2>&-", "2>/dev/full", ">&- 2>&-"])
def test_a_complaint_that_cannot_be_written_changes_no_exit_code(
    redirection: str, tmp_path: Path
) -> None:
    assert in_shell(redirection, "check", tmp_path / "missing").returncode == 2
    assert in_shell(redirection, "check").returncode == 2
    bare = tmp_path / "bare.jigplate"  # warns of its mesh
    bare.write_bytes(DEMO.read_bytes())
    is_open = ">&-" not in redirection.removeprefix("2>&-")
    assert in_shell(redirection, "check", bare).returncode == (0 if is_open else 2)


@needs_unix
def test_a_fault_of_the_program_keeps_its_code_where_nothing_can_be_written() -> None:
    code = (
        "import app.__main__ as program\n"
        "program._run = lambda _: 1 / 0\n"
        "raise SystemExit(program.main(['check', 'x']))"
    )
    words = ["/bin/sh", "-c", 'exec "$@" 2>&-', "sh", sys.executable, "-c", code]
    done = subprocess.run(words, capture_output=True, check=False, cwd=REPOSITORY)
    assert done.returncode == 70
    assert done.stdout == b""


@pytest.mark.parametrize("name", ["n" * 300, "", "."])
def test_a_name_that_no_file_can_have_is_no_fault_of_the_program(name: str) -> None:
    done = run("check", name)
    assert done.returncode == 2
    assert done.stdout == b""
    assert done.stderr.count(b"\n") == 1


@needs_unix
def test_a_pipe_or_a_device_is_never_replaced_by_a_table_or_an_assessment(tmp_path: Path) -> None:
    pipe, link = tmp_path / "pipe", tmp_path / "points.csv"
    os.mkfifo(pipe)
    link.symlink_to(pipe)
    commands: tuple[list[str | Path], ...] = (
        ["assess", DEMO, "--output", pipe],
        ["export", "hardpoints", DEMO, link],
    )
    for words in commands:
        done = run(*words)
        assert done.returncode == 2
        assert b"no ordinary file" in done.stderr
    assert pipe.is_fifo()
    assert link.is_symlink()


def test_the_version_is_the_one_of_the_project() -> None:
    project = tomllib.loads((REPOSITORY / "pyproject.toml").read_text("utf-8"))
    assert app.__version__ == project["project"]["version"]
