"""The eighteen faults: each is the patch of the neutral file, and is reported as it must be.

What must be reported, with its figures, is in tests/cars/faults.json: worked out on the neutral
file by a program of its own that shares no code with this one.
"""

import copy
import json
from typing import Any

import msgspec
import pytest

from core.assess.mount_moves import case_moved, gaps_moved
from core.document.lookup import Lookup, entities
from core.document.project import Document
from core.edits.things import rename
from core.engine.assess import Assessment, compute
from core.engine.finding import Finding
from core.study.faults import FAULTS, Fault, fault
from core.study.rests import StudyError
from core.study.slips import SubjectMissingError
from tests.cars.convert import DEMO, project_of
from tests.cars.neutral import HERE, Plain, read_neutral
from tests.core.study.demo import alarms, asked, asked_of, demo, found, rules_of, second

EXPECTED: dict[str, Any] = {
    entry["id"]: entry for entry in json.loads((HERE / "faults.json").read_text("utf-8"))
}
PATCHES: dict[str, Any] = {
    entry["id"]: entry["patch"] for entry in read_neutral(DEMO)["seeded_faults"]
}
SEEN = [each for each in FAULTS if each.seen_by]
UNSEEN = [each for each in FAULTS if not each.seen_by]

by_name = pytest.mark.parametrize("each", FAULTS, ids=lambda each: each.name)


def patched(car: Plain, patch: list[Plain]) -> Plain:
    """A neutral file with one patch done to it."""
    car = copy.deepcopy(car)
    for step in patch:
        *way, last = step["path"]
        at: Any = car
        for key in way:
            at = at[key]
        if step["op"] in ("set", "insert_key"):
            at[last] = step["value"]
        elif step["op"] == "add_to":
            at[last] += step["value"]
        elif step["op"] == "append":
            at[last].append(step["value"])
        else:
            assert step["op"] in ("remove_member", "remove_id")
            at[last] = [entry for entry in at[last] if entry["id"] not in step["value"]]
    return car


def by_names(document: Document) -> dict[str, Any]:
    """All things of a document with names in place of ids, for ids count up as things are made."""
    lookup = Lookup(document)

    def named(value: Any) -> Any:  # noqa: ANN401 - walks plain data
        if isinstance(value, list | tuple):
            items: list[Any] = list(value)
            if items and isinstance(items[0], str) and items[0] in lookup.by_id:
                thing = lookup.by_id[items[0]]
                return [type(thing).__name__, thing.name, *items[1:]]
            return [named(item) for item in items]
        if isinstance(value, dict):
            return {key: named(item) for key, item in value.items() if key != "id"}
        return round(value, 6) if isinstance(value, float) else value

    return {
        f"{type(thing).__name__} {thing.name}": named(msgspec.to_builtins(thing))
        for thing in entities(document)
    }


def differing(a: dict[str, Any], b: dict[str, Any]) -> set[str]:
    return {name for name in a.keys() | b.keys() if a.get(name) != b.get(name)}


def expected(each: Fault, path: str) -> Any:  # noqa: ANN401 - figures of any shape
    return EXPECTED[each.name]["expected_results"][path]


def measured(finding: Finding) -> float:
    assert finding.measured is not None
    return finding.measured


def test_there_are_the_eighteen_faults_of_the_list_in_its_order() -> None:
    assert [each.name for each in FAULTS] == list(EXPECTED)
    assert [each.name for each in FAULTS] == [f"SF{n:02d}" for n in range(1, 19)]


@by_name
def test_a_fault_is_seen_or_says_why_not(each: Fault) -> None:
    assert bool(each.seen_by) != bool(each.unseen)


@pytest.mark.parametrize(
    "each", [f for f in FAULTS if f.name != "SF02"], ids=lambda each: each.name
)
def test_a_fault_does_to_the_car_what_its_patch_does_to_the_neutral_file(each: Fault) -> None:
    wanted = by_names(project_of(patched(read_neutral(DEMO), PATCHES[each.name])).drawn)
    got = by_names(each.overlay(demo()))
    assert differing(wanted, got) == set()
    assert differing(by_names(demo()), got) != set()


