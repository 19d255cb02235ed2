import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.document.base import (
    Axes,
    Box,
    Entity,
    Fact,
    Own,
    Ref,
    Vec3,
    kind_name,
    number_of,
    word_of,
)
from core.document.power import Outputs
from core.document.project import KINDS, Layer
from core.document.records import Car, Reading
from core.document.running_gear import DriveShaft
from core.document.steel import Along, Point
from tests.core.document.small_car import left

AT = Vec3(1.0, 2.0, 3.0)


def point(**fields: object) -> Point:
    return Point(**({"id": "point1", "name": "K", "at": AT} | fields))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "thing_id",
    ["", "point0", "point01", "Point1", "point-1", "point1 ", "point1\n", "p", "tube1", "points1",
     "point1.5", "point\u0661", "point9999999999", "pöint1", "point" + "9" * 5000],
)  # fmt: skip
def test_an_id_that_is_not_its_kind_and_a_number_is_refused(thing_id: str) -> None:
    with pytest.raises(ValueError, match=r"(?s)the id «.{0,80}» of a point must be point1"):
        point(id=thing_id)


def test_an_id_tells_its_kind_and_its_number() -> None:
    assert (word_of("power_unit12"), number_of("power_unit12")) == ("power_unit", 12)
    assert (word_of("car"), number_of("car")) == ("car", None)
    assert (word_of("12"), number_of("12")) == (None, None)


@pytest.mark.parametrize("name", ["", "  ", "a\nb", "\x00", "\ud800", "\u202e", "n" * 81])
def test_a_name_that_cannot_be_shown_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match="the name of point1 must be 1 to 80 printable characters"):
        point(name=name)


EVERY: list[type[Entity]] = [*KINDS.values(), Layer, Reading]
SINGLE = [kind for kind in EVERY if not kind.may_be_pair]


@pytest.mark.parametrize("kind", SINGLE, ids=kind_name)
def test_a_pair_of_what_has_no_sides_is_refused_in_words(kind: type[Entity]) -> None:
    needed = {"id": f"{kind_name(kind)}1", "name": "it", "pair": True}

    with pytest.raises(ValueError, match="it is a .*, of which there is no left and right one"):
        kind(**(_anything(kind) | needed))  # type: ignore[arg-type]


def _anything(kind: type[Entity]) -> dict[str, object]:
    """A value for every field that needs one; the pair is refused before they are looked at."""
    nothing: dict[str, object] = {field: None for field in kind.__struct_fields__}  # noqa: C420
    return nothing | {"right": (), "facts": ()}


def test_car_unit_axle_rack_datum_and_limit_are_no_pairs() -> None:
    assert {kind_name(kind) for kind in SINGLE} >= {
        "car", "power_unit", "axle", "rack", "datum", "limit", "layer", "reading", "shell",
    }  # fmt: skip


def test_a_single_thing_has_no_right_side_of_its_own() -> None:
    with pytest.raises(ValueError, match="K is not a pair, so nothing on it can be the right"):
        point(right=(Own(of="at.x", value=1.0),))


@pytest.mark.parametrize("path", ["id", "name", "pair", "right", "facts", "note", "name.x"])
def test_what_identifies_a_thing_has_neither_own_value_nor_fact(path: str) -> None:
    with pytest.raises(ValueError, match="there is no value «.*» in a point"):
        point(pair=True, right=(Own(of=path, value="x"),))
    with pytest.raises(ValueError, match="there is no value «.*» in a point"):
        point(facts=(Fact(of=path),))


@pytest.mark.parametrize("path", ["nowhere", "at.w", "at.x.y", "at..x", ".", "at.", "joint.on.x"])
def test_a_path_that_a_kind_has_not_got_is_refused(path: str) -> None:
    with pytest.raises(ValueError, match="there is no value «.*» in a point"):
        point(facts=(Fact(of=path),))


@pytest.mark.parametrize(
    ("first", "second"), [("at", "at"), ("at", "at.y"), ("at.y", "at"), ("joint.width", "joint")]
)
def test_an_own_value_inside_another_is_refused(first: str, second: str) -> None:
    own = {"at": AT, "at.y": 1.0, "joint": None, "joint.width": 5.0}

    with pytest.raises(ValueError, match="K says «.*» of its right side twice"):
        point(pair=True, right=tuple(Own(of=of, value=own[of]) for of in (first, second)))


def test_an_own_value_of_everything_is_refused() -> None:
    with pytest.raises(ValueError, match="this names no single value"):
        point(pair=True, right=(Own(of="", value=1.0),))


