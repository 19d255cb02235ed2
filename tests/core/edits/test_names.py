"""Names that edits give to what they make."""

import pytest

from core.document.base import LONGEST_NAME
from core.edits.names import free_name, name_of_copy


def test_a_free_name_is_the_wanted_one_or_has_the_next_number() -> None:
    assert free_name((), "tube") == "tube"
    assert free_name(("tube", "tube 2"), "tube") == "tube 3"


@pytest.mark.parametrize(
    ("taken", "name", "copy"),
    [
        (("strut",), "strut", "strut 2"),
        (("strut", "strut 2"), "strut 2", "strut 3"),
        (("strut 4",), "strut 4", "strut 2"),
        (("2",), "2", "2 2"),
        (("K_L",), "K_L", "K_L 2"),
    ],
)
def test_a_copy_counts_on_and_does_not_pile_numbers_up(
    taken: tuple[str, ...], name: str, copy: str
) -> None:
    assert name_of_copy(taken, name) == copy


def test_the_name_of_a_copy_is_never_too_long() -> None:
    name = "x" * LONGEST_NAME

    assert len(name_of_copy((name,), name)) <= LONGEST_NAME
