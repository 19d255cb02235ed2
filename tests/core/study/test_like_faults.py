"""Faults like the seeded ones in other places are seen too; harmless changes raise no alarm."""

from collections.abc import Callable

import msgspec
import pytest

from core.document.base import Fact, Ref, Vec3
from core.document.lookup import Lookup
from core.document.power import Mount
from core.document.project import Document
from core.document.records import Note, Part
from core.document.running_gear import Corner, DriveShaft, Hub
from core.document.steel import Along, Bracket, Die, Material, Panel, Point, Section, Tube
from core.edits.points import move_point, set_loose, tie_to_tube
from core.edits.things import duplicate, make, mirror, rename
from core.edits.tubes import draw_tube, set_section, set_state, split_tube
from core.edits.values import rejoin, release, set_fact
from core.study.slips import (
    Subject,
    another,
    joints_added,
    left_out,
    moved,
    together,
    tube_added,
    unit_moved,
)
from tests.core.study.demo import alarms, asked_of, at, demo, found

Change = Callable[[Document], Document]

RIGHT_SHAFT = Subject(DriveShaft, "drive_shaft", "right")


def joint(name: str, side: str) -> Subject:
    return Subject(Point, name, "left" if side == "left" else "right")


def tube(name: str) -> Subject:
    return Subject(Tube, name)


LIKE_FAULTS: dict[str, tuple[Change, set[tuple[str, str]]]] = {
    "the right shaft too long": (
        moved(RIGHT_SHAFT, "length", 20.0),
        {("shaft_plunge", "drive_shaft_R"), ("shaft_bench", "drive_shaft_R")},
    ),
    "the left shaft too short": (
        moved(Subject(DriveShaft, "drive_shaft", "left"), "length", -20.0),
        {("shaft_plunge", "drive_shaft_L"), ("shaft_bench", "drive_shaft_L")},
    ),
    "a misread bench": (
        moved(RIGHT_SHAFT, "bench.pushed_home", -5.0),
        {("shaft_bench", "drive_shaft_R")},
    ),
    "a hub measured to the wrong face": (
        moved(Subject(Hub, "rear_hub"), "seat_to_face", 3.0),
        {("hub_seats", "drive_shaft_L"), ("hub_seats", "drive_shaft_R")},
    ),
    "the wheels 25 further out": (
        moved(Subject(Corner, "rear corner", "right"), "upright.hub_face.y", -25.0),
        {("shaft_plunge", "drive_shaft_L"), ("shaft_plunge", "drive_shaft_R")},
    ),
    "the unit 20 to the left": (
        unit_moved(Vec3(0.0, 20.0, 0.0)),
        {("shaft_plunge", "drive_shaft_L"), ("shaft_plunge", "drive_shaft_R")},
    ),
    "the unit 15 back": (
        unit_moved(Vec3(-15.0, 0.0, 0.0)),
        {("stay_fit", "M3_torque_stay")},
    ),
    "a stay of another length": (
        moved(Subject(Mount, "M3_torque_stay"), "stay_length", -6.0),
        {("stay_fit", "M3_torque_stay")},
    ),
    "a tube through the unit": (
        tube_added("through", "T25", joint("K", "left"), joint("J", "right")),
        {("unit_gap", "through"), ("way_out", "through")},
    ),
    "a tube under the unit": (
        tube_added("under", "T25", joint("E_low", "left"), joint("J", "right")),
        {("way_out", "under")},
    ),
    "both tubes at a bend left out": (
        together(left_out(tube("M34_damper_post")), left_out(tube("M41_T_cross"))),
        {("unmet_bend", "T_L"), ("unmet_bend", "T_R"), ("loose_joint", "T_R")},
    ),
    "the door bars teed together": (
        together(
            joints_added("Y", Subject(Tube, "M27_door_bar", "left"), Vec3(-1000.0, 600.0, 400.0)),
            tube_added("bar", "T25", joint("Y", "left"), joint("Y", "right")),
        ),
        {("mid_tube_tee", "Y_L"), ("mid_tube_tee", "Y_R")},
    ),
    "the right mount bush 60 lower": (
        moved(Subject(Mount, "M1_right_engine"), "place.z", -60.0),
        {("bracket_reach", "M1_right_engine")},
    ),
    "the rack feet 40 higher": (
        moved(joint("rack_foot", "right"), "at.z", 40.0),
        {("bracket_reach", "rack_foot_L"), ("bracket_reach", "rack_foot_R")},
    ),
    "a front pick-up 60 back": (
        moved(joint("front_lower_inner_front", "left"), "at.x", -60.0),
        {("bracket_reach", "front_lower_inner_front_L")},
    ),
    "a bracket left out": (
        left_out(Subject(Bracket, "rear_toe_inner_bracket")),
        {("not_carried", "rear_toe_inner_L"), ("not_carried", "rear_toe_inner_R")},
    ),
    "a die too large for its bends": (
        another(Subject(Die, "die T45"), "radius", 2000.0),
        {("tube_shape", "M01_main_hoop")},
    ),
    "an engine mount's bracket on a plain place of a tube": (
        together(
            joints_added("Z", Subject(Tube, "M57_J_to_K", "left"), Vec3(-2240.0, 494.0, 370.0)),
            lambda d: another(
                Subject(Bracket, "M2_left_gearbox_bracket"), "on", joint("Z", "left").ref(d)
            )(d),
        ),
        {("mid_tube_tee", "Z_L")},
    ),
}


@pytest.mark.parametrize("name", LIKE_FAULTS)
def test_a_fault_like_a_seeded_one_is_reported(name: str) -> None:
    change, wanted = LIKE_FAULTS[name]
    reported = {(rule, subjects[0]) for rule, subjects in alarms(asked_of(change))}
    assert wanted <= reported


