"""The table of cells by itself, with cells made up for the purpose."""

from dataclasses import dataclass

import numpy as np
import pytest

from core.document.base import Fact, Ref, Vec3
from core.document.layers import add_thing, replace_thing
from core.document.power import MeshRef, PowerUnit
from core.document.project import Document
from core.document.steel import Die, Material, Point
from core.edits.points import move_point
from core.edits.things import delete, make, rename
from core.edits.values import change, set_fact
from core.engine.address import Address
from core.engine.assess import Assessment, assess, compute, reads_of
from core.engine.cells import Cell, CellKey, Findings, NotComputedError, Reader, Rule, When, cell
from core.engine.finding import Finding
from core.engine.view import FieldKey, KindKey, LabelKey, MeshKey, OfKindKey
from core.geometry.types import Array

NO_MESHES: dict[str, bytes] = {}


def fine(words: str, measured: float | None = None) -> Findings:
    return (Finding("rule", "fine", (), words, measured),)


@cell(When.LIVE)
def place(read: Reader, ref: Ref) -> Vec3:
    at = read.thing(Point, ref).at
    if at is None:
        msg = f"{read.label(ref)} has no place"
        raise NotComputedError(msg)
    return at


@cell(When.LIVE)
def height(read: Reader, ref: Ref) -> float:
    return read(place, ref).z


@cell(When.LIVE)
def highest(read: Reader) -> float:
    heights = [read(height, ref) for ref in read.all(Point)]
    if not heights:
        msg = "there are no points"
        raise NotComputedError(msg)
    return max(heights)


@cell(When.LIVE)
def says_highest(read: Reader) -> Findings:
    return fine("highest", read(highest))


@cell(When.RELEASE)
def says_names(read: Reader) -> Findings:
    return fine(", ".join(read.label(ref) for ref in read.all(Point)))


@cell(When.RELEASE)
def sum_of_heights(read: Reader) -> float:
    return sum(read(height, ref) for ref in read.all(Point))


@cell(When.RELEASE)
def says_sum(read: Reader) -> Findings:
    return fine("sum", read(sum_of_heights))


@cell(When.ASKED)
def says_mean(read: Reader) -> Findings:
    return fine("mean", read(sum_of_heights) / len(read.all(Point)))


HIGHEST = Rule("highest", "How high?", says_highest, "room")
NAMES = Rule("names", "Which?", says_names, "room")
SUM = Rule("sum", "How much?", says_sum, "room")
MEAN = Rule("mean", "How high on the whole?", says_mean, "room")
RULES = (HIGHEST, NAMES, SUM, MEAN)


def two_points() -> Document:
    document, _ = make(Document(), Point, "K", at=Vec3(0.0, 0.0, 10.0))
    document, _ = make(document, Point, "L", at=Vec3(0.0, 0.0, 20.0))
    return document


K, L = Ref("point1"), Ref("point2")


def asked(
    document: Document, last: Assessment | None = None, upto: When = When.ASKED
) -> Assessment:
    return assess(document, NO_MESHES, last, RULES, upto)


def ran(assessment: Assessment) -> list[str]:
    """The cells that were run, in order, each with the thing it is about."""
    return [f"{key.cell}({', '.join(map(str, key.args))})" for key in assessment.ran]


def moved(document: Document, ref: Ref, z: float) -> Document:
    return move_point(document, ref, Vec3(0.0, 0.0, z))


def test_a_fresh_assessment_runs_every_cell_once() -> None:
    found = ran(asked(two_points()))

    assert len(found) == len(set(found))
    assert found[:3] == ["place(point1)", "height(point1)", "place(point2)"]
    assert found[-2:] == ["says_sum()", "says_mean()"]


def test_the_very_same_document_runs_nothing() -> None:
    first = asked(two_points())

    assert ran(asked(first.document, first)) == []
    assert asked(first.document, first).agrees_with(first)


def test_an_equal_document_made_anew_runs_nothing() -> None:
    first = asked(two_points())

    assert ran(asked(two_points(), first)) == []