def test_the_unit_hung_to_the_right_moves_its_origin_and_nothing_else() -> None:
    # The neutral file says it as an offset of the unit; here the unit's frame is moved.
    assert PATCHES["SF02"] == [
        {"op": "set", "path": ["power_unit", "offset_from_design"], "value": [0, -20, 0]}
    ]
    got = fault("SF02").overlay(demo())
    (was,), (now,) = demo().power_units, got.power_units
    assert now.origin == was.origin._replace(y=was.origin.y - 20.0)
    assert msgspec.structs.replace(now, origin=was.origin) == was
    assert len(differing(by_names(demo()), by_names(got))) == 1


def test_the_car_without_a_fault_raises_no_alarm() -> None:
    assert alarms(asked()) == set()


@pytest.mark.parametrize("each", SEEN, ids=lambda each: each.name)
def test_a_fault_is_reported_by_the_rules_it_names_and_no_others(each: Fault) -> None:
    assert rules_of(alarms(asked_of(each.overlay))) == set(each.seen_by)


def test_a_shaft_too_long_runs_out_of_stroke() -> None:
    each = fault("SF01")
    assessment = asked_of(each.overlay)
    plunge_at_design = next(row[1] for row in expected(each, "shafts/left/rows") if row[0] == 0)
    left = found(assessment, "shaft_plunge", "drive_shaft_L")
    assert left.verdict == "no"
    assert measured(left) == pytest.approx(plunge_at_design, abs=0.005)
    assert found(assessment, "shaft_plunge", "drive_shaft_R").verdict == "fine"
    bench = found(assessment, "shaft_bench", "drive_shaft_L")
    assert bench.verdict == "fine"  # it is drawn as it was measured
    assert f"{expected(each, 'shafts/left/from_bench')['length_joint_centres']:.2f}" in (
        bench.sentence
    )


def test_a_unit_hung_to_the_right_fouls_the_frame_and_both_shafts() -> None:
    each = fault("SF02")
    assessment = asked_of(each.overlay)
    for side in ("left", "right"):
        at_design = next(row[1] for row in expected(each, f"shafts/{side}/rows") if row[0] == 0)
        shaft = found(assessment, "shaft_plunge", f"drive_shaft_{side[0].upper()}")
        assert shaft.verdict == "no"
        assert measured(shaft) == pytest.approx(at_design, abs=0.005)
    check_gap(assessment, "unit_gap", expected(each, "power_unit_clearance_min"))
    check_gap(assessment, "way_out", expected(each, "drop_path_clearance_min"))
    check_reaches(assessment, expected(each, "mount_reach_mm"))
    stay = found(assessment, "stay_fit", "M3_torque_stay")
    apart = expected(each, "torque_stay_length_mm")
    drawn = demo().mounts[2].stay_length
    assert drawn is not None
    assert measured(stay) == pytest.approx(apart - drawn, abs=0.05)


def check_gap(assessment: Assessment, rule: str, wanted: list[Any]) -> None:
    gap, tube, part = wanted
    finding = found(assessment, rule, tube)
    assert finding.verdict == "no"
    assert measured(finding) == pytest.approx(gap, abs=0.0501)  # expected to a tenth
    assert part in finding.sentence
    worst = min(measured(f) for f in assessment.findings() if f.rule == rule)
    assert measured(finding) == worst


def check_reaches(assessment: Assessment, wanted: dict[str, float]) -> None:
    for mount, reach in wanted.items():
        finding = found(assessment, "bracket_reach", mount)
        assert measured(finding) == pytest.approx(reach, abs=0.0501)
        assert (finding.verdict == "no") == (reach > 80.0)  # the builder's own limit


def test_a_cross_tube_under_the_unit_bars_its_way_out() -> None:
    each = fault("SF05")
    assessment = asked_of(each.overlay)
    check_gap(assessment, "way_out", expected(each, "drop_path_clearance_min"))
    assert found(assessment, "unit_gap", "M90_cross").verdict == "no"