@pytest.mark.parametrize(
    ("path", "value", "typed"),
    [
        ("at", [1, 2, 3], Vec3(1.0, 2.0, 3.0)),
        ("at.x", 7, 7.0),
        ("along", {"tube": ["tube1"], "distance": 5}, Along(tube=Ref("tube1"), distance=5.0)),
        ("along.tube", ["tube1"], Ref("tube1")),
        ("carrier", "upright", "upright"),
        ("at", None, None),
    ],
)  # fmt: skip
def test_an_own_value_gets_the_type_of_its_field(path: str, value: object, typed: object) -> None:
    found = point(pair=True, right=(Own(of=path, value=value),)).right[0].value

    assert found == typed
    assert type(found) is type(typed)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("at", [1.0, 2.0]), ("at", "here"), ("at.x", "1"), ("at.x", True), ("at.x", 10**400),
        ("at.x", 1e308), ("at", [1e300, 0.0, 0.0]), ("carrier", "moon"), ("along", {"tube": ["t"]}),
        ("along", {"tube": ["tube1"], "distance": -1.0}), ("joint", {"unknown": 1}), ("at.x", None),
        ("along.tube", ["tube1", "left", 3]), ("at.x", object()), ("carrier", "\ud800"),
    ],
)  # fmt: skip
def test_an_own_value_that_does_not_fit_its_field_is_refused(path: str, value: object) -> None:
    with pytest.raises(ValueError, match=r".+"):
        point(pair=True, right=(Own(of=path, value=value),))


def test_two_facts_about_one_value_of_one_side_are_refused() -> None:
    sides = (Fact(of="at", side="left"), Fact(of="at", side="right"), Fact(of="at"))

    assert point(pair=True, facts=sides).facts == sides
    with pytest.raises(ValueError, match="K has two facts about one value"):
        point(facts=(Fact(of="at"), Fact(of="at", source="measured")))


def test_more_facts_than_anyone_states_of_one_thing_are_refused() -> None:
    with pytest.raises(ValueError, match="K has more than 1000 facts"):
        point(facts=tuple(Fact(of="at", how=str(number)) for number in range(1001)))


def test_a_fact_about_a_side_of_a_single_thing_is_refused() -> None:
    with pytest.raises(ValueError, match="K is a single thing, so no fact is about its left side"):
        point(facts=(Fact(of="at", side="left"),))


def test_a_fact_is_refused_that_contradicts_itself() -> None:
    with pytest.raises(ValueError, match="«at» is both held and set free; keep one"):
        Fact(of="at", held="welded", free=True)
    with pytest.raises(ValueError, match="«all of it»: `tolerance` must not be below zero"):
        Fact(tolerance=-0.1)


def test_axes_are_square_and_right_handed() -> None:
    with pytest.raises(ValueError, match="unit directions at right angles"):
        Axes(x=Vec3(0.0, 0.0, 0.0), y=Vec3(0.0, 0.0, 0.0), z=Vec3(0.0, 0.0, 0.0))
    with pytest.raises(ValueError, match="unit directions at right angles"):
        Axes(x=Vec3(2.0, 0.0, 0.0))
    with pytest.raises(ValueError, match="left-handed"):
        Axes(z=Vec3(0.0, 0.0, -1.0))


def test_a_box_has_an_inside_and_outputs_are_two() -> None:
    with pytest.raises(ValueError, match="low corner below its high corner"):
        Box(low=AT, high=AT)
    with pytest.raises(ValueError, match="the left and the right output are in one place"):
        Outputs(left=AT, right=AT)


def test_a_reference_reads_as_id_and_side_and_mirrors() -> None:
    assert [str(Ref("tube1")), str(left("tube1"))] == ["tube1", "tube1:left"]
    assert left("tube1").mirrored() == Ref("tube1", "right")
    assert Ref("car").mirrored() == Ref("car")


@given(st.text(max_size=20))
def test_any_text_is_an_id_of_a_point_or_refused_in_a_sentence(text: str) -> None:
    try:
        made = point(id=text)
    except ValueError as error:
        assert "must be point1 or the like" in str(error)  # noqa: PT017 - either is right
    else:
        assert word_of(made.id) == "point"


def test_the_car_and_shafts_may_be_made_by_their_fields() -> None:
    assert Car(id="car", name="Invented").pair is False
    with pytest.raises(ValueError, match="the id «car» of a drive shaft must be drive_shaft1"):
        DriveShaft(id="car", name="x", corner=left("corner1"), unit=Ref("power_unit1"))