def test_a_change_runs_what_read_the_value_and_what_follows_from_it() -> None:
    first = asked(two_points())

    second = asked(moved(first.document, L, 30.0), first)

    assert ran(second) == [
        "place(point2)",
        "height(point2)",
        "highest()",
        "says_highest()",
        "sum_of_heights()",
        "says_sum()",
        "says_mean()",
    ]
    assert second.findings_of(HIGHEST)[0].measured == 30.0


def test_an_equal_new_value_stops_the_wave() -> None:
    first = asked(two_points())

    second = asked(move_point(first.document, L, Vec3(5.0, 0.0, 20.0)), first)

    assert ran(second) == ["place(point2)", "height(point2)"]
    assert second.agrees_with(asked(second.document))


def test_a_cell_of_equal_value_may_rest_on_other_things_from_then_on() -> None:
    """Where the wave stopped, what lies behind must still be found when the other things change."""
    document, die = make(Document(), Die, "die", radius=7.0)
    document, steel = make(document, Material, "steel", density_kg_m3=7.0)
    document, at = make(document, Point, "switch", at=Vec3(0.0, 0.0, 0.0))

    @cell(When.LIVE)
    def either(read: Reader) -> float:
        if read.thing(Point, Ref(at.id)).at == Vec3(0.0, 0.0, 0.0):
            return read.thing(Die, Ref(die.id)).radius
        return read.thing(Material, Ref(steel.id)).density_kg_m3

    @cell(When.LIVE)
    def doubled(read: Reader) -> float:
        return 2.0 * read(either)

    @cell(When.LIVE)
    def says(read: Reader) -> Findings:
        return fine("", read(doubled))

    rules = (Rule("says", "?", says, "room"),)
    first = assess(document, NO_MESHES, None, rules)
    switched = move_point(document, Ref(at.id), Vec3(1.0, 0.0, 0.0))
    second = assess(switched, NO_MESHES, first, rules)
    heavier = change(switched, Address(Ref(steel.id), "density_kg_m3"), 8.0)
    third = assess(heavier, NO_MESHES, second, rules)

    assert ran(second) == ["either()"]
    assert ran(third) == ["either()", "doubled()", "says()"]
    assert third.findings()[0].measured == 16.0


def test_a_cell_left_behind_may_rest_on_other_things_when_it_catches_up() -> None:
    """What it read came to rest on them in a pass that left it behind."""
    document, die = make(Document(), Die, "die", radius=7.0)
    document, steel = make(document, Material, "steel", density_kg_m3=7.0)
    document, at = make(document, Point, "switch", at=Vec3(0.0, 0.0, 0.0))
    document, late = make(document, Point, "late", at=Vec3(0.0, 0.0, 0.0))

    @cell(When.LIVE)
    def either(read: Reader) -> float:
        if read.thing(Point, Ref(at.id)).at == Vec3(0.0, 0.0, 0.0):
            return read.thing(Die, Ref(die.id)).radius
        return read.thing(Material, Ref(steel.id)).density_kg_m3

    @cell(When.LIVE)
    def says_either(read: Reader) -> Findings:
        return fine("", read(either))

    @cell(When.LIVE)
    def doubled(read: Reader) -> float:
        return 2.0 * read(either)

    @cell(When.RELEASE)
    def says(read: Reader) -> Findings:
        return fine(read.label(Ref(late.id)), read(doubled))

    rules = (Rule("quick", "?", says_either, "room"), Rule("says", "?", says, "room"))
    first = assess(document, NO_MESHES, None, rules)
    switched = move_point(document, Ref(at.id), Vec3(1.0, 0.0, 0.0))
    switched = rename(switched, late.id, "later")
    second = assess(switched, NO_MESHES, first, rules, When.LIVE)
    third = assess(switched, NO_MESHES, second, rules)
    heavier = change(switched, Address(Ref(steel.id), "density_kg_m3"), 8.0)
    fourth = assess(heavier, NO_MESHES, third, rules)

    assert fourth.findings()[1].measured == 16.0
    assert fourth.agrees_with(assess(heavier, NO_MESHES, None, rules))


