"""The bytes of a file: canonical, stable, and refused in one sentence where they do not hold."""

import json
import re
from pathlib import Path
from typing import Self

import msgspec
import pytest

from core.document.base import Because, Fact, Ref, Vec3
from core.document.codec import (
    LARGEST_FILE,
    MOST_LAYERS,
    decode_project,
    encode_project,
    wanted_meshes,
)
from core.document.errors import FileRefusedError
from core.document.power import MeshRef
from core.document.project import Change, Document, Layer, Project, empty_project
from core.document.steel import Point
from tests.core.document.losses import losses
from tests.core.document.small_car import DEMO, SECOND, SMALL, changed, small_project

FILES = (SMALL, DEMO, SECOND)
DATA = SMALL.read_bytes()
TEXT = DATA.decode()


def refusal(data: bytes | str) -> str:
    with pytest.raises(FileRefusedError) as caught:
        decode_project(data.encode() if isinstance(data, str) else data)
    return str(caught.value)


class BigNumber(str):
    """A number kept as it was spelt; `json` writes it as a text between two signs."""

    __slots__ = ()

    def __new__(cls, spelt: str) -> Self:
        return super().__new__(cls, f"\u2116{spelt}\u2116")


def line_with(words: str, text: str = TEXT) -> int:
    """The line of the first of some words in the text of the small car."""
    return text[: text.index(words)].count("\n") + 1


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_a_file_is_written_as_it_was_read_to_the_byte(path: Path) -> None:
    data = path.read_bytes()

    assert encode_project(decode_project(data)) == data


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_each_thing_has_a_line_of_its_own_with_its_facts_in_it(path: Path) -> None:
    lines = path.read_text("utf-8").splitlines()
    things = [line.removesuffix(",") for line in lines if line.startswith('{"kind"')]

    project = decode_project(path.read_bytes())

    around = [*project.readings, *project.layers]
    drawn = [getattr(project.drawn, field) for field in Document.__struct_fields__[1:]]
    assert sorted(json.loads(line)["id"] for line in things) == sorted(
        thing.id for thing in (*around, *(one for kind in drawn for one in kind))
    )


def test_one_edit_of_one_thing_changes_one_line() -> None:
    project = small_project()
    moved = changed(project.drawn, "point4", at=Vec3(-1500.0, 0.0, 905.0))

    before = encode_project(project).splitlines()
    after = encode_project(msgspec.structs.replace(project, drawn=moved)).splitlines()

    assert [a for a, b in zip(after, before, strict=True) if a != b] == [
        before[line_with('"point4"') - 1].replace(b"900.0", b"905.0")
    ]


def test_an_empty_project_is_a_file() -> None:
    project = empty_project("Heron «one» \U0001f6de")

    assert decode_project(encode_project(project)) == project
    assert decode_project(encode_project(Project())) == Project()


def test_values_equal_to_their_default_but_written_out_are_read_and_kept() -> None:
    text = TEXT.replace('"name":"ridge"', '"name":"ridge","carrier":"chassis","pair":false')

    saved = encode_project(decode_project(text.encode()))

    assert saved == DATA
    assert losses(text, saved.decode()) == []


def test_a_file_laid_out_by_hand_loads_and_then_stays_as_it_is() -> None:
    text = json.dumps(json.loads(TEXT), indent=2, ensure_ascii=False)
    by_hand = text.replace(": 30.0", ": 30").replace("\n", "\r\n")

    saved = encode_project(decode_project(b"\xef\xbb\xbf" + by_hand.encode()))

    assert saved == DATA
    assert losses(by_hand, saved.decode()) == []


def test_what_losses_finds_is_what_a_careless_reader_would_lose() -> None:
    """The measure of the tests on damaged files does see a loss."""
    assert losses(TEXT, TEXT.replace(',"role":"roll hoop"', "")) == ["$.drawn.tubes[1].role"]
    assert losses(TEXT, TEXT.replace("905", "906").replace(",900.0]", ",901.0]")) != []
    assert losses(TEXT, TEXT.replace('"pair":true', '"pair":1')) != []
    assert losses(TEXT.replace('"id":"point4"', '"id":"point4","pair":false'), TEXT) == []
    assert losses(TEXT.replace('"id":"point4"', '"id":"point4","carrier":"unit"'), TEXT) != []


