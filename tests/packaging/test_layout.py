"""What is imported is what lies here, and no folder hides a library."""

from pathlib import Path

import app
import core
import packaging

REPOSITORY = Path(__file__).resolve().parents[2]


def test_core_is_the_one_in_this_repository() -> None:
    assert Path(core.__file__).resolve() == REPOSITORY / "core" / "__init__.py"


def test_app_is_the_one_in_this_repository() -> None:
    assert Path(app.__file__).resolve() == REPOSITORY / "app" / "__init__.py"


def test_the_folder_packaging_is_not_a_package() -> None:
    assert not (REPOSITORY / "packaging" / "__init__.py").exists()


def test_the_library_named_packaging_is_not_hidden_by_the_folder() -> None:
    assert packaging.__file__ is not None
    assert Path(packaging.__file__).resolve().parent != REPOSITORY / "packaging"


def test_no_folder_of_tests_is_a_package() -> None:
    assert list((REPOSITORY / "tests").rglob("__init__.py")) == []