def test_what_is_no_longer_read_leaves_the_table() -> None:
    first = asked(two_points())

    second = asked(delete(first.document, L.id), first)

    assert all(L not in key.args for key in second.entries)
    assert second.agrees_with(asked(second.document))


def test_a_new_thing_is_seen() -> None:
    first = asked(two_points())
    more, _ = make(first.document, Point, "M", at=Vec3(0.0, 0.0, 99.0))

    second = asked(more, first)

    assert second.findings_of(HIGHEST)[0].measured == 99.0
    assert "place(point1)" not in ran(second)


def test_the_order_of_things_is_seen() -> None:
    first = asked(two_points())
    k, other = first.document.points
    turned = Document(next_number=first.document.next_number, points=(other, k))

    second = asked(turned, first)

    assert second.findings_of(NAMES)[0].sentence == "L, K"
    assert second.agrees_with(asked(turned))


def test_a_new_name_runs_only_what_says_it() -> None:
    first = asked(two_points())

    second = asked(rename(first.document, L.id, "M"), first)

    assert ran(second) == ["says_names()"]


def test_a_fact_runs_nothing() -> None:
    first = asked(two_points())
    fact = Fact(source="measured", uncertainty=0.5)

    second = asked(set_fact(first.document, Address(L, "at"), fact), first)

    assert ran(second) == []


def test_asking_for_other_rules_leaves_what_only_the_old_ones_read() -> None:
    first = asked(two_points())

    second = assess(first.document, NO_MESHES, first, (NAMES,), When.ASKED)

    assert ran(second) == []
    assert {key.cell.name for key in second.entries} == {"says_names"}


def test_cells_besides_the_rules_can_be_asked_for() -> None:
    found = assess(two_points(), NO_MESHES, None, (), also=(highest,))

    assert found.value(highest) == 20.0
    assert found.findings() == []


def test_a_cell_without_a_value_gives_its_reason_to_all_that_read_it() -> None:
    document, _ = make(Document(), Material, "steel", density_kg_m3=7850.0)

    first = assess(document, NO_MESHES, None, (HIGHEST, SUM))

    (finding,) = first.findings_of(HIGHEST)
    assert finding.verdict == "unknown"
    assert finding.sentence == "How high? Could not be computed, because there are no points."
    with pytest.raises(NotComputedError, match="there are no points"):
        first.value(highest)


def test_a_reason_goes_when_there_is_a_value_and_comes_back() -> None:
    empty = Document()
    full = two_points()

    first = assess(empty, NO_MESHES, None, (HIGHEST,))
    second = assess(full, NO_MESHES, first, (HIGHEST,))
    third = assess(empty, NO_MESHES, second, (HIGHEST,))

    assert second.findings_of(HIGHEST)[0].measured == 20.0
    assert third.agrees_with(first)


def test_a_cell_that_catches_a_missing_value_has_read_it() -> None:
    @cell(When.LIVE)
    def tried(read: Reader) -> Findings:
        try:
            return fine("", read(highest))
        except NotComputedError:
            return fine("none")

    rules = (Rule("tried", "?", tried, "room"),)
    first = assess(Document(), NO_MESHES, None, rules)
    second = assess(two_points(), NO_MESHES, first, rules)

    assert first.findings()[0].sentence == "none"
    assert second.findings()[0].measured == 20.0


def test_slow_rules_are_not_run_sooner_than_they_may() -> None:
    live = asked(two_points(), upto=When.LIVE)
    release = asked(two_points(), upto=When.RELEASE)

    assert [live.is_behind(rule) for rule in RULES] == [False, True, True, True]
    assert [release.is_behind(rule) for rule in RULES] == [False, False, False, True]


def test_what_was_never_run_is_unknown() -> None:
    (finding,) = asked(two_points(), upto=When.LIVE).findings_of(SUM)

    assert (finding.verdict, finding.behind) == ("unknown", True)
    assert finding.sentence == "How much? Not computed yet."


