"""The project's own environment: a `.venv` beside pyproject.toml, made once and kept in step.

Uses the standard library alone, for it runs before anything is installed. A stamp inside the
environment says what was installed for which pyproject.toml, which Python and which folder; while
it holds, nothing is installed again and the network is not asked.

This file and the scripts beside it must at least load in any Python from 3.7 on, to tell in a
sentence that it is too old.
"""

from __future__ import annotations

import errno
import hashlib
import importlib.util
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    # Runs a command, adds what it says to the log file, returns its exit code.
    Runner = Callable[[Sequence[str], Path], int]

LOWEST_PYTHON = (3, 11)
STAMP_NAME = "jigplate-installed"
LOG_NAME = "install.log"


class NotReadyError(Exception):
    """The environment cannot be made. Its text is one sentence: what is missing and what to do."""


@dataclass(frozen=True)
class Environment:
    """Where the project and its environment are."""

    project: Path

    @property
    def folder(self) -> Path:
        """The environment, beside pyproject.toml."""
        return self.project / ".venv"

    @property
    def python(self) -> Path:
        """The environment's Python."""
        return self.tool("python")

    @property
    def stamp(self) -> Path:
        """The file that says what is installed."""
        return self.folder / STAMP_NAME

    @property
    def log(self) -> Path:
        """What venv and pip said when they last ran."""
        return self.project / "build" / LOG_NAME

    def tool(self, name: str) -> Path:
        """A command that the environment holds, such as `python` or a checker."""
        if sys.platform == "win32":
            return self.folder / "Scripts" / f"{name}.exe"
        return self.folder / "bin" / name


def here() -> Environment:
    """The environment of the project that this file belongs to."""
    return Environment(Path(__file__).resolve().parent.parent)


def require_python(version: tuple[int, int]) -> None:
    """Refuse a Python that is too old.

    Args:
        version: major and minor.

    Raises:
        NotReadyError: if it is below `LOWEST_PYTHON`.
    """
    if version < LOWEST_PYTHON:
        needed = ".".join(map(str, LOWEST_PYTHON))
        found = ".".join(map(str, version))
        raise NotReadyError(
            f"Jigplate needs Python {needed} or newer and this is {found}: install a newer Python "
            "and start this script with it."
        )


def key(environment: Environment) -> str:
    """What an installation depends on, as one line: pyproject.toml, the Python and the folder.

    The folder belongs to it because the project is installed as a link to where it lies.
    """
    parts = (
        (environment.project / "pyproject.toml").read_bytes(),
        sys.version.encode(),
        str(environment.project).encode(),
    )
    return hashlib.sha256(b"\0".join(parts)).hexdigest()


def is_ready(environment: Environment, *, with_checkers: bool) -> bool:
    """Whether the environment holds what pyproject.toml asks for, going by its stamp.

    Args:
        environment: the one to look at.
        with_checkers: whether the checkers and the test runner are needed too.
    """
    if not environment.python.exists():
        return False
    try:
        words = environment.stamp.read_text(encoding="utf-8").split()
    except (OSError, UnicodeDecodeError):
        return False
    return words == [key(environment), "dev"] or (
        not with_checkers and words == [key(environment), "run"]
    )


def prepare(environment: Environment, *, with_checkers: bool, run: Runner | None = None) -> None:
    """Make the environment, or bring it up to date; do nothing when its stamp says it is.

    Args:
        environment: the one to make.
        with_checkers: whether to install the checkers and the test runner too.
        run: runs a command; another one is for tests.

    Raises:
        NotReadyError: if something is missing, in one sentence.
    """
    require_python(sys.version_info[:2])
    if is_ready(environment, with_checkers=with_checkers):
        return
    require_modules()
    try:
        _install(environment, with_checkers=with_checkers, run=run or run_logged)
    except OSError as error:
        raise NotReadyError(write_sentence(error)) from error


def require_modules() -> None:
    """Refuse a Python that was installed without what makes environments.

    Raises:
        NotReadyError: if `venv` or the pip that it brings is missing.
    """
    if any(importlib.util.find_spec(name) is None for name in ("venv", "ensurepip")):
        raise NotReadyError(
            "Python's venv module is missing: on Debian and Ubuntu install the package "
            "python3-venv (apt install python3-venv), then try again."
        )


