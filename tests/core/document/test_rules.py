"""Each rule between things: broken by one edit of the small car, told in words."""

import msgspec
import pytest

from core.document.base import Because, Entity, Fact, Own, Ref, Vec3
from core.document.errors import BrokenRulesError, Fault
from core.document.layers import add_thing, replace_thing, without_things
from core.document.lookup import Lookup
from core.document.project import Change, Document, Layer, Project, empty_project
from core.document.records import Car, Limit, Note, Part, Reading
from core.document.rules import (
    check_change,
    check_document,
    check_project,
    check_project_change,
    checked,
)
from core.document.running_gear import Axle, Corner, DriveShaft
from core.document.steel import Along, Bracket, Point, Tube
from tests.core.document.small_car import changed, left, right, small_car, small_project, thing

CAR = small_car()
CORNER = thing(CAR, Corner, "corner1")
SHAFT = thing(CAR, DriveShaft, "drive_shaft1")


def point(number: int, **fields: object) -> Point:
    wanted = {"id": f"point{number}", "name": f"P{number}", "at": Vec3(0.0, 50.0, 0.0)} | fields
    return Point(**wanted)  # type: ignore[arg-type]


def on_tube(number: int, tube: str, **fields: object) -> Point:
    along = Along(tube=Ref(tube), distance=10.0)
    return point(number, **({"at": None, "along": along} | fields))


def single_rear_corner() -> Document:
    """The small car with one single corner at the rear, and nothing that names its sides."""
    single = changed(CAR, "corner1", pair=False, right=(), facts=())
    return changed(changed(single, "point7", carrier_of=None), "point1", facts=())