def test_a_slow_rule_keeps_its_old_answer_marked_as_of_before() -> None:
    first = asked(two_points())

    second = asked(moved(first.document, L, 30.0), first, When.LIVE)

    (finding,) = second.findings_of(SUM)
    assert second.is_behind(SUM)
    assert (finding.measured, finding.behind) == (30.0, True)
    assert finding.verdict == "unknown", "an old «fine» never counts as fine"
    assert second.findings_of(HIGHEST)[0].measured == 30.0
    with pytest.raises(NotComputedError, match="has not caught up"):
        second.value(sum_of_heights)


def test_a_slow_rule_that_nothing_touched_is_not_behind() -> None:
    first = asked(two_points())

    second = asked(moved(first.document, L, 30.0), first, When.LIVE)

    assert not second.is_behind(NAMES)
    assert second.findings_of(NAMES)[0].verdict == "fine"


def test_what_is_behind_catches_up_when_asked() -> None:
    first = asked(two_points())
    second = asked(moved(first.document, L, 30.0), first, When.LIVE)
    third = asked(moved(second.document, L, 40.0), second, When.RELEASE)

    fourth = asked(third.document, third)

    assert not second.agrees_with(second), "a table that is behind agrees with nothing"
    assert third.findings_of(SUM)[0].measured == 50.0
    assert third.is_behind(MEAN)
    assert ran(fourth) == ["says_mean()"]
    assert fourth.agrees_with(asked(fourth.document))


def test_a_name_changed_while_only_quick_cells_run_is_seen_when_asked() -> None:
    """The slow rule reads names itself, and between the last two documents nothing differs."""
    first = asked(two_points())
    second = asked(rename(first.document, L.id, "M"), first, When.LIVE)

    third = asked(second.document, second)

    assert second.is_behind(NAMES)
    assert third.findings_of(NAMES)[0].sentence == "K, M"


def test_nothing_is_run_for_the_sake_of_a_slow_rule_that_must_wait() -> None:
    @cell(When.LIVE)
    def depth(read: Reader, ref: Ref) -> float:
        return -read(height, ref)

    @cell(When.RELEASE)
    def says_depths(read: Reader) -> Findings:
        return fine("", sum(read(depth, ref) for ref in read.all(Point)))

    rules = (Rule("depths", "?", says_depths, "room"), HIGHEST)
    first = assess(two_points(), NO_MESHES, None, rules)
    second = assess(moved(first.document, L, 30.0), NO_MESHES, first, rules, When.LIVE)
    third = assess(second.document, NO_MESHES, second, rules)

    assert "depth(point2)" not in ran(second)
    assert ran(third) == ["depth(point2)", "says_depths()"]


def test_moving_away_and_back_while_only_quick_cells_run_leaves_slow_ones_nothing_to_do() -> None:
    first = asked(two_points())
    away = asked(moved(first.document, L, 30.0), first, When.LIVE)
    back = asked(moved(away.document, L, 20.0), away, When.LIVE)

    caught_up = asked(back.document, back)

    assert ran(caught_up) == []
    assert caught_up.agrees_with(first)


def test_no_cell_is_worked_out_from_what_is_behind() -> None:
    """A slow rule comes first and leaves its old values behind; the quick one must not see them."""
    first = assess(two_points(), NO_MESHES, None, (SUM, HIGHEST), When.RELEASE)

    second = assess(moved(first.document, L, 30.0), NO_MESHES, first, (SUM, HIGHEST), When.LIVE)

    assert second.is_behind(SUM)
    assert second.findings_of(HIGHEST)[0].measured == 30.0


def test_a_cell_that_reads_a_slower_one_is_refused() -> None:
    @cell(When.LIVE)
    def hasty(read: Reader) -> float:
        return read(sum_of_heights)

    with pytest.raises(RuntimeError, match="hasty is run sooner than sum_of_heights"):
        compute(two_points(), NO_MESHES, hasty)


def test_cells_that_read_one_another_in_a_circle_are_refused() -> None:
    cells: dict[str, Cell[[], float]] = {}

    @cell(When.LIVE)
    def hen(read: Reader) -> float:
        return read(cells["egg"])

    @cell(When.LIVE)
    def egg(read: Reader) -> float:
        return read(cells["hen"])

    cells |= {"hen": hen, "egg": egg}

    with pytest.raises(RuntimeError, match="in a circle: hen -> egg -> hen"):
        compute(Document(), NO_MESHES, hen)


