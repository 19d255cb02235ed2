import msgspec

from core.checks.rules import assess_all, to_look_at
from core.document.base import Fact, Ref, Vec3
from core.document.codec import read_project
from core.document.project import Document, empty_project
from core.document.steel import Die, Material, Point, Section
from core.edits.acceptances import accept
from core.edits.things import make
from core.edits.tubes import draw_tube
from core.edits.unit import move_unit
from core.edits.values import set_fact
from core.engine.address import Address
from core.engine.cells import When
from core.study.order import Order
from core.study.steps import (
    PartState,
    StepState,
    TubesPlaced,
    parts,
    steps,
    tubes_placed,
)
from tests.app.cars import DEMO, SECOND


def states(document: Document) -> dict[str, StepState]:
    table = assess_all(document, {})
    return {state.key: state for state in steps(table, to_look_at(table))}


def part_states(document: Document) -> dict[str, PartState]:
    table = assess_all(document, {})
    return {state.key: state for state in parts(table, to_look_at(table))}


def demo() -> Document:
    return read_project(DEMO).drawn


def one_tube() -> Document:
    document, steel = make(empty_project().drawn, Material, "mild steel", density_kg_m3=7850.0)
    document, die = make(document, Die, "die 90", radius=90.0)
    document, section = make(
        document,
        Section,
        "32x2",
        outside=32.0,
        wall=2.0,
        material=Ref(steel.id),
        die=Ref(die.id),
    )
    document, a = make(document, Point, "A", at=Vec3(0.0, 0.0, 100.0))
    document, b = make(document, Point, "B", at=Vec3(-600.0, 0.0, 100.0))
    return draw_tube(document, "T1", Ref(section.id), Ref(a.id), Ref(b.id))[0]


def test_in_an_empty_car_every_step_waits_on_something_named() -> None:
    found = states(empty_project().drawn)

    assert {state.state for state in found.values()} == {"waiting"}
    assert all(state.waits_on for state in found.values())
    assert all(not state.counts for state in found.values())


def test_a_step_that_something_is_not_looked_at_in_is_never_settled() -> None:
    for file in (DEMO, SECOND):
        found = states(read_project(file).drawn)

        assert all(state.state != "settled" for state in found.values())


def test_a_no_in_the_frame_opens_the_frame_alone() -> None:
    found = states(one_tube())

    assert found["frame"].state == "open"
    assert found["frame"].count("no") == 2
    assert found["rear"].state == "waiting"


def test_an_accepted_finding_no_longer_counts() -> None:
    document = one_tube()
    loose = [f for f in to_look_at(assess_all(document, {})) if f.verdict == "no"]
    for finding in loose:
        document = accept(document, finding, "a stub to hang tools from")

    frame = states(document)["frame"]

    assert frame.count("no") == 0
    assert frame.accepted == len(loose)


def test_every_finding_is_in_exactly_the_step_that_counts_it() -> None:
    table = assess_all(demo(), {})
    findings = to_look_at(table)

    counted = sum(n for state in steps(table, findings) for _, n in state.counts)

    assert counted == sum(not finding.accepted for finding in findings)


def test_brackets_count_where_what_they_carry_belongs() -> None:
    document = demo()
    order = Order(document)
    by_name = {f.sentence: order.place(f) for f in to_look_at(assess_all(document, {}))}
    place_of = {words.split(" is ")[0]: place for words, place in by_name.items()}

    assert place_of["M2_left_gearbox"] == ("rear", "mounts")
    assert place_of["rear_toe_inner_L"] == ("rear", "links")
    assert place_of["rack_foot_L"] == ("front", None)


def test_a_part_is_not_known_while_nothing_looks_at_it_whole() -> None:
    found = part_states(demo())

    assert found["shafts"].verdict == "unknown"
    assert found["shafts"].words
    assert found["mounts"].verdict == "tight"  # 9.3 left of a tube as it slides into a kerb
    assert found["links"].verdict == "tight"  # the spring, 8.2 from a tube at full droop
    assert found["unit"].verdict == "tight"  # 14.5 with 10 wanted and fine from 15


def test_what_has_not_caught_up_is_marked_and_not_counted() -> None:
    document = demo()
    before = assess_all(document, {})
    moved = move_unit(document, Ref("power_unit1"), Vec3(0.0, 0.0, -1.0))
    table = assess_all(moved, {}, before, When.LIVE)
    findings = to_look_at(table)

    rear = next(state for state in steps(table, findings) if state.key == "rear")

    assert rear.behind
    stale = sum(finding.behind for finding in findings)
    assert stale > 0
    everywhere = sum(n for state in steps(table, findings) for _, n in state.counts)
    assert everywhere == sum(not (f.behind or f.accepted) for f in findings)


def test_the_driven_end_is_named_by_where_it_is() -> None:
    found = states(read_project(SECOND).drawn)

    assert found["rear"].title == "Driven front end"
    assert found["front"].title == "Rear end"


def test_a_tube_rests_on_a_guess_until_both_its_joints_have_a_source() -> None:
    document = one_tube()
    assert tubes_placed(document) == TubesPlaced(drawn=1, on_a_guess=1)
    for point in document.points:
        document = set_fact(document, Address(Ref(point.id), "at"), Fact(source="chosen"))

    assert tubes_placed(document) == TubesPlaced(drawn=1, on_a_guess=0)


def test_spoilt_tubes_are_not_counted() -> None:
    document = one_tube()
    spoilt = msgspec.structs.replace(document.tubes[0], state="spoilt")

    assert tubes_placed(msgspec.structs.replace(document, tubes=(spoilt,))).drawn == 0
