"""What holds for every test of the window."""

import gc
from collections.abc import Iterator

import pytest

from app import session
from tests.app.known_cars import KnownCars

TESTS_A_ROUND = 20
"""Tests between two collections: as seldom as in the program, but memory does not grow."""


@pytest.fixture(autouse=True, scope="session")
def no_collecting_by_itself() -> Iterator[None]:
    """As in the program: a collection in the middle of a paint could take what is being painted."""
    gc.disable()
    yield
    gc.enable()


def pytest_runtest_teardown(item: pytest.Item) -> None:
    """Collect between tests, when nothing is being painted."""
    number = item.session.items.index(item)
    if number % TESTS_A_ROUND == TESTS_A_ROUND - 1:
        gc.collect()


@pytest.fixture(autouse=True, scope="session")
def cars_known_once() -> Iterator[None]:
    """Tests open the same cars again and again: each is read and assessed once."""
    known = KnownCars()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(session, "read_project", known.read)
        patch.setattr(session, "assess_all", known.assess)
        yield
