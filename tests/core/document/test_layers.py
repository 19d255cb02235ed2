import msgspec
import pytest

from core.document.base import Vec3
from core.document.layers import add_thing, lay, replace_thing, without_things
from core.document.lookup import Lookup, entities
from core.document.power import MeshRef, PowerUnit
from core.document.project import Change, Layer
from core.document.records import Note
from core.document.sides import on_side
from core.document.steel import Point, Tube
from tests.core.document.small_car import left, small_car, small_project, thing

CAR = small_car()
LAYER = small_project().layers[0]


def layer(**fields: object) -> Layer:
    return Layer(**({"id": "layer9", "name": "trial"} | fields))  # type: ignore[arg-type]


def test_a_laid_layer_changes_puts_and_removes() -> None:
    laid = lay(CAR, LAYER)

    assert on_side(thing(laid, Point, "point1"), "right").at == Vec3(-1510.0, -400.0, 302.5)
    assert thing(laid, Point, "point1").at == Vec3(-1510.0, 400.0, 300.0)
    assert thing(laid, PowerUnit, "power_unit1").mass_kg == 150.0
    assert thing(laid, Tube, "tube3").start == left("point2")
    assert thing(laid, Note, "note30").text == "put by a layer"
    assert laid.service_zones == ()


def test_what_a_layer_leaves_alone_is_shared() -> None:
    laid = lay(CAR, LAYER)

    assert lay(CAR, layer()) is CAR
    assert laid.corners is CAR.corners
    assert laid.tubes[0] is CAR.tubes[0]
    assert [t.id for t in entities(laid)] == [
        *(t.id for t in entities(CAR) if t.id != "service_zone1"), "note30",
    ]  # fmt: skip


def test_a_thing_put_in_place_of_another_takes_its_place() -> None:
    other = msgspec.structs.replace(CAR.tubes[1], role="door bar")

    laid = lay(CAR, layer(put=(other,)))

    assert laid.tubes == (CAR.tubes[0], other, CAR.tubes[2])


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"removed": ("tube9",)}, "it removes tube9, which is not there"),
        ({"changes": (Change(id="tube9", of="role", value="x"),)}, "it changes tube9, which is"),
        ({"changes": (Change(id="tube1", of="role", value="x"),)}, "a pair, so say left or right"),
        ({"changes": (Change(id="tube3", side="left", of="role", value="x"),)}, "say no side"),
        ({"changes": (Change(id="tube3", of="bends.0.radius", value=1.0),)}, "no «0» in this list"),
        (
            {"changes": (Change(id="tube3", of="end", value=["point5", "left"]),)},
            "ends at the joint it starts from",
        ),
    ],
)
def test_a_layer_that_cannot_be_laid_says_why(fields: dict[str, object], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        lay(CAR, layer(**fields))


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"removed": ("tube1", "tube1")}, "two entries, put or removed, have the same name"),
        ({"removed": ("note1",), "put": CAR.notes}, "two entries, put or removed, have the same"),
        ({"changes": (Change(id="tube1", of="role", value="x"),) * 2}, "two changes have the same"),
        ({"pair": True}, "trial is a layer, of which there is no left and right one"),
    ],
)
def test_a_layer_that_says_a_thing_twice_is_refused(fields: dict[str, object], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        layer(**fields)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"id": "moon1", "of": "at", "value": None}, "«moon1» is no id of a thing in a car"),
        ({"id": "layer1", "of": "purpose", "value": "x"}, "«layer1» is no id of a thing"),
        ({"id": "tube1", "of": "at", "value": None}, "there is no value «at» in a tube"),
        ({"id": "tube1", "of": "name", "value": "x"}, "there is no value «name» in a tube"),
        ({"id": "tube1", "of": "removable", "value": 1}, "Expected `bool`, got `int`"),
        ({"id": "point1", "of": "at.x", "value": 1e300}, "is not a finite number, or beyond"),
    ],
)
def test_a_change_of_what_no_thing_has_is_refused(fields: dict[str, str], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        Change(**fields)  # type: ignore[arg-type]


def test_a_change_has_the_type_of_its_field_so_that_it_is_written_as_it_was_read() -> None:
    at = Change(id="point1", side="left", of="at", value=[1, 2, 3])
    mesh = Change(id="power_unit1", of="mesh", value={"sha256": "0" * 64})

    assert at.value == Vec3(1.0, 2.0, 3.0)
    assert type(at.value) is Vec3
    assert mesh.value == MeshRef(sha256="0" * 64)


def test_things_are_added_replaced_and_taken_out_and_all_else_is_shared() -> None:
    note = Note(id="note2", name="second", text="more")

    more = add_thing(CAR, note)
    other = replace_thing(more, msgspec.structs.replace(note, text="other"))

    assert more.notes == (*CAR.notes, note)
    assert Lookup(other).by_id["note2"] == Note(id="note2", name="second", text="other")
    assert other.points is CAR.points
    assert without_things(more, frozenset({"note2"})) == CAR


def test_a_layer_moves_the_right_side_alone_where_it_is_set_free() -> None:
    change = Change(id="point12", side="right", of="at.z", value=650.0)

    laid = lay(CAR, layer(changes=(change,)))

    assert on_side(thing(laid, Point, "point12"), "right").at == Vec3(-1400.0, -260.0, 650.0)
    assert thing(laid, Point, "point12").along == thing(CAR, Point, "point12").along