@pytest.mark.parametrize("name", ["SF06", "SF07"])
def test_bends_joints_and_tees_are_reported_where_they_are(name: str) -> None:
    topology = expected(fault(name), "topology")
    assessment = asked_of(fault(name).overlay)
    reported = {
        rule: sorted(subjects[0] for r, subjects in alarms(assessment) if r == rule)
        for rule in ("unmet_bend", "mid_tube_tee", "loose_joint")
    }
    assert reported == {
        "unmet_bend": topology["bends_not_met_by_a_tube"],
        "mid_tube_tee": topology["tees_into_mid_tube"],
        "loose_joint": topology["loose_nodes"],
    }


def test_a_bush_placed_low_makes_its_bracket_too_long() -> None:
    each = fault("SF10")
    check_reaches(asked_of(each.overlay), expected(each, "mount_reach_mm"))


def test_a_floor_left_out_leaves_its_bay_open() -> None:
    (sentence,) = EXPECTED["SF17"]["checker_reports"]
    corners = sentence.split(": ")[1].split()
    ((rule, subjects),) = alarms(asked_of(fault("SF17").overlay))
    finding = next(
        f for f in asked_of(fault("SF17").overlay).findings() if f.rule == rule and not f.accepted
    )
    assert rule == "open_bay"
    assert all(corner in " ".join((*subjects, finding.sentence)) for corner in corners)


def test_a_toe_link_bracket_welded_high_steers_the_rear_wheels() -> None:
    toe = expected(fault("SF03"), "rear/toe_in_deg")
    for side in ("left", "right"):
        finding = found(asked_of(fault("SF03").overlay), "bump_steer", f"rear corner {side}")
        assert measured(finding) == pytest.approx(max(map(abs, toe)), abs=6e-4)
        assert finding.governing == "70 of bump"


def test_a_rack_mounted_high_steers_the_front_wheels_and_tilts_the_track_rod() -> None:
    asked_for = asked_of(fault("SF04").overlay)
    toe = expected(fault("SF04"), "front/toe_in_deg")
    tilt = expected(fault("SF04"), "front/link_end_tilt/rows/tie_outer")
    for side, word in (("L", "left"), ("R", "right")):
        steered = found(asked_for, "bump_steer", f"front corner {word}")
        assert measured(steered) == pytest.approx(max(map(abs, toe)), abs=6e-4)
        tilted = found(asked_for, "link_tilt", f"front_tie_outer_{side}")
        assert measured(tilted) == pytest.approx(tilt[1], abs=0.06)
        assert measured(tilted) > 12.0


def test_a_droop_stop_left_out_pulls_the_damper_apart() -> None:
    opened = [
        finding
        for finding in asked_of(fault("SF11").overlay).findings()
        if finding.rule == "damper_open" and finding.governing == "90 of droop"
    ]
    assert [finding.verdict for finding in opened] == ["no", "no"]
    assert all(measured(finding) < 0.0 for finding in opened)


def test_toe_link_bolts_turned_upright_tilt_too_far() -> None:
    asked_for = asked_of(fault("SF12").overlay)
    for end in ("inner", "outer"):
        row = expected(fault("SF12"), f"rear/link_end_tilt/rows/toe_{end}")
        for side in "LR":
            finding = found(asked_for, "link_tilt", f"rear_toe_{end}_{side}")
            assert measured(finding) == pytest.approx(row[1], abs=0.06)


def test_soft_mounts_let_the_unit_through_its_stops_and_into_a_tube() -> None:
    """Every figure of the check that shares no code with this; beyond a stop it is not known."""
    changed = fault("SF18").overlay(demo())
    first = compute(changed, {}, case_moved, "first_gear", "fitted")
    gap = compute(changed, {}, gaps_moved, "first_gear", "fitted", 1.0)[0]
    mm, tube, part = expected(fault("SF18"), "mounts/cases/first_gear_engine_limit/least_gap_moved")
    wanted = expected(fault("SF18"), "mounts/cases/first_gear_engine_limit/turn_deg")
    lookup = Lookup(changed)

    assert first.moved.turn_deg == pytest.approx(wanted, abs=5.01e-4)
    assert [f"{lookup.label(ref)} {axis}" for ref, axis in first.stops_met] == expected(
        fault("SF18"), "mounts/cases/first_gear_engine_limit/stops_met"
    )
    assert (lookup.label(gap.tube), gap.part) == (tube, part)
    assert gap.gap == pytest.approx(mm, abs=0.0501)
    past = found(asked_of(fault("SF18").overlay), "unit_gap_past_stops")
    assert past.verdict == "unknown"
    assert tube in past.sentence


