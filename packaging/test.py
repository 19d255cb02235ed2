"""Run every check of the code, and the tests last.

    python3 packaging/test.py [--only STEP ...]

Makes the environment the first time. Tests of the window run on a screen in memory, not on yours;
the libraries that takes are installed for root, and named in one command for others. Every step
runs even if one before it failed; a step that passes says so in one line; the window's tests and
the mutations run beside the others. Exits with 0 when all passed, 1 when one failed, 2 when the
environment could not be made.
"""

from __future__ import annotations

import argparse
import os
import shlex
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import screen

import environment
from environment import Environment, NotReadyError

CODE = ("app", "core", "packaging", "tests")

WINDOW_TESTS = ("tests/app", "tests/bench/window")
MUTATIONS = "tests/mutations"

# Folders in which the tools keep what they worked out.
CACHES = (".hypothesis", ".mypy_cache", ".pytest_cache", ".ruff_cache")

# What docstrings of more than a line say of arguments (DOC102), results (DOC202, DOC403) and errors
# (DOC501) is true. On trial in ruff, so not in pyproject.toml: there the switch for rules on trial
# changes the others as well. The tool these rules come from also wants a section for every
# argument and result, where a first line that says what is returned is enough for us.
DOCSTRING_RULES = "DOC102,DOC202,DOC403,DOC501"


@dataclass(frozen=True)
class Step:
    """A tool with its arguments, as run from the project's folder."""

    name: str
    tool: str
    arguments: tuple[str, ...] = ()
    is_shown: bool = False
    """Whether its words are shown while it runs, and not only when it fails."""
    has_window: bool = False
    """Whether it opens windows, and so needs a screen."""
    is_beside: bool = False
    """Whether it runs beside the others, for it takes as long as all of them."""


STEPS = (
    Step("ruff", "ruff", ("check", *CODE)),
    Step("docstrings", "ruff", ("check", "--preview", "--select", DOCSTRING_RULES, *CODE)),
    Step("format", "ruff", ("format", "--check", *CODE)),
    Step("mypy", "mypy"),
    Step("basedpyright", "basedpyright"),
    Step("layers", "lint-imports", ("--no-cache",)),
    # Apart from the others: a window that crashes takes the whole process with it. Beside the
    # others: it waits on the screen as much as it computes.
    Step("window", "pytest", ("--no-header", *WINDOW_TESTS), has_window=True, is_beside=True),
    Step("mutations", "pytest", ("--no-header", MUTATIONS), is_beside=True),
    # Last of the others, so that its closing line stands near the end.
    Step(
        "pytest",
        "pytest",
        ("--no-header", *(f"--ignore={t}" for t in (*WINDOW_TESTS, MUTATIONS))),
        is_shown=True,
    ),
)


def main(arguments: list[str] | None = None) -> int:
    """Exit code: 0 when every step passed, 1 when one failed, 2 when none could run."""
    chosen = _chosen(arguments)
    place = environment.here()
    try:
        environment.prepare(place, with_checkers=True)
        if any(step.has_window for step in chosen):
            screen.require_packages(place, with_programs=True, may_install=True)
    except NotReadyError as missing:
        sys.stdout.flush()  # so that this sentence stands last
        print(missing, file=sys.stderr)
        return 2
    with tempfile.TemporaryDirectory(prefix="jigplate-") as spare:
        variables = environment.clean_variables() | cache_variables(place, Path(spare))
        failed = _failed(place, chosen, variables)
    if failed:
        print(f"Failed: {', '.join(failed)}")
    return 1 if failed else 0


def _failed(place: Environment, chosen: list[Step], variables: dict[str, str]) -> list[str]:
    """Names of the steps that fail; some run beside the others, and are told at the end."""
    those_beside = [step for step in chosen if step.is_beside]
    others = [step for step in chosen if not step.is_beside]
    with ThreadPoolExecutor(max_workers=1) as beside:
        waited = [(step, beside.submit(_run, place, step, variables)) for step in those_beside]
        failed = [step.name for step in others if not _run(place, step, variables)]
        return failed + [step.name for step, done in waited if not done.result()]


def _chosen(arguments: list[str] | None) -> list[Step]:
    """The steps asked for, in their fixed order."""
    names = [step.name for step in STEPS]
    parser = argparse.ArgumentParser(description="Run every check of the code.")
    parser.add_argument(
        "--only",
        nargs="+",
        choices=names,
        default=names,
        metavar="STEP",
        help="run only these: " + ", ".join(names),
    )
    only = parser.parse_args(arguments).only
    return [step for step in STEPS if step.name in only]


def cache_variables(place: Environment, spare: Path) -> dict[str, str]:
    """Variables that move the tools' caches to a spare folder, if they cannot be where they belong.

    They belong in the project's folder; it, or what another user left there, may be protected.
    """
    folders = (place.project, *(place.project / name for name in CACHES))
    if all(os.access(folder, os.W_OK) for folder in folders if folder.exists()):
        return {}
    return {
        "HYPOTHESIS_STORAGE_DIRECTORY": str(spare / "hypothesis"),
        "MYPY_CACHE_DIR": str(spare / "mypy"),
        "PYTEST_ADDOPTS": f"-o cache_dir={shlex.quote(str(spare / 'pytest'))}",
        "RUFF_CACHE_DIR": str(spare / "ruff"),
    }


def _run(place: Environment, step: Step, variables: dict[str, str]) -> bool:
    """Whether a step passes; one with windows is given a screen of its own."""
    if not step.has_window:
        return run_step(place, step, variables)
    try:
        with screen.own_screen() as display:
            return run_step(place, step, variables | display)
    except NotReadyError as missing:
        print(f"{step.name}: FAILED, for {missing}", flush=True)
        return False


def run_step(place: Environment, step: Step, variables: dict[str, str]) -> bool:
    """Whether one step passes when run with these variables; says so in one line."""
    started = time.perf_counter()
    done = subprocess.run(
        [place.tool(step.tool), *step.arguments],
        cwd=place.project,
        stdin=subprocess.DEVNULL,
        stdout=None if step.is_shown else subprocess.PIPE,
        stderr=subprocess.STDOUT,
        env=variables | {"PYTHONUTF8": "1"},
        check=False,
    )
    passed = done.returncode == 0
    words = "" if step.is_shown else _without_paths(done.stdout.decode(errors="replace"), place)
    if not passed and words:
        print(words)
    elif step.has_window and words:
        print(words.splitlines()[-1])
    word = "passed" if passed else "FAILED"
    print(f"{step.name}: {word} in {time.perf_counter() - started:.1f} s", flush=True)
    return passed


def _without_paths(words: str, place: Environment) -> str:
    """What a tool said, with files named from the project's folder on."""
    return words.replace(f"{place.project}{os.sep}", "").rstrip()


if __name__ == "__main__":
    sys.exit(main())