BROKEN: dict[str, tuple[Document, str]] = {
    "a tube from a joint that is gone": (
        without_things(CAR, frozenset({"point3"})),
        "side rail: `end` names point3, which is not there",
    ),
    "a joint on a tube that is gone": (
        without_things(CAR, frozenset({"tube1"})),
        "half way: `along.tube` names tube1, which is not there",
    ),
    "a joint passed that is gone": (
        changed(CAR, "tube3", through=(Ref("point30"),)),
        "cross: `through.0` names point30, which is not there",
    ),
    "a tube from a tube": (
        changed(CAR, "tube3", start=left("tube1")),
        "cross: `start` names side rail, which is a tube, not a point",
    ),
    "one of a pair, without a side": (
        changed(CAR, "tube3", start=Ref("point1")),
        "cross: `start` must say which side of K is meant, left or right",
    ),
    "a side of a single thing": (
        changed(CAR, "tube3", start=left("point4")),
        "cross: `start` names the left side of ridge, which is a single thing",
    ),
    "a rack where one of its ends is meant": (
        changed(CAR, "datum1", aside=Ref("rack1")),
        "table: `aside` must say which side of rack is meant, left or right",
    ),
    "an end of a rack where the rack is meant": (
        changed(CAR, "axle2", rack=left("rack1")),
        "front axle: `rack` names the left side of rack, which is a single thing",
    ),
    "a right side that is its own and gone": (
        changed(CAR, "tube1", right=(Own(of="end", value=right("point30")),)),
        "side rail, right side: `end` names point30, which is not there",
    ),
    "a right side that fits the left no more": (
        changed(CAR, "corner1", links=CORNER.links[:1], facts=()),
        "rear corner, right side: there is no «toe» in this list",
    ),
    "a right side that cannot be": (
        changed(CAR, "tube1", right=(Own(of="end", value=right("point1")),)),
        "side rail, right side: tube side rail ends at the joint it starts from",
    ),
    "a right side by number": (
        changed(CAR, "corner1", right=(Own(of="links.1.outside", value=22.0),)),
        "rear corner, right side: say «links.toe.outside» for «links.1.outside»",
    ),
    "a fact about nothing": (
        changed(CAR, "corner1", facts=(Fact(of="links.third.outside"),)),
        "a fact about «links.third.outside» is about nothing: there is no «third» in this list",
    ),
    "a fact by number": (
        changed(CAR, "corner1", facts=(Fact(of="links.1"),)),
        "rear corner: a fact about «links.1» must say «links.toe»",
    ),
    "a reason that is gone": (
        changed(CAR, "point4", facts=(Fact(of="at", because=(Because(ref=Ref("tube9")),)),)),
        "ridge: a fact about «at» names tube9, which is not there",
    ),
    "a pair on one single tube": (
        add_thing(CAR, on_tube(30, "tube3", pair=True)),
        "P30 is a pair on one single tube, so its right side needs its own place",
    ),
    "two ids": (add_thing(CAR, point(4)), "two things have the id point4"),
    "two names": (
        add_thing(CAR, point(30, name="ridge")),
        "two things of one kind are called «ridge»; rename one of them",
    ),
    "an id that a new thing might be given": (
        add_thing(CAR, point(40)),
        "next_number must be above the number in every id, such as point40",
    ),
    "an id without a number": (
        add_thing(CAR, Note(id="note", name="x", text="y")),
        "the id note needs a number, such as note1",
    ),
    "a second car": (add_thing(CAR, Car(id="car2", name="other")), "and this is another"),
    "a car with a number": (
        msgspec.structs.replace(CAR, cars=(Car(id="car2", name="only"),)),
        "there is one car, so its id is «car», not car2",
    ),
    "a second rear axle": (
        add_thing(CAR, Axle(id="axle3", name="other", end="rear")),
        "other is a second rear axle; the car has one at each end",
    ),
    "a second pair of corners": (
        add_thing(CAR, msgspec.structs.replace(CORNER, id="corner3", name="third")),
        "third: its axle has its two corners already",
    ),
    "a pair of shafts crossed": (
        changed(CAR, "drive_shaft1", corner=right("corner1")),
        "shaft is a pair, so its left piece goes to the left corner of an axle",
    ),
    "a pair of shafts to one corner": (
        changed(single_rear_corner(), "drive_shaft1", corner=Ref("corner1")),
        "shaft is a pair, but both its sides go to one corner; make it single",
    ),
    "a second shaft to one corner": (
        add_thing(
            CAR,
            msgspec.structs.replace(SHAFT, id="drive_shaft2", name="other", pair=False, right=()),
        ),
        "other: its corner has a shaft already",
    ),
    "a second limit of one rule": (
        add_thing(
            CAR,
            Limit(id="limit2", name="b", rule="unit_gap", value=9.0, only_for=left("tube1")),
        ),
        "b is a second limit for «unit_gap»; keep one of them",
    ),
    "a hot solid that no engine has": (
        changed(CAR, "exhaust1", unit_solids=("manifold", "turbine")),
        "exhaust calls «turbine» hot, but no engine has a solid of that name",
    ),
    "a pair of tubes that are one": (
        add_thing(
            CAR,
            Tube(
                id="tube30",
                name="twice",
                pair=True,
                section=Ref("section1"),
                start=left("point1"),
                end=right("point1"),
            ),
        ),
        "twice is a pair, but both its sides join the same joints; make it single",
    ),
    "a point carried by a wrong thing": (
        changed(CAR, "point7", carrier_of=Ref("power_unit1")),
        "lower outer is carried by the upright, so `carrier_of` must name a corner",
    ),
    "a point carried by something in the chassis": (
        changed(CAR, "point1", carrier_of=left("corner1")),
        "K is carried by the chassis, so `carrier_of` must name nothing, not a corner",
    ),
    "half a character": (
        changed(CAR, "point4", note="half \ud83d"),
        "ridge has a text with half a character in it; type that text again",
    ),
    "a tube on itself": (
        changed(add_thing(CAR, on_tube(30, "tube2")), "tube2", end=Ref("point30")),
        "hoop has a joint that is a place along itself; give it coordinates",
    ),
    "tubes round in a circle": (
        changed(
            changed(
                add_thing(add_thing(CAR, on_tube(30, "tube2")), on_tube(31, "tube3")),
                "tube2",
                end=Ref("point31"),
            ),
            "tube3",
            end=Ref("point30"),
        ),
        "hoop and cross have joints that are places along one another; give one its coordinates",
    ),
    "a bracket that carries itself": (
        changed(CAR, "bracket2", carries=Ref("bracket2")),
        "rack plate stands on itself; let it stand on the frame",
    ),
    "brackets that carry one another": (
        changed(
            changed(CAR, "bracket2", carries=left("bracket1")), "bracket1", carries=Ref("bracket2")
        ),
        "lower bracket left and rack plate carry one another; let one of them stand on the frame",
    ),
    "brackets that carry one another by what they carry": (
        changed(
            changed(CAR, "bracket1", on=Ref("mount1")),
            "bracket2",
            carries=Ref("mount1"),
            on=left("point6"),
        ),
        "carry one another; let one of them stand on the frame",
    ),
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_rule_is_told_in_words(name: str) -> None:
    document, words = BROKEN[name]

    found = [fault.words for fault in check_document(document)]

    assert any(words in fault for fault in found), found


@pytest.mark.parametrize("name", BROKEN)
def test_an_edit_that_breaks_a_rule_is_told_as_the_whole_document_would_be(name: str) -> None:
    document, words = BROKEN[name]

    found = [fault.words for fault in check_change(CAR, document)]

    assert any(words in fault for fault in found), found
    with pytest.raises(BrokenRulesError) as caught:
        checked(CAR, document)
    assert [fault.words for fault in caught.value.faults] == found


UNFINISHED: dict[str, Document] = {
    "nothing": Document(),
    "only a name": empty_project("Heron").drawn,
    "no engine": without_things(
        CAR,
        frozenset({"power_unit1", "mount1", "mount2", "drive_shaft1", "fastener1", "acceptance1"}),
    ),
    "no hub, wheel, tyre": without_things(
        changed(CAR, "corner1", hub=None, wheel=None, tyre=None),
        frozenset({"hub1", "wheel1", "tyre1"}),
    ),
    "no axle at the front": without_things(CAR, frozenset({"axle2", "corner2"})),
    "a joint that no tube meets": add_thing(CAR, point(30)),
    "two single corners at an axle": add_thing(
        changed(without_things(CAR, frozenset({"corner2"})), "axle2", rack=None),
        msgspec.structs.replace(
            thing(CAR, Corner, "corner2"), id="corner3", name="front left", pair=False
        ),
    ),
    "a shaft to one side only": changed(CAR, "drive_shaft1", pair=False, right=()),
    "a point on the unit": add_thing(CAR, point(30, carrier="unit", carrier_of=Ref("power_unit1"))),
    "a limit for all beside one for a thing": add_thing(
        CAR, Limit(id="limit2", name="b", rule="unit_gap", value=9.0)
    ),
    "a reading of an end of the rack as a reason": changed(
        CAR, "point4", facts=(Fact(of="at", because=(Because(ref=right("rack1")),)),)
    ),
    "a bracket on a bracket": add_thing(
        CAR,
        Bracket(id="bracket30", name="on", carries=left("bracket1"), on=left("point1")),
    ),
    "a chain of tubes on tubes": add_thing(
        add_thing(CAR, on_tube(30, "tube3")),
        Tube(
            id="tube30",
            name="stub",
            section=Ref("section1"),
            start=Ref("point30"),
            end=Ref("point4"),
        ),
    ),
    "a pair with right sides of their own": changed(
        CAR, "tube1", right=(Own(of="end", value=Ref("point4")),)
    ),
    "a table": changed(CAR, "point11", carrier_of=Ref("datum1")),
}


@pytest.mark.parametrize("name", UNFINISHED)
def test_what_is_unfinished_or_unusual_breaks_no_rule(name: str) -> None:
    assert check_document(UNFINISHED[name]) == []


def test_a_wide_net_of_tubes_on_tubes_is_checked_in_one_walk() -> None:
    """Each tube has two joints on the tube before: the ways through the net cannot be counted."""
    count = 300
    points = [point(1), point(2, at=Vec3(9.0, 0.0, 0.0))]
    tubes: list[Tube] = []
    for number in range(1, count):
        tubes.append(
            Tube(
                id=f"tube{number}",
                name=f"T{number}",
                section=Ref("section1"),
                start=Ref(f"point{2 * number - 1}"),
                end=Ref(f"point{2 * number}"),
            )
        )
        points += [on_tube(2 * number + more, f"tube{number}") for more in (1, 2)]
    document = msgspec.structs.replace(
        empty_project().drawn,
        next_number=10_000,
        materials=CAR.materials,
        dies=CAR.dies,
        sections=CAR.sections,
        points=tuple(points),
        tubes=tuple(tubes),
    )

    assert check_document(document) == []
    ring = changed(document, "point1", at=None, along=Along(tube=Ref("tube7"), distance=1.0))
    assert "have joints that are places along one another" in check_document(ring)[0].words


def project(**fields: object) -> Project:
    return msgspec.structs.replace(small_project(), **fields)


READING = small_project().readings[0]
LAYER = small_project().layers[0]

BROKEN_PROJECTS: dict[str, tuple[Project, str]] = {
    "a fact on a reading that is gone": (
        project(readings=small_project().readings[1:]),
        "K: there is no reading reading1 for its fact",
    ),
    "a reading of what is gone": (
        project(
            readings=(
                READING,
                Reading(id="reading3", name="x", what="angle", value=1.0, of=(Ref("tube9"),)),
            )
        ),
        "x: `of.0` names tube9, which is not there",
    ),
    "two readings of one id": (
        project(readings=(READING, READING)),
        "two things have the id reading1",
    ),
    "two layers of one name": (
        project(layers=(LAYER, Layer(id="layer2", name=LAYER.name))),
        "are called «with the longer shaft»; rename one of them",
    ),
    "a reading whose id a new thing might be given": (
        project(readings=(READING, msgspec.structs.replace(READING, id="reading40"))),
        "next_number must be above the number in every id, such as reading40",
    ),
    "a layer whose new thing has an id that another might be given": (
        project(
            layers=(Layer(id="layer3", name="x", put=(Note(id="note40", name="n", text=""),)),)
        ),
        "next_number must be above the number in every id, such as note40",
    ),
    "a layer that changes what is gone": (
        project(layers=(Layer(id="layer3", name="x", removed=("tube9",)),)),
        "layer x cannot be laid: it removes tube9, which is not there",
    ),
    "a layer that breaks a rule": (
        project(layers=(Layer(id="layer3", name="x", removed=("tube1",)),)),
        "with layer x laid over it: half way: `along.tube` names tube1, which is not there",
    ),
    "a layer whose fact rests on a reading that is gone": (
        project(
            layers=(
                Layer(
                    id="layer3",
                    name="x",
                    put=(Part(id="part30", name="p", facts=(Fact(readings=(Ref("reading9"),)),)),),
                ),
            )
        ),
        "with layer x laid over it: p: there is no reading reading9 for its fact",
    ),
}


@pytest.mark.parametrize("name", BROKEN_PROJECTS)
def test_a_project_that_contradicts_itself_is_told_in_words(name: str) -> None:
    broken, words = BROKEN_PROJECTS[name]

    for faults in (check_project(broken), check_project_change(small_project(), broken)):
        assert any(words in fault.words for fault in faults), faults


def test_an_edit_of_the_drawn_car_that_leaves_a_layer_or_a_reading_behind_is_told() -> None:
    before = project(
        layers=(
            Layer(
                id="layer3",
                name="x",
                changes=(Change(id="note1", of="text", value="other"),),
            ),
        ),
        readings=(
            READING,
            Reading(id="reading3", name="y", what="weight", value=14.0, of=(Ref("part1"),)),
        ),
    )
    no_note = msgspec.structs.replace(before, drawn=without_things(CAR, frozenset({"note1"})))
    no_part = msgspec.structs.replace(
        before,
        drawn=without_things(CAR, frozenset({"part1", "load_case1", "lift1", "weighing1"})),
    )

    assert check_project_change(before, before) == []
    assert "it changes note1, which is not there" in check_project_change(before, no_note)[0].words
    assert "names part1, which is not there" in check_project_change(before, no_part)[0].words


def test_the_cars_of_the_tests_keep_every_rule() -> None:
    assert check_project(small_project()) == []


def test_only_what_changed_is_looked_at_again(monkeypatch: pytest.MonkeyPatch) -> None:
    moved = replace_thing(
        CAR, msgspec.structs.replace(thing(CAR, Point, "point4"), at=Vec3(-1500.0, 0.0, 905.0))
    )
    seen: list[str] = []

    def note(entity: Entity, _: Lookup) -> list[Fault]:
        seen.append(entity.id)
        return []

    monkeypatch.setattr("core.document.rules.entity_faults", note)

    assert check_change(CAR, moved) == []
    assert seen == ["point4"]