REPLACED: list[tuple[str, str, str, str]] = [
    # words in the file, what they become, path in the sentence, the sentence
    ('"outside":30.0', '"outside":"30"', "$.drawn.sections[0].outside", "Expected `float`, got"),
    ('"outside":30.0', '"outside":null', "$.drawn.sections[0].outside", "Expected `float`, got"),
    ('"outside":30.0', '"outside":1e999', "$.drawn.sections[0].outside", "out of range"),
    ('"outside":30.0', '"outside":1e308', "$.drawn.sections[0]", "beyond 1,000,000,000 either"),
    ('"outside":30.0', '"outside":' + "9" * 5000, "$.drawn.sections[0].outside", "out of range"),
    ('"outside":30.0,', "", "$.drawn.sections[0]", "missing required field `outside`"),
    ('"outside":30.0', '"Outside":30.0', "$.drawn.sections[0]", "unknown field `Outside`"),
    ('"wall":2.0', '"wall":15', "$.drawn.sections[0]", "leaves no bore in 30"),
    ('"stud_count":4', '"stud_count":4.0', "$.drawn.hubs[0].stud_count", "Expected `int"),
    ('"stud_count":4', '"stud_count":18446744073709551616', "$.drawn.hubs[0]", "beyond 1,000,"),
    ('"id":"tube3"', '"id":"point33"', "$.drawn.tubes[2]", "must be tube1 or the like"),
    ('"id":"tube3"', '"id":"tube2"', "$.drawn.tubes[2].id", "two things have the id tube2"),
    ('"id":"tube3"', '"id":"tube"', "$.drawn.tubes[2].id", "the id tube needs a number"),
    ('"name":"cross"', '"name":"\\u0000"', "$.drawn.tubes[2]", "1 to 80 printable characters"),
    ('"name":"cross"', '"name":"hoop"', "$.drawn.tubes[2].name", "two things of one kind"),
    ('"start":["point5","left"]', '"start":["point5"]', "$.drawn.tubes[2].start", "which side"),
    ('"start":["point5","left"]', '"start":["point5","up"]', "$.drawn.tubes[2].start[1]", "enum"),
    ('"start":["point5","left"]', '"start":["x"]', "$.drawn.tubes[2].start", "x, which is not"),
    ('"through":[["point4","one"]]', '"through":[["rack1"]]', "$.drawn.tubes[2].through[0]",
     "not a point"),
    ('"next_number":40', '"next_number":30', "$.drawn.next_number", "above the number in every"),
    ('"next_number":40', '"next_number":0', "$.drawn", "`next_number` must be 1 to 1000000000"),
    ('"next_number":40', '"next_number":4e1', "$.drawn.next_number", "Expected `int`"),
    ('"value":22.0', '"value":[22]', "$.drawn.corners[0]", "Expected `float"),
    ('"of":"links.toe.outside","value"', '"of":"links.x.outside","value"',
     "$.drawn.corners[0].right", "right side: there is no «x» in this list"),
    ('"of":"at.z","side"', '"of":"at.w","side"', "$.drawn.points[0]", "no value «at.w» in a point"),
    ('"readings":[["reading1","one"]]', '"readings":[["reading7"]]', "$.drawn.points[0].facts[1]",
     "no reading reading7"),
    ('"of":"mass_kg","value":150.0', '"of":"mass_kg","value":true', "$.layers[0].changes[1]",
     "Expected `float | null`, got `bool`"),
    ('"removed":["service_zone1"]', '"removed":["tube1"]', "$.layers[0]", "laid over it: "),
    ('"what":"height"', '"what":"depth"', "$.readings[1].what", "Invalid enum value 'depth'"),
    ('"version":2', '"version":3', "", "of a newer version, and this program reads version 1 to 2"),
    ('"version":2', '"version":-1', "", "an unknown version"),
    ('"version":2', '"version":"2"', "$.version", "this is not a jigplate project: Expected `int`"),
    ('"jigplate project"', '"other\\n"', "", "this says it is a «other », not a jigplate project"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "path", "words"), REPLACED)
