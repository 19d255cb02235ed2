import pytest

from core.document.base import LONGEST_NAME, Ref
from core.document.rules import check_document
from core.edits.names import free_name
from core.edits.notes import change_note, write_note
from core.edits.refusals import EditRefusedError
from tests.core.edits.cars import TubeCar


@pytest.fixture
def car() -> TubeCar:
    return TubeCar()


def test_a_note_is_called_by_its_first_words(car: TubeCar) -> None:
    document, note = write_note(car.document, "  the stay\nclears the pump ", (car.tie,))

    assert (note.name, note.text) == ("the stay clears the pump", "the stay\nclears the pump")
    assert note.about == (car.tie,)
    assert check_document(document) == []


def test_a_long_note_has_a_short_name_and_two_alike_have_two(car: TubeCar) -> None:
    document, first = write_note(car.document, "w" * 200)
    document, second = write_note(document, "w" * 200)
    document, third = write_note(document, "other", name="w")

    assert first.text == second.text == "w" * 200
    assert first.name == "w" * LONGEST_NAME
    assert second.name == "w" * (LONGEST_NAME - 2) + " 2"
    assert third.name == "w"


def test_a_note_can_be_written_anew(car: TubeCar) -> None:
    document, note = write_note(car.document, "one")

    changed = change_note(document, note.id, "two")

    assert changed.notes[0].text == "two"
    assert change_note(changed, note.id, " two ") is changed


def test_an_empty_note_is_refused(car: TubeCar) -> None:
    document, note = write_note(car.document, "one")

    for edit in (lambda: write_note(document, " \n"), lambda: change_note(document, note.id, " ")):
        with pytest.raises(EditRefusedError, match="empty"):
            edit()
    with pytest.raises(EditRefusedError, match="tie is no note"):
        change_note(document, car.tie.id, "two")
    with pytest.raises(EditRefusedError, match="tube99"):
        write_note(document, "about nothing", (Ref("tube99"),))


def test_a_free_name_is_the_wanted_one_if_it_can_be() -> None:
    assert free_name(["a", "b 2"], "b") == "b"
    assert free_name(["b", "b 2"], "b") == "b 3"
    assert free_name(["x" * LONGEST_NAME], "x" * 300) == "x" * (LONGEST_NAME - 2) + " 2"
