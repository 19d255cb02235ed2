from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.document.base import Because, Box, Entity, Fact, Own, Ref, Vec3
from core.document.lookup import Lookup, entities
from core.document.power import PowerUnit
from core.document.project import Document
from core.document.records import Acceptance, Lift, Limit, Note, WayOut
from core.document.rules import check_document
from core.document.steel import Along, Bay, Panel, Point, Tube
from core.document.surroundings import KeepOut
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.things import delete, dependents, goes_with, make, thing_of
from core.edits.tubes import set_state
from core.edits.values import change, hold, release, set_fact, set_free
from core.engine.address import Address
from tests.core.edits.cars import TubeCar, demo_car, second_car


@pytest.fixture
def car() -> TubeCar:
    return TubeCar()


def names(document: Document, ids: set[str]) -> set[str]:
    return {Lookup(document).by_id[thing_id].name for thing_id in ids}


def test_a_joint_that_tubes_need_is_not_removed_and_they_are_named(car: TubeCar) -> None:
    with pytest.raises(EditRefusedError) as refused:
        delete(car.document, car.a.id)

    assert str(refused.value) == (
        "A is used by cross, rail; remove it together with what depends on it"
    )


def test_who_depends_is_told_with_where_and_whether_it_needs_it(car: TubeCar) -> None:
    found = {(d.name, d.path, d.needs_it) for d in dependents(car.document, car.d.id)}

    assert found == {("hoop", "bends.0.point", False), ("hoop", "bends.1.point", False)}
    needed = {(d.name, d.path, d.needs_it) for d in dependents(car.document, car.b.id)}
    assert needed == {
        ("rail", "end", True),
        ("hoop", "start", True),
        ("hoop", "end", True),
    }


def test_more_dependents_than_can_be_read_are_cut_short(car: TubeCar) -> None:
    document = car.document
    for number in range(12):
        document, _ = make(document, Note, f"note {number:02}", text="t", about=(car.c,))

    with pytest.raises(EditRefusedError, match=r"note 00, .*note 07 and others; remove"):
        delete(document, car.c.id)


def test_what_cannot_be_without_a_joint_goes_with_it_and_so_on(car: TubeCar) -> None:
    """Without B no rail and no hoop; without the rail no F; without F no strut."""
    going = goes_with(car.document, car.b.id)

    assert names(car.document, going) == {"B", "rail", "hoop", "F", "strut"}
    gone = delete(car.document, car.b.id, with_dependents=True)
    assert set(Lookup(gone).by_id) == set(Lookup(car.document).by_id) - going
    assert check_document(gone) == []


def test_a_tube_lets_go_of_a_bend(car: TubeCar) -> None:
    gone = delete(car.document, car.d.id, with_dependents=True)

    hoop = thing_of(gone, car.hoop.id)
    assert isinstance(hoop, Tube)
    assert hoop.bends == ()


def test_fixed_steel_is_not_straightened_by_removing_its_bend(car: TubeCar) -> None:
    fixed = set_state(car.document, car.hoop, "welded")

    with pytest.raises(HeldError, match="hoop is welded"):
        delete(fixed, car.d.id, with_dependents=True)
    free = set_free(fixed, Address(car.hoop, ""))
    assert delete(free, car.d.id, with_dependents=True) != free


def test_a_held_reference_is_not_let_go(car: TubeCar) -> None:
    held = hold(car.document, Address(car.section, "die"), "it is the only one here")

    with pytest.raises(HeldError, match=r"T30.die is held: it is the only one here"):
        delete(held, car.die.id, with_dependents=True)


def test_facts_go_with_the_bends_that_they_were_about(car: TubeCar) -> None:
    address = Address(car.hoop, "bends.0.radius")
    known = set_fact(change(car.document, address, 90.0), address, Fact(source="chosen"))

    gone = delete(known, car.d.id, with_dependents=True)

    assert thing_of(gone, car.hoop.id).facts == ()


def test_reasons_that_name_what_goes_go_too(car: TubeCar) -> None:
    because = (Because(ref=car.tie), Because(ref=car.cross))
    known = set_fact(car.document, Address(car.c, "at"), Fact(source="chosen", because=because))

    gone = delete(known, car.tie.id, with_dependents=True)

    assert thing_of(gone, car.c.id).facts == (
        Fact(of="at", source="chosen", because=(Because(ref=car.cross),)),
    )


def test_what_is_said_of_one_thing_goes_with_it(car: TubeCar) -> None:
    """A limit for one tube would else become one for all."""
    rule = {"rule": "unit_gap"}
    document, _ = make(car.document, Limit, "own", value=9.0, only_for=car.tie, **rule)
    document, _ = make(document, Acceptance, "seen", subjects=(car.tie,), reason="seen", **rule)

    gone = delete(document, car.tie.id, with_dependents=True)

    assert (gone.limits, gone.acceptances) == ((), ())


STEEL = Ref("material1")