def test_a_value_that_does_not_hold_is_told_with_its_line_and_path(
    old: str, new: str, path: str, words: str
) -> None:
    assert TEXT.count(old) >= 1

    told = refusal(TEXT.replace(old, new, 1))

    assert words in told
    assert told.startswith(
        f"line {line_with(old)}, {path}: " if path else f"line {line_with(old)}: "
    )
    assert told.isprintable()


@pytest.mark.parametrize(("old", "new", "path", "words"), [row for row in REPLACED if row[2]])
def test_the_line_is_right_in_a_file_that_an_editor_laid_out(
    old: str, new: str, path: str, words: str
) -> None:
    """One value a line: the line told is that of the value, or of what the path leads to."""
    plain = json.loads(TEXT.replace(old, new, 1), parse_int=BigNumber, parse_float=BigNumber)
    spelt = json.dumps(plain, indent=1, ensure_ascii=False)
    laid_out = spelt.replace('"\u2116', "").replace('\u2116"', "")

    told = refusal(laid_out)

    found = re.match(r"line (\d+), (\$[^:]*): ", told)
    assert found is not None
    assert (found[2], words in told) == (path, True)
    steps = re.findall(r"[a-z_]+|\d+", path)
    line = laid_out.split("\n")[int(found[1]) - 1]
    assert len(line) - len(line.lstrip()) == len(steps)
    assert steps[-1].isdecimal() or f'"{steps[-1]}"' in line


DAMAGED: list[tuple[bytes, bytes, str]] = [
    (b'"name":"cross"', b'"name":"cr\xffoss"', "the file is damaged, or not written in UTF-8"),
    (b'"name":"cross"', b'"name":"cr\xed\xa0\x80oss"', "damaged, or not written in UTF-8"),
    (b'"name":"cross"', b'"name":"cr\x00oss"', "damaged or cut short (invalid character)"),
    (b'"name":"cross"', b'"name":"\\ud800"', "the file is damaged or cut short"),
    (b'"name":"cross"', b'"name":"\\x"', "damaged or cut short (invalid escape character"),
    (b'"name":"cross"', b'"name":cross', "damaged or cut short (invalid character)"),
    (b'"name":"cross"', b'"name":NaN', "damaged or cut short (invalid character)"),
    (b'"name":"cross"', b'"name"', "damaged or cut short (expected ':')"),
]


@pytest.mark.parametrize(("old", "new", "words"), DAMAGED)
def test_damage_is_told_with_its_line(old: bytes, new: bytes, words: str) -> None:
    told = refusal(DATA.replace(old, new, 1))

    line = line_with(old.decode())
    assert told.startswith(f"line {line}: ")
    assert words in told or "invalid escape" in told


def test_a_file_cut_short_is_told_with_its_last_line() -> None:
    cut = DATA[: DATA.index(b'"cross"')]

    assert refusal(cut).startswith(
        f"line {line_with(chr(34) + 'cross')}: the file is damaged or cut"
    )
    assert refusal(b"") == "line 1: the file is damaged or cut short (Input data was truncated)"
    assert refusal(DATA + b"x").startswith(f"line {TEXT.count(chr(10)) + 1}: the file is damaged")


@pytest.mark.parametrize("encoding", ["utf-16", "utf-32", "latin-1"])
def test_another_encoding_is_told(encoding: str) -> None:
    assert "the file is damaged" in refusal(TEXT.encode(encoding))


@pytest.mark.parametrize(
    ("old", "path"),
    [
        ('"name":"cross"', "$.drawn.tubes[2].name"),
        ('"uncertainty":0.5', "$.drawn.points[0].facts[1].uncertainty"),
        ('"distance":30.0', "$.drawn.points[11].along.distance"),
        ('"value":22.0', "$.drawn.corners[0].right[0].value"),
        ('"next_number":40', "$.drawn.next_number"),
        ('"version":2', "$.version"),
        ('"sha256":"', "$.drawn.power_units[0].mesh.sha256"),
    ],
)
def test_a_key_written_twice_is_refused_wherever_the_second_stands(old: str, path: str) -> None:
    """The second stands on a line of its own, far from the first line that holds the key."""
    full = old if not old.endswith(':"') else old + "0" * 63 + 'a"'
    text = TEXT.replace(full, f"{full},\n{full}", 1)

    line = line_with(full, TEXT) + 1
    words = "this is written twice in one thing; remove one of them"
    assert refusal(text) == f"line {line}, {path}: {words}"


