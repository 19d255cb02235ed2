"""An assessment as plain data: complete, finite, and true to the table it is made from."""

import json
from dataclasses import dataclass
from typing import Any, cast

import msgspec
import numpy as np
import pytest

from core.checks.rules import assess_all
from core.document.base import Ref, Vec3
from core.document.codec import read_project
from core.document.lookup import Lookup
from core.engine.address import Address, value_of
from core.engine.assess import Assessment, NotYet, NoValue
from core.engine.cells import CellKey
from core.engine.view import FieldKey
from core.workshop.figures import figures
from core.workshop.plain import assessment_as_plain, json_bytes
from core.workshop.plain_values import NotPlainError, plain
from tests.app.cars import SECOND, tubes_only


@pytest.fixture(scope="module")
def second() -> Assessment:
    return assess_all(read_project(SECOND).drawn, {}, also=(figures,))


@pytest.fixture(scope="module")
def whole(second: Assessment) -> dict[str, Any]:
    return cast("dict[str, Any]", assessment_as_plain(second, "test", everything=True))


def test_values_become_numbers_texts_lists_and_mappings() -> None:
    @dataclass(frozen=True)
    class Pair:
        place: Vec3
        count: int

        @property
        def double(self) -> int:
            return 2 * self.count

    value = (Pair(Vec3(1.0, -0.0, 3.0), 2), Ref("tube1", "left"), np.eye(2), np.float64(0.5), None)
    assert plain(value) == [
        {"place": [1.0, 0.0, 3.0], "count": 2, "double": 4},
        "tube1:left",
        [[1.0, 0.0], [0.0, 1.0]],
        0.5,
        None,
    ]


def test_what_has_no_value_says_why() -> None:
    assert plain(NoValue("there is no tube")) == {"unknown": "there is no tube"}
    assert plain(NotYet()) == {"unknown": "not computed yet"}


def test_numbers_that_json_has_none_of_are_told_in_words() -> None:
    assert plain((float("inf"), float("nan"))) == ["not finite: inf", "not finite: nan"]


def test_trees_are_left_out_and_never_written_as_something_else() -> None:
    @dataclass(frozen=True)
    class Body:
        name: str
        tree: object

    assert plain(Body("block", object())) == {"name": "block"}
    with pytest.raises(NotPlainError):
        plain(object())


def test_no_cell_is_missing_and_no_two_share_a_place(
    second: Assessment, whole: dict[str, Any]
) -> None:
    reads = [of for room in whole["rooms"].values() for of in room["reads"].values()]
    assert sum(len(subjects) for subjects in reads) == len(second.entries)


def test_every_read_of_a_value_is_an_address_that_leads_to_it(
    second: Assessment, whole: dict[str, Any]
) -> None:
    lookup = Lookup(second.document)
    for key, entry in second.entries.items():
        for read, value in entry.reads:
            if isinstance(read, FieldKey):
                assert value_of(lookup, Address(read.ref, read.path)) == value, key
    radii = whole["rooms"]["places"]["reads"]["tube_radius"]
    assert radii
    assert all(reads[-1].endswith(".outside") for reads in radii.values())


def test_values_are_those_of_the_table(second: Assessment, whole: dict[str, Any]) -> None:
    lookup = Lookup(second.document)
    places = whole["rooms"]["places"]["figures"]["place"]
    found = {key: e.value for key, e in second.entries.items() if key.cell.name == "place"}
    assert len(places) == len(found) > 0
    for key, value in found.items():
        assert places[lookup.label(key.args[0])] == pytest.approx(list(value))


def test_things_of_one_name_are_told_apart_by_their_addresses() -> None:
    drawn = tubes_only()
    twins = tuple(msgspec.structs.replace(tube, name="same") for tube in drawn.tubes)
    table = assess_all(msgspec.structs.replace(drawn, tubes=twins), {}, also=(figures,))
    found = cast("dict[str, Any]", assessment_as_plain(table, "test", everything=True))
    shapes = found["rooms"]["places"]["figures"]["tube_shape"]
    assert sorted(shapes) == ["same (tube1)", "same (tube2)", "same (tube3)"]


def test_the_bytes_are_utf_8_json_and_always_the_same(second: Assessment) -> None:
    written = [json_bytes(assessment_as_plain(second, "test")) for _ in range(2)]
    assert written[0] == written[1]
    assert json.loads(written[0])["program"] == "test"


def test_a_cell_of_a_rule_is_given_as_findings_alone(
    second: Assessment, whole: dict[str, Any]
) -> None:
    rule = second.rules[0]
    room = whole["rooms"][rule.room]
    assert rule.cell.name not in room["figures"]
    assert rule.cell.name in room["reads"]
    assert CellKey(rule.cell, ()) in second.entries