@pytest.mark.parametrize(
    ("kind", "field", "others"),
    [
        (Panel, "outline", {"thickness": 1.0, "material": STEEL}),
        (Bay, "outline", {"why": "door"}),
        (Lift, "stands", {}),
    ],
)
def test_what_stands_on_all_its_joints_goes_with_any_of_them(
    car: TubeCar, kind: type[Entity], field: str, others: dict[str, object]
) -> None:
    four = (car.a, car.b, car.c, car.a.mirrored())
    document, made = make(car.document, kind, "on four", **{field: four}, **others)

    assert made.id in goes_with(document, car.c.id)
    needing = {d.name for d in dependents(document, car.c.id) if d.needs_it}
    assert needing == {"on four", "strut", "tie"}


def test_lists_that_merely_name_a_tube_let_it_go(car: TubeCar) -> None:
    fields = {"direction": Vec3(0.0, 0.0, -1.0), "distance": 9.0}
    out = (car.tie, car.cross)
    document, way = make(car.document, WayOut, "down", tubes_out=out, **fields)
    document, note = make(document, Note, "why", text="t", about=out)

    gone = delete(document, car.tie.id, with_dependents=True)

    assert getattr(thing_of(gone, way.id), "tubes_out") == (car.cross,)  # noqa: B009
    assert getattr(thing_of(gone, note.id), "about") == (car.cross,)  # noqa: B009


def test_a_pair_goes_whole_when_its_right_side_stands_on_what_goes(car: TubeCar) -> None:
    document = release(car.document, car.f, "along")
    own = Along(tube=car.cross, distance=50.0)
    document = change(document, Address(car.f.mirrored(), "along"), own)
    assert thing_of(document, car.f.id).right == (Own(of="along", value=own),)

    assert names(document, goes_with(document, car.cross.id)) == {"cross", "F", "G", "strut", "tie"}
    assert check_document(delete(document, car.cross.id, with_dependents=True)) == []


def test_own_values_of_the_right_side_follow_their_bends(car: TubeCar) -> None:
    """The rail bends twice and its right side has a radius of its own at the second bend."""
    document = car.document
    refs = []
    for number, x in enumerate((-200.0, -400.0)):
        document, made = make(document, Point, f"N{number}", at=Vec3(x, 330.0, 100.0), pair=True)
        refs.append(Ref(made.id, "left"))
    bends = [{"point": ref, "radius": 40.0} for ref in refs]
    document = change(document, Address(car.rail, "bends"), tuple(bends))
    document = release(document, car.rail, "bends.1.radius")
    document = change(document, Address(car.rail.mirrored(), "bends.1.radius"), 45.0)

    gone = delete(document, refs[0].id, with_dependents=True)

    assert thing_of(gone, car.rail.id).right == (Own(of="bends.0.radius", value=45.0),)
    assert thing_of(delete(gone, refs[1].id, with_dependents=True), car.rail.id).right == ()


def test_ids_are_never_used_again(car: TubeCar) -> None:
    gone = delete(car.document, car.tie.id)

    again, tie = make(gone, Tube, "tie", section=car.section, start=car.g, end=car.c)

    assert tie.id != car.tie.id
    assert again.next_number > gone.next_number


def test_what_is_not_there_cannot_be_removed(car: TubeCar) -> None:
    with pytest.raises(EditRefusedError, match="there is no tube99 in this car"):
        delete(car.document, "tube99")


@pytest.mark.parametrize("car_of", [demo_car, second_car])
@given(number=st.integers(0, 400))
@settings(max_examples=25, deadline=None, derandomize=True, database=None)
def test_any_thing_of_a_whole_car_can_go_with_what_depends_on_it(
    car_of: Callable[[], Document], number: int
) -> None:
    document = car_of()
    things = list(entities(document))
    thing = things[number % len(things)]
    try:
        gone = delete(document, thing.id, with_dependents=True)
    except HeldError as refused:
        assert "Set it free" in str(refused)  # noqa: PT017 - most can go
        return

    assert check_document(gone) == []
    going = goes_with(document, thing.id)
    assert set(Lookup(gone).by_id) == set(Lookup(document).by_id) - going


def test_an_engine_that_a_shaft_needs_takes_it_along() -> None:
    car = demo_car()
    going = goes_with(car, car.power_units[0].id)

    kinds = {type(Lookup(car).by_id[i]).__name__ for i in going}
    assert kinds >= {"PowerUnit", "Mount", "DriveShaft"}
    assert isinstance(car.power_units[0], PowerUnit)


def test_a_box_is_not_taken_apart_by_what_it_names(car: TubeCar) -> None:
    box = Box(low=Vec3(0.0, 0.0, 0.0), high=Vec3(1.0, 1.0, 1.0))
    document, zone = make(car.document, KeepOut, "zone", box=box, known=(car.tie,))

    gone = delete(document, car.tie.id, with_dependents=True)

    freed = thing_of(gone, zone.id)
    assert isinstance(freed, KeepOut)
    assert (freed.known, freed.box) == ((), box)