def test_a_key_written_twice_with_an_escape_is_refused() -> None:
    text = TEXT.replace('"name":"cross"', '"name":"cross","n\\u0061me":"other"', 1)

    assert refusal(text).startswith(f"line {line_with('cross')}, $.drawn.tubes[2].name: this is")


def test_a_key_written_twice_is_told_even_where_the_second_does_not_fit() -> None:
    text = TEXT.replace('"name":"cross"', '"name":"cross",\n"name":7', 1)

    line = line_with('"cross"') + 1
    assert refusal(text).startswith(f"line {line}, $.drawn.tubes[2].name: this is written twice")


@pytest.mark.parametrize("depth", [200, 900, 5000, 500_000])
@pytest.mark.parametrize("value", ["[{}]", '{{"a":{}}}'])
@pytest.mark.parametrize("old", ['"value":22.0', '"value":150.0', '"x":0.0', '"note":"on the'])
def test_what_is_nested_deep_is_refused_and_not_followed(depth: int, value: str, old: str) -> None:
    opening, closing = (
        value.split("{}", maxsplit=1)[0].replace("{{", "{"),
        value.split("{}")[1].replace("}}", "}"),
    )
    key = old.split(":", maxsplit=1)[0]
    deep = f"{key}:{opening * depth}0{closing * depth}"

    told = refusal(TEXT.replace(old, f"{deep},{old}" if old.startswith('"note') else deep, 1))

    assert "nested too deep" in told or "Expected `" in told or "is written twice" in told


def test_a_file_that_is_too_large_is_refused_unread() -> None:
    assert (
        refusal(b" " * (LARGEST_FILE + 1))
        == "this is larger than 4 MB, so it is no jigplate project"
    )


def test_more_layers_than_anyone_lays_are_refused() -> None:
    layers = tuple(Layer(id=f"layer{n}", name=f"L{n}") for n in range(1, MOST_LAYERS + 2))
    project = Project(drawn=Document(next_number=10_000), layers=layers)

    assert "a project has at most 30 layers" in refusal(encode_project(project))


def test_a_sentence_holds_nothing_that_a_line_cannot_show_and_no_more_than_it_can() -> None:
    told = refusal(TEXT.replace('"name":"cross"', '"na\\nme' + "long" * 100_000 + '":"cross"', 1))

    assert told.isprintable()
    assert len(told) < 400


def test_a_fault_of_two_things_of_one_id_is_told_of_the_second() -> None:
    lines = TEXT.split("\n")
    number = line_with('"point4"')
    text = "\n".join([*lines[:number], lines[number - 1], *lines[number:]])

    assert (
        refusal(text) == f"line {number + 1}, $.drawn.points[4].id: two things have the id point4"
    )


def test_every_mesh_of_the_car_and_of_its_layers_is_wanted() -> None:
    names = ["0" * 63 + digit for digit in "abc"]
    unit = small_project().drawn.power_units[0]
    other = msgspec.structs.replace(unit, mesh=MeshRef(sha256=names[1]))
    changes = (
        Change(id="power_unit1", of="mesh", value=MeshRef(sha256=names[2])),
        Change(id="power_unit1", of="mesh.sha256", value="f" * 64),
    )
    project = msgspec.structs.replace(
        small_project(),
        layers=(
            Layer(id="layer1", name="a", put=(other,)),
            Layer(id="layer2", name="b", changes=changes),
        ),
    )

    assert wanted_meshes(project) == [*names, "f" * 64]
    assert decode_project(encode_project(project)) == project


def test_numbers_given_whole_are_written_as_they_are_read() -> None:
    fact = Fact(of="at", uncertainty=1, because=(Because(ref=Ref("point1")),))
    point = Point(id="point1", name="K", at=Vec3(1, 2, 3), facts=(fact,))
    project = Project(drawn=Document(next_number=2, points=(point,)))

    data = encode_project(project)

    assert b'"at":[1.0,2.0,3.0]' in data
    assert encode_project(decode_project(data)) == data