def test_a_circle_that_an_edit_makes_is_refused_too() -> None:
    @cell(When.LIVE)
    def behind(read: Reader, ref: Ref) -> float:
        other = L if ref == K else K
        z = read(place, ref).z
        return z if z < 15.0 else read(behind_cells[0], other) + 1.0

    behind_cells = [behind]

    @cell(When.LIVE)
    def says(read: Reader) -> Findings:
        return fine("", read(behind, L))

    rules = (Rule("says", "?", says, "room"),)
    first = assess(two_points(), NO_MESHES, None, rules)
    with pytest.raises(RuntimeError, match="in a circle"):
        assess(moved(first.document, K, 25.0), NO_MESHES, first, rules)


def test_a_thing_of_another_kind_is_refused() -> None:
    @cell(When.LIVE)
    def wrong(read: Reader) -> float:
        return read.thing(Die, K).radius

    with pytest.raises(TypeError, match="K is no Die"):
        compute(two_points(), NO_MESHES, wrong)


def test_arguments_of_cells_are_given_in_order() -> None:
    @cell(When.LIVE)
    def named(read: Reader) -> Vec3:
        return read(place, ref=K)

    with pytest.raises(TypeError, match="in order"):
        compute(two_points(), NO_MESHES, named)


SHA = "c" * 64


@cell(When.LIVE)
def says_mesh(read: Reader) -> Findings:
    (ref,) = read.all(PowerUnit)
    mesh = read.thing(PowerUnit, ref).mesh
    if mesh is None:
        return fine("no mesh")
    return fine(f"{len(read.mesh(mesh.sha256))} bytes")


MESH = (Rule("mesh", "Is there a mesh?", says_mesh, "room"),)


def with_unit(mesh: MeshRef | None = None) -> Document:
    return make(Document(), PowerUnit, "engine", origin=Vec3(0.0, 0.0, 0.0), mesh=mesh)[0]


def test_a_mesh_that_comes_and_goes_is_seen() -> None:
    document = with_unit(mesh=MeshRef(sha256=SHA))
    meshes: dict[str, bytes] = {}

    first = assess(document, meshes, None, MESH)
    meshes[SHA] = b"123"
    second = assess(document, meshes, first, MESH)
    third = assess(document, {}, second, MESH)

    assert "is not at hand" in first.findings()[0].sentence
    assert second.findings()[0].sentence == "3 bytes"
    assert third.agrees_with(first)


def test_a_group_of_values_that_comes_and_goes_is_seen() -> None:
    bare, full = with_unit(), with_unit(mesh=MeshRef(sha256=SHA))
    meshes = {SHA: b"123"}

    first = assess(full, meshes, None, MESH)
    second = assess(bare, meshes, first, MESH)
    third = assess(full, meshes, second, MESH)

    assert second.findings()[0].sentence == "no mesh"
    assert third.agrees_with(first)


@cell(When.LIVE)
def says_whether(read: Reader) -> Findings:
    (ref,) = read.all(PowerUnit)
    return fine("no mesh" if read.thing(PowerUnit, ref).mesh is None else "a mesh")


def test_a_group_of_values_of_which_nothing_is_read_is_still_missed_when_it_goes() -> None:
    rules = (Rule("mesh", "Is there a mesh?", says_whether, "room"),)

    first = assess(with_unit(MeshRef(sha256=SHA)), NO_MESHES, None, rules)
    second = assess(with_unit(), NO_MESHES, first, rules)
    third = assess(with_unit(MeshRef(sha256="d" * 64)), NO_MESHES, second, rules)
    fourth = assess(with_unit(MeshRef(sha256=SHA)), NO_MESHES, third, rules)

    said = [found.findings()[0].sentence for found in (first, second, third)]
    assert said == ["a mesh", "no mesh", "a mesh"]
    assert ran(fourth) == [], "which mesh it is was never read"