def run_logged(command: Sequence[str], log: Path) -> int:
    """Exit code of a command whose words go to the end of a log file.

    Raises:
        OSError: if the log cannot be written or the command cannot be started.
    """
    with log.open("a", encoding="utf-8") as stream:
        return subprocess.run(
            command,
            stdin=subprocess.DEVNULL,
            stdout=stream,
            stderr=subprocess.STDOUT,
            env=clean_variables(),
            check=False,
        ).returncode


def write_sentence(error: OSError) -> str:
    """One sentence on why nothing can be written in the project's folder, and what to do."""
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return (
            "Jigplate's folder is write-protected: copy it to a folder of your own, or make this "
            "one writable, and try again."
        )
    if error.errno == errno.ENOSPC:
        return "The disk is full: make room and try again."
    return f"Jigplate's folder cannot be written: {error.strerror}."


def clean_variables() -> dict[str, str]:
    """The variables for commands run here: without those that lead a Python to other packages."""
    dropped = {"PYTHONPATH", "PYTHONHOME", "PYTHONSTARTUP", "PIP_USER", "PIP_TARGET", "PIP_PREFIX"}
    return {name: value for name, value in os.environ.items() if name not in dropped}


def _install(environment: Environment, *, with_checkers: bool, run: Runner) -> None:
    """Make the folder and install into it; the stamp comes last, so a half-done one has none."""
    environment.folder.mkdir(exist_ok=True)
    environment.stamp.unlink(missing_ok=True)
    environment.log.parent.mkdir(exist_ok=True)
    environment.log.write_text("", encoding="utf-8")
    print(
        "Installing what Jigplate needs into .venv; this happens once and can take a few minutes.",
        flush=True,
    )
    _make_folder(environment, run)
    _run_pip(environment, run, "[dev]" if with_checkers else "")
    installed = "dev" if with_checkers else "run"
    environment.stamp.write_text(f"{key(environment)} {installed}\n", encoding="utf-8")


def _make_folder(environment: Environment, run: Runner) -> None:
    """Make the environment, from nothing if another Python made the one that is there."""
    clear = [] if _same_python(environment) else ["--clear"]
    command = [sys.executable, "-m", "venv", *clear, str(environment.folder)]
    if run(command, environment.log) != 0:
        raise NotReadyError(
            "Python could not make its environment: delete the folder .venv in Jigplate's folder "
            f"and try again; {_where_the_log_is(environment)}."
        )


def _run_pip(environment: Environment, run: Runner, extra: str) -> None:
    """Install the project as a link to its folder, with what it needs."""
    pip = [str(environment.python), "-m", "pip", "install"]
    options = ["--disable-pip-version-check", "--no-input", "--editable"]
    if run([*pip, *options, f"{environment.project}{extra}"], environment.log) != 0:
        raise NotReadyError(_pip_sentence(environment))


def _same_python(environment: Environment) -> bool:
    """Whether the environment that is there was made by this Python's version, and still runs."""
    try:
        written = (environment.folder / "pyvenv.cfg").read_text(encoding="utf-8")
    except OSError:
        return False
    lines = dict(line.split(" = ", 1) for line in written.splitlines() if " = " in line)
    ours = ".".join(map(str, sys.version_info[:3]))
    return lines.get("version") == ours and environment.python.exists()


def _pip_sentence(environment: Environment) -> str:
    """Why pip failed, as far as its log tells, and where that log is."""
    words = environment.log.read_text(encoding="utf-8", errors="replace")
    where = _where_the_log_is(environment)
    if any(sign in words for sign in _NO_NETWORK):
        return (
            "The packages that Jigplate needs could not be fetched, for there seems to be no "
            f"network: connect this computer and try again; {where}."
        )
    if "No space left" in words:
        return f"The disk is full: make room and try again; {where}."
    return f"pip could not install what Jigplate needs; {where}."


def _where_the_log_is(environment: Environment) -> str:
    """The end of a sentence, which names the log from the project's folder on."""
    log = environment.log.relative_to(environment.project).as_posix()
    return f"what was said is in {log} in Jigplate's folder"


# Words of pip's own when an index cannot be reached.
_NO_NETWORK = (
    "Failed to establish a new connection",
    "Temporary failure in name resolution",
    "Network is unreachable",
    "NewConnectionError",
    "ConnectTimeoutError",
    "ReadTimeoutError",
    "ProxyError",
)