def test_a_shaft_too_long_on_the_right_is_reported_on_the_right_alone() -> None:
    assessment = asked_of(moved(RIGHT_SHAFT, "length", 20.0))
    assert found(assessment, "shaft_plunge", "drive_shaft_L").verdict == "fine"
    # As on the left, where it is known: the shaft slides in by what it is too long.
    right = found(assessment, "shaft_plunge", "drive_shaft_R")
    assert right.measured == pytest.approx(-20.0, abs=0.05)


def with_note(document: Document) -> Document:
    about = (Subject(Tube, "M20_screen_header").ref(document),)
    return make(document, Note, "why", text="it was to hand", about=about)[0]


def with_facts(document: Document) -> Document:
    for text in ("K_L.at", "T38.outside", "rear corner:left.upright.hub_face.x"):
        fact = Fact(source="measured", uncertainty=0.5, how="tape")
        document = set_fact(document, at(document, text), fact)
    return document


def renamed(document: Document) -> Document:
    for things, name in ((document.points, "new"), (document.tubes, "new"), (document.hubs, "h")):
        document = rename(document, things[-1].id, name)
    return document


def node_moved(name: str, by: Vec3) -> Change:
    def change(document: Document) -> Document:
        ref = joint(name, "left").ref(document)
        thing = Lookup(document).by_id[ref.id]
        assert isinstance(thing, Point)
        assert thing.at is not None
        return move_point(document, ref, Vec3(*map(sum, zip(thing.at, by, strict=True))))

    return change


def other_steel(document: Document) -> Document:
    document, steel = make(document, Material, "other", density_kg_m3=7800.0, yield_mpa=400.0)
    return another(Subject(Section, "T25"), "material", Ref(steel.id))(document)


def post_mirrored(document: Document) -> Document:
    """A single tube on the left, from joint to joint, then a pair."""
    ends = (joint("A_low", "left").ref(document), joint("B_up", "left").ref(document))
    without = left_out(tube("M32_front_side_diag"))(document)
    section = Subject(Section, "T25").ref(document)
    drawn, post = draw_tube(without, "post", section, *ends)
    return mirror(drawn, post.id)


def split_at_a_through_joint(document: Document) -> Document:
    ref = Subject(Tube, "M63_G_post", "left").ref(document)
    return split_tube(document, ref, joint("G_mid", "left").ref(document), "upper half")[0]


def let_loose_where_it_is(document: Document) -> Document:
    """A joint that follows a tube, given the coordinates it has, and tied to the tube again."""
    ref = joint("G_mid", "left").ref(document)
    post = Subject(Tube, "M63_G_post", "left").ref(document)
    point = next(p for p in document.points if p.id == ref.id)
    assert isinstance(point.along, Along)
    along = point.along
    loose = set_loose(document, ref, Vec3(-2600.0, 320.0, 320.0))
    return tie_to_tube(loose, ref, msgspec.structs.replace(along, tube=post))


def side_freed_and_rejoined(document: Document) -> Document:
    ref = joint("T", "left").ref(document)
    return rejoin(release(document, ref, "at"), ref, "at")


HORN_AT = Vec3(100.0, 200.0, 300.0)

HARMLESS: dict[str, Change] = {
    "things renamed": renamed,
    "a note": with_note,
    "facts about numbers": with_facts,
    "a joint 2 mm back": node_moved("T", Vec3(-2.0, 0.0, 0.0)),
    "a joint 2 mm up": node_moved("E_up", Vec3(0.0, 0.0, 2.0)),
    "a joint 2 mm out": node_moved("A_low", Vec3(0.0, 2.0, 0.0)),
    "a bare mark along a tube": joints_added(
        "mark", Subject(Tube, "M26_sill", "left"), Vec3(-1030.0, 560.0, 130.0)
    ),
    "a tube more, clear of everything": tube_added(
        "more", "T25", joint("D_sh", "left"), joint("E_up", "right")
    ),
    "another steel": other_steel,
    "a single post mirrored": post_mirrored,
    "a tube split at a joint that two others end on": split_at_a_through_joint,
    "a joint let loose and tied to its tube again": let_loose_where_it_is,
    "the unit 1 mm to the left": unit_moved(Vec3(0.0, 1.0, 0.0)),
    "the unit 1 mm to the right": unit_moved(Vec3(0.0, -1.0, 0.0)),
    "tubes tacked": lambda d: set_state(d, Subject(Tube, "M26_sill").ref(d), "tacked"),
    "a part weighed": lambda d: make(d, Part, "horn", mass_kg=0.4, centre_of_gravity=HORN_AT)[0],
    "a steel listed twice": lambda d: duplicate(d, d.materials[0].id, "the same again")[0],
    "a side freed and rejoined": side_freed_and_rejoined,
    "a thicker sheet": another(Subject(Panel, "P1_floor"), "thickness", 1.5),
    "a diagonal of thicker tube": lambda d: set_section(
        d, [Subject(Tube, "M23_hoop_diagonal").ref(d)], Subject(Section, "T32").ref(d)
    ),
}


@pytest.mark.parametrize("name", HARMLESS)
def test_a_harmless_change_raises_no_alarm(name: str) -> None:
    changed = HARMLESS[name](demo())
    assert changed is not demo()
    assert alarms(asked_of(HARMLESS[name])) == set()


def test_what_was_only_said_about_numbers_leaves_every_figure() -> None:
    plain = asked_of(lambda document: document)
    with_words = asked_of(with_facts)
    assert [f.measured for f in plain.findings()] == [f.measured for f in with_words.findings()]