def test_soft_mounts_meet_their_stops_in_the_loads_of_the_check() -> None:
    changed = fault("SF18").overlay(demo())
    passed = expected(fault("SF18"), "mounts/limits_passed_in")
    ours = {
        "first_gear_engine_limit": "first_gear",
        "reverse_engine_limit": "reverse",
        "first_gear_grip_mu_1.0": "grip_1.0",
        "first_gear_grip_mu_1.5": "grip_1.5",
        "clutch_limit": "clutch",
        "bump_3g": "bump",
        "braking_1g": "braking",
        "drive_off_1g": "driving",
        "cornering_left_1g": "left",
        "cornering_right_1g": "right",
    }

    met, near = set[str](), set[str]()
    for theirs, key in ours.items():
        if compute(changed, {}, case_moved, key, "fitted").stops_met:
            met.add(theirs)
        if compute(changed, {}, gaps_moved, key, "fitted", 1.0)[0].gap < 5.0:  # as wanted there
            near.add(theirs)

    assert met == set(passed["mount stop met"])
    assert near == set(passed["power unit clearance moved"])


def test_these_faults_are_not_seen_yet() -> None:
    # When a room that sees one of them is built, this test says so: then move it to those seen.
    assert [each.name for each in UNSEEN] == [
        "SF09",
        "SF13",
        "SF14",
        "SF15",
    ]


@pytest.mark.parametrize("each", UNSEEN, ids=lambda each: each.name)
def test_a_fault_marked_unseen_changes_no_finding(each: Fault) -> None:
    assert changed_findings(asked(), asked_of(each.overlay)) == set()


def changed_findings(before: Assessment, after: Assessment) -> set[tuple[str, str]]:
    was = {finding.key: finding for finding in before.findings()}
    now = {finding.key: finding for finding in after.findings()}
    lookup = Lookup(after.document)
    return {
        (rule, lookup.by_id[subjects[0].id].name)
        for rule, subjects in was.keys() | now.keys()
        if was.get((rule, subjects)) != now.get((rule, subjects))
    }


@by_name
def test_a_fault_says_so_on_a_car_that_lacks_its_subject(each: Fault) -> None:
    with pytest.raises(SubjectMissingError, match="in this car"):
        each.overlay(Document())


def test_a_fault_finds_its_thing_by_name_and_not_by_number() -> None:
    renamed = rename(demo(), demo().mounts[1].id, "another name")
    with pytest.raises(SubjectMissingError, match="«M2_left_gearbox»"):
        fault("SF10").overlay(renamed)


def test_a_fault_of_a_value_that_is_not_known_is_refused() -> None:
    shaft = msgspec.structs.replace(demo().drive_shafts[0], bench=None, right=(), facts=())
    with pytest.raises(SubjectMissingError, match="«bench.pushed_home»"):
        fault("SF01").overlay(msgspec.structs.replace(demo(), drive_shafts=(shaft,)))


def test_some_faults_fit_the_second_car_and_the_others_are_refused() -> None:
    fitting: set[str] = set()
    for each in FAULTS:
        try:
            changed = each.overlay(second())
        except SubjectMissingError:
            continue
        assert changed != second()
        fitting.add(each.name)
    assert {"SF02", "SF04", "SF11"} <= fitting < {each.name for each in FAULTS}


def test_a_fault_is_found_by_its_name() -> None:
    assert fault("sf07") is FAULTS[6]
    with pytest.raises(StudyError, match="SF01 to SF18"):
        fault("SF19")