def test_an_unread_part_of_a_group_runs_nothing() -> None:
    first = assess(with_unit(mesh=MeshRef(sha256=SHA)), {SHA: b"1"}, None, MESH)
    other = with_unit(mesh=MeshRef(sha256=SHA, what="scanned"))

    assert ran(assess(other, {SHA: b"1"}, first, MESH)) == []


@dataclass(frozen=True)
class Heights:
    """Values of cells may hold arrays."""

    values: Array


def test_values_that_hold_arrays_stop_the_wave_too() -> None:
    @cell(When.LIVE)
    def heights(read: Reader) -> Heights:
        return Heights(np.array([read(place, ref).z for ref in read.all(Point)]))

    @cell(When.LIVE)
    def says(read: Reader) -> Findings:
        return fine("", float(read(heights).values.sum()))

    rules = (Rule("says", "?", says, "room"),)
    first = assess(two_points(), NO_MESHES, None, rules)
    aside = move_point(first.document, K, Vec3(7.0, 0.0, 10.0))

    assert ran(assess(aside, NO_MESHES, first, rules)) == ["place(point1)", "heights()"]


def test_what_a_rule_rests_on_is_found_through_all_cells() -> None:
    found = set(reads_of(asked(two_points()), CellKey(says_sum, ())))

    assert found == {
        KindKey(Point),
        *(OfKindKey(Point, ref) for ref in (K, L)),
        *(FieldKey(ref, "at") for ref in (K, L)),
    }


def test_reads_are_kept_in_order_with_their_values() -> None:
    entry = asked(two_points()).entries[CellKey(says_names, ())]

    assert entry.reads == ((KindKey(Point), (K, L)), (LabelKey(K), "K"), (LabelKey(L), "L"))


def test_a_mesh_that_was_read_is_among_the_reads() -> None:
    first = assess(with_unit(mesh=MeshRef(sha256=SHA)), {SHA: b"1"}, None, MESH)

    assert MeshKey(SHA) in set(reads_of(first, CellKey(says_mesh, ())))


def test_an_assessment_can_start_from_that_of_any_other_document() -> None:
    first = asked(two_points())
    other, _ = make(Document(), Point, "Q", at=Vec3(1.0, 2.0, 3.0))

    second = asked(other, first)

    assert second.agrees_with(asked(other))


def test_a_thing_that_becomes_one_of_another_kind_is_seen() -> None:
    """No edit does that, but two documents may have it so."""

    @cell(When.LIVE)
    def says(read: Reader) -> Findings:
        return fine("a point" if read.has(Point, K) else "no point")

    rules = (Rule("says", "?", says, "room"),)
    first = assess(two_points(), NO_MESHES, None, rules)
    second = assess(Document(), NO_MESHES, first, rules)
    third = assess(two_points(), NO_MESHES, second, rules)

    said = [found.findings()[0].sentence for found in (first, second, third)]
    assert said == ["a point", "no point", "a point"]


def test_a_thing_that_is_compared_whole_is_read_whole() -> None:
    made = two_points().points[0]

    @cell(When.LIVE)
    def says(read: Reader) -> Findings:
        return fine("as made" if read.thing(Point, K) == made else "changed")

    rules = (Rule("says", "?", says, "room"),)
    first = assess(two_points(), NO_MESHES, None, rules)
    for document in (moved(two_points(), K, 11.0), rename(two_points(), K.id, "other")):
        second = assess(document, NO_MESHES, first, rules)
        assert second.findings()[0].sentence == "changed"


def test_replacing_a_thing_by_an_equal_one_runs_nothing() -> None:
    first = asked(two_points())
    k = first.document.points[0]
    again = Point(id=k.id, name=k.name, at=Vec3(0.0, 0.0, 10.0))

    assert ran(asked(replace_thing(first.document, again), first)) == []


def test_a_thing_put_in_past_the_edits_is_seen() -> None:
    first = asked(two_points())
    extra = Point(id="point9", name="Z", at=Vec3(0.0, 0.0, 50.0))

    assert asked(add_thing(first.document, extra), first).findings_of(HIGHEST)[0].measured == 50.0
