"""Each named mutation of the source is noticed by at least one test that names it."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.mutations.mutations import MUTATIONS, Mutation

ROOT = Path(__file__).parents[2]
COPIED = ("app", "core", "packaging", "tests", "assets")
FAILED = 1  # pytest: tests were run and some failed


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the repository to be damaged."""
    folder = tmp_path_factory.mktemp("mutated")
    for name in COPIED:
        ignored = shutil.ignore_patterns("__pycache__", ".mypy_cache", "*.previous")
        shutil.copytree(ROOT / name, folder / name, ignore=ignored)
    shutil.copy(ROOT / "pyproject.toml", folder)
    return folder


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda m: m.name)
def test_mutation_is_noticed(mutation: Mutation, copy: Path) -> None:
    file = copy / mutation.file
    source = file.read_text(encoding="utf-8")
    assert source.count(mutation.old) == 1, "the mutated line is not where it was"
    file.write_text(source.replace(mutation.old, mutation.new), encoding="utf-8")

    try:
        assert run_tests(copy, mutation.tests) == FAILED
    finally:
        file.write_text(source, encoding="utf-8")


def run_tests(folder: Path, tests: tuple[str, ...]) -> int:
    """Exit code of pytest on some tests of a copy of the repository."""
    env = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1", "PYTHONPATH": str(folder)}
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests]
    return subprocess.run(command, cwd=folder, env=env, capture_output=True, check=False).returncode
