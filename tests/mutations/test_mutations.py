"""Each named mutation of the source is noticed by at least one test that names it."""

import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import NoReturn

import pytest
from hypothesis import Phase, settings

from tests.mutations.mutation import Mutation
from tests.mutations.mutations import MUTATIONS

ROOT = Path(__file__).parents[2]
COPIED = ("app", "core", "packaging", "tests", "assets")
FAILED = 1  # pytest: tests were run and some failed
CRASHED = 70


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the repository to be damaged, with what is compiled of it already."""
    folder = tmp_path_factory.mktemp("mutated")
    for name in COPIED:
        ignored = shutil.ignore_patterns(".mypy_cache", "*.previous", "*.pyc.*")
        shutil.copytree(ROOT / name, folder / name, ignore=ignored)
    shutil.copy(ROOT / "pyproject.toml", folder)
    return folder


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda m: m.name)
def test_mutation_is_noticed(mutation: Mutation, copy: Path) -> None:
    file = copy / mutation.file
    source, was = file.read_text(encoding="utf-8"), file.stat()
    assert source.count(mutation.old) == 1, "the mutated line is not where it was"
    file.write_text(source.replace(mutation.old, mutation.new), encoding="utf-8")

    try:
        assert run_tests(copy, mutation.tests) == FAILED
    finally:
        file.write_text(source, encoding="utf-8")
        os.utime(file, ns=(was.st_atime_ns, was.st_mtime_ns))  # what is compiled holds again


def run_tests(folder: Path, tests: tuple[str, ...]) -> int:
    """Exit code of pytest on some tests of a copy of the repository."""
    arguments = ["-x", "-q", "-p", "no:cacheprovider", *tests]
    if not hasattr(os, "fork"):
        return _in_new_process(folder, arguments)
    child = os.fork()  # what takes long to import is there already
    if child == 0:
        _be_the_copy(folder, arguments)
    _, status = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(status)


def _in_new_process(folder: Path, arguments: list[str]) -> int:
    env = {**os.environ, "PYTHONPATH": str(folder)}
    command = [sys.executable, "-m", "pytest", *arguments]
    return subprocess.run(command, cwd=folder, env=env, capture_output=True, check=False).returncode


def _be_the_copy(folder: Path, arguments: list[str]) -> NoReturn:
    """Forget our own code, run the tests of the copy, and end this process."""
    code = CRASHED
    try:
        with Path(os.devnull).open("w") as nothing:
            for stream in (1, 2):
                os.dup2(nothing.fileno(), stream)
        ours = [name for name in sys.modules if name.split(".")[0] in COPIED]
        for name in ours:
            del sys.modules[name]
        settings.register_profile("first", phases=(Phase.explicit, Phase.generate), deadline=None)
        settings.load_profile("first")  # that it fails is enough: no simpler example is looked for
        sys.path[:] = [str(folder), *(at for at in sys.path if Path(at).resolve() != ROOT)]
        os.chdir(folder)
        code = int(pytest.main(arguments))
    finally:
        os._exit(code)
