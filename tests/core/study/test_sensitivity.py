"""How a finding moves with a number, and how sure its figure is: against closed forms.

Addition in quadrature: JCGM 100:2008 (GUM), 5.1.2, equation (10). The closed forms are worked out
here from the places in the neutral file, by plain geometry.
"""

from math import cos, hypot, radians, sqrt

import msgspec
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.assess.clearance import closest_at_rest
from core.assess.width import shaft_at_design
from core.checks.rules import assess_all
from core.document.base import Fact, Ref, Vec3
from core.document.layers import replace_thing
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.steel import Point
from core.edits.things import make
from core.edits.values import set_fact
from core.engine.address import Address, AddressError
from core.engine.finding import Finding
from core.engine.overlay import shifted
from core.study.rests import StudyError
from core.study.sensitivity import Doubt, doubt, sensitivity, uncertainty_of
from core.study.slips import Subject, tube_added, unit_moved
from tests.core.study.demo import asked, asked_of, at, demo, found

LENGTH = "drive_shaft_L.length"


def left_plunge() -> Finding:
    return found(asked(), "shaft_plunge", "drive_shaft_L")


def slope(finding: Finding, text: str, step: float | None = None) -> float:
    per_unit = sensitivity(asked(), finding, at(demo(), text), step).per_unit
    assert per_unit is not None
    return per_unit


def across_the_slide() -> float:
    """Distance of the left outer joint from the line the inner joint slides along, mm."""
    unit, corner = demo().power_units[0], demo().corners[1]
    assert unit.outputs is not None
    inner = np.array(unit.origin) + np.array(unit.outputs.left)  # the unit stands square in the car
    outer = np.array(corner.upright.hub_face) - np.array([0.0, 82.0, 0.0])
    off = outer - inner
    return hypot(off[0], off[2])  # it slides along y


def test_plunge_follows_the_length_of_the_shaft_as_worked_out() -> None:
    # s = d - sqrt(L^2 - r^2), so ds/dL = -L / sqrt(L^2 - r^2) = -1 / cos(angle of the shaft).
    length, off = 480.48, across_the_slide()
    found_slope = slope(left_plunge(), LENGTH, 0.01)
    assert found_slope == pytest.approx(-length / sqrt(length**2 - off**2), abs=1e-4)
    angle = asked().value(shaft_at_design, Ref(demo().drive_shafts[0].id, "left")).inner_angle_deg
    assert found_slope == pytest.approx(-1.0 / cos(radians(angle)), abs=1e-4)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("rear_hub.joint_to_face", -1.0),  # the outer joint comes in by it
        ("corner2:left.upright.hub_face.y", 1.0),
        ("power_unit1.origin.y", -1.0),
        ("power_unit1.outputs.left.y", -1.0),
    ],
)
def test_plunge_follows_what_lies_along_the_slide_one_to_one(text: str, wanted: float) -> None:
    assert slope(left_plunge(), text) == pytest.approx(wanted, abs=1e-4)


def test_plunge_follows_what_lies_across_the_slide_by_the_slope_of_the_shaft() -> None:
    # ds/dr = r / sqrt(L^2 - r^2), and dr/dz is the share of r that is upward.
    off = across_the_slide()
    up = demo().corners[1].upright.hub_face.z - (demo().power_units[0].origin.z - 20.0)
    wanted = off / sqrt(480.48**2 - off**2) * (up / off)
    assert slope(left_plunge(), "corner2:left.upright.hub_face.z", 0.01) == pytest.approx(
        wanted, abs=1e-3
    )


@pytest.mark.parametrize("axis", [0, 1, 2])
def test_a_gap_follows_the_unit_along_the_line_between_the_closest_points(axis: int) -> None:
    # The least distance of two bodies changes by the move along the line that joins them.
    gap = asked().value(closest_at_rest)
    towards = np.array(gap.on_tube) - np.array(gap.on_unit)
    normal = towards / np.linalg.norm(towards)
    finding = found(asked(), "unit_gap", "M59_backstay_R")
    assert slope(finding, f"power_unit1.origin.{'xyz'[axis]}") == pytest.approx(
        -normal[axis], abs=1e-6
    )


def test_a_gap_loses_half_of_what_a_tube_gains_in_diameter() -> None:
    finding = found(asked(), "unit_gap", "M59_backstay_R")
    assert slope(finding, "T38.outside") == pytest.approx(-0.5, abs=1e-9)


def test_a_reach_follows_the_mount_along_the_bracket() -> None:
    finding = found(asked(), "bracket_reach", "M2_left_gearbox")
    unit, mount = demo().power_units[0], demo().mounts[1]
    node = next(p.at for p in demo().points if p.name == "K")
    assert node is not None
    away = np.array(unit.origin) + np.array(mount.place) - np.array(node)
    for axis, letter in enumerate("xyz"):
        assert slope(finding, f"mount2.place.{letter}", 0.01) == pytest.approx(
            away[axis] / np.linalg.norm(away), abs=1e-5
        )


@settings(max_examples=15, deadline=None)
@given(st.floats(0.01, 5.0), st.sampled_from(["origin.y", "outputs.left.y"]))
def test_the_slope_of_a_straight_relation_is_the_same_at_any_step(step: float, path: str) -> None:
    assert slope(left_plunge(), f"power_unit1.{path}", step) == pytest.approx(-1.0, abs=1e-3)


def test_the_step_is_the_uncertainty_or_the_programs_own() -> None:
    finding = left_plunge()
    assert sensitivity(asked(), finding, at(demo(), LENGTH)).step == 0.6
    assert sensitivity(asked(), finding, at(demo(), "power_unit1.origin.x")).step == 0.5
    angle = at(demo(), "drive_shaft_L.inner_angle_deg")
    assert (
        sensitivity(asked(), found(asked(), "shaft_inner_angle", "drive_shaft_L"), angle).step
        == 0.25
    )
    ratio = sensitivity(asked(), finding, at(demo(), "power_unit1.final_drive"))
    assert ratio.step == pytest.approx(0.0406)
    assert ratio.per_unit == 0.0


def test_the_contribution_is_the_slope_times_the_uncertainty() -> None:
    part = sensitivity(asked(), left_plunge(), at(demo(), LENGTH))
    assert part.per_unit is not None
    assert part.contribution == pytest.approx(part.per_unit * 0.6, abs=1e-9)
    assert (
        sensitivity(asked(), left_plunge(), at(demo(), "power_unit1.origin.y")).contribution is None
    )  # nothing says how sure it is


def test_verdicts_on_either_side_are_told() -> None:
    finding = found(asked(), "unit_gap", "M59_backstay_R")  # 14.5, wanted 10, tight to 15
    part = sensitivity(asked(), finding, at(demo(), "power_unit1.origin.y"), 6.0)
    assert (part.verdict_low, part.verdict_high) == ("no", "fine")


def test_a_finding_that_another_tube_takes_over_says_so() -> None:
    # Its upper end 60 further out, the backstay is clear and another tube comes closest.
    finding = found(asked(), "unit_gap", "M59_backstay_R")
    part = sensitivity(asked(), finding, at(demo(), "D_top_L.at.y"), 60.0)
    assert part.verdict_high is None
    assert "takes its place" in part.note
    assert part.per_unit is not None  # from the side where it is still the closest


def tube_through_the_header(document: Document) -> Document:
    """A tube fore and aft that runs into the screen header with no joint."""
    across = next(p.at for p in document.points if p.name == "W")
    assert across is not None
    for name, ahead in (("P1", -200.0), ("P2", 200.0)):
        place = Vec3(across.x + ahead, 100.0, across.z)
        document = make(document, Point, name, at=place)[0]
    return tube_added("stray", "T25", Subject(Point, "P1"), Subject(Point, "P2"))(document)


def test_a_finding_that_is_gone_on_both_sides_has_no_slope() -> None:
    assessment = asked_of(tube_through_the_header)
    finding = next(f for f in assessment.findings() if f.rule == "touching")
    address = at(assessment.document, "P1.at.z")
    part = sensitivity(assessment, finding, address, 400.0)
    assert (part.per_unit, part.contribution) == (None, None)
    assert (part.verdict_low, part.verdict_high) == (None, None)
    assert part.note == "400 lower, it is gone; 400 higher, it is gone"
    near = sensitivity(assessment, finding, address, 1.0)
    assert near.verdict_low == near.verdict_high == "no"


def test_a_shift_that_cannot_be_is_told_and_not_taken_for_no_effect() -> None:
    part = sensitivity(asked(), left_plunge(), at(demo(), LENGTH), 500.0)
    assert "500 lower is not possible" in part.note
    assert part.verdict_low is None
    axes = sensitivity(asked(), left_plunge(), at(demo(), "power_unit1.axes.x.x"), 0.5)
    assert axes.per_unit is None
    assert "right angles" in axes.note


def test_what_is_no_single_number_is_refused() -> None:
    for text in ("power_unit1.origin", "tube9.section", "mount1.captive"):
        with pytest.raises(StudyError, match="not a single number"):
            sensitivity(asked(), left_plunge(), at(demo(), text))
    with pytest.raises(StudyError, match="above zero"):
        sensitivity(asked(), left_plunge(), at(demo(), LENGTH), 0.0)
    with pytest.raises(AddressError):
        sensitivity(asked(), left_plunge(), Address(Ref("hub9"), "x"))


def bounded(document: Document) -> Document:
    """The demo car with every number that the left plunge rests on marked as chosen, but three."""
    chosen = Fact(source="chosen")
    for text in ("power_unit1", "corner2:left"):
        document = set_fact(document, at(document, text), chosen)
    return set_fact(
        document,
        at(document, "corner2:left.upright.hub_face.z"),
        Fact(source="measured", uncertainty=2.0),
    )


def doubt_of_the_plunge(document: Document) -> Doubt:
    assessment = assess_all(document, {}, asked())
    return doubt(assessment, found(assessment, "shaft_plunge", "drive_shaft_L"))


def test_contributions_add_in_quadrature() -> None:
    off = across_the_slide()
    along = sqrt(480.48**2 - off**2)
    up = demo().corners[1].upright.hub_face.z - (demo().power_units[0].origin.z - 20.0)
    wanted = {
        LENGTH: 0.6 * 480.48 / along,
        "rear_hub.joint_to_face": 0.3,
        "corner2:left.upright.hub_face.z": 2.0 * abs(up) / along,
    }
    found_doubt = doubt_of_the_plunge(bounded(demo()))
    parts = {p.address: abs(p.contribution or 0.0) for p in found_doubt.parts}
    assert parts == {
        at(demo(), text): pytest.approx(value, abs=1e-3) for text, value in wanted.items()
    }
    assert found_doubt.total == pytest.approx(hypot(*wanted.values()), abs=1e-3)
    sizes = list(parts.values())
    assert sizes == sorted(sizes, reverse=True)
    assert not found_doubt.is_lower_bound
    assert found_doubt.words == "± 0.68 mm, one standard uncertainty."


def test_guessed_numbers_make_the_total_a_lower_bound() -> None:
    found_doubt = doubt(asked(), left_plunge())
    assert found_doubt.is_lower_bound
    assert found_doubt.words.startswith("At least ± 0.67 mm: nothing bounds ")
    open_ones = {part.address for part in found_doubt.not_bounded}
    assert at(demo(), "power_unit1.origin.y") in open_ones
    assert at(demo(), "corner2:left.upright.hub_face.y") not in open_ones  # chosen
    effects = [part.effect for part in found_doubt.not_bounded]
    assert effects == sorted(effects, reverse=True)


def test_a_doubt_of_nothing_but_guesses_has_no_figure() -> None:
    words = doubt(asked(), found(asked(), "bracket_reach", "rack_foot_L")).words
    assert words.startswith("Its ± is not known: it rests on 3 numbers")


def test_an_amount_off_is_as_unsure_as_what_it_is_the_difference_of() -> None:
    # |a - b| close to nought: up and down cancel in the central difference, but not the doubt.
    found_doubt = doubt(asked(), found(asked(), "hub_seats", "drive_shaft_L"))
    assert found_doubt.total == pytest.approx(hypot(0.3, 0.3, 0.3))  # bench, and two hub depths


def off_the_bench() -> float:
    """Doubt of the length between joint centres, with the readings' own figures: GUM, 5.1.2."""
    bench = demo().drive_shafts[0].bench
    assert bench is not None
    assert bench.seats_uncertainty is not None
    assert bench.gearbox_seat_uncertainty is not None
    assert bench.hub_seat_uncertainty is not None
    middle = bench.seats_uncertainty / sqrt(2.0)
    return hypot(middle, bench.gearbox_seat_uncertainty, bench.hub_seat_uncertainty)


def length_exact(document: Document) -> Document:
    for side in "LR":
        length = at(document, f"drive_shaft_{side}.length")
        document = set_fact(document, length, Fact(source="chosen"))
    return document


@pytest.mark.parametrize("side", ["L", "R"])
def test_a_length_held_against_the_bench_is_as_unsure_as_the_finding_says(side: str) -> None:
    # The finding's own sentence: «the bench readings give 480.50 ± 0.55».
    finding = found(asked_of(length_exact), "shaft_bench", f"drive_shaft_{side}")
    assert doubt(asked_of(length_exact), finding).total == pytest.approx(off_the_bench())
    assert f"± {off_the_bench():.2f}" in finding.sentence
    both = doubt(asked(), found(asked(), "shaft_bench", f"drive_shaft_{side}"))
    assert both.total == pytest.approx(hypot(off_the_bench(), 0.6))  # and the drawn length's own


def test_a_stroke_is_as_unsure_as_the_two_readings_and_the_stroke_kept_is_no_reading() -> None:
    # Half of the difference of two readings of ± 0.5 each: 0.5 sqrt(2) / 2.
    found_doubt = doubt(asked(), found(asked(), "shaft_stroke", "drive_shaft_L"))
    assert found_doubt.total == pytest.approx(0.5 / sqrt(2.0))
    assert {part.address.path for part in found_doubt.parts} == {
        "bench.pushed_home",
        "bench.pulled_to_stop",
    }


def test_a_fact_about_a_reading_goes_before_the_bench_and_the_bench_before_a_branch() -> None:
    lookup = Lookup(demo())
    home = at(demo(), "drive_shaft_L.bench.pushed_home")
    assert uncertainty_of(lookup, home) == 0.5
    surer = set_fact(demo(), home, Fact(source="measured", uncertainty=0.1))
    assert uncertainty_of(Lookup(surer), home) == 0.1
    kept = at(demo(), "drive_shaft_L.bench.kept_each_end")
    assert uncertainty_of(lookup, kept) is None
    shaft = demo().drive_shafts[0]
    assert shaft.bench is not None
    bare = msgspec.structs.replace(shaft.bench, seats_uncertainty=None)
    document = replace_thing(demo(), msgspec.structs.replace(shaft, bench=bare))
    assert uncertainty_of(Lookup(document), home) == 0.6  # of the fact about all of the bench


def test_a_pair_is_one_number_and_counts_once() -> None:
    # Both wheel planes follow the one hub face; the doubt of it counts once, not twice.
    document = set_fact(
        bounded(demo()),
        at(demo(), "corner2:left.upright.hub_face.y"),
        Fact(source="measured", uncertainty=1.0),
    )
    assessment = assess_all(document, {}, asked())
    finding = found(assessment, "wheel_planes", "drive_shaft_L", "drive_shaft_R")
    faces = [
        part
        for part in doubt(assessment, finding).parts
        if part.address.path == "upright.hub_face.y"
    ]
    assert len(faces) == 1


def test_a_finding_without_a_figure_has_no_doubt_worked_out() -> None:
    document = msgspec.structs.replace(demo(), panels=())
    assessment = assess_all(document, {}, asked())
    finding = next(f for f in assessment.findings() if f.measured is None)
    found_doubt = doubt(assessment, finding)
    assert found_doubt.total is None
    assert "no figure" in found_doubt.words


def test_nothing_of_the_assessment_changes_by_asking() -> None:
    before = asked().findings()
    doubt(asked(), left_plunge())
    assert asked().findings() == before


def test_the_overlay_is_the_same_as_the_edit_it_stands_for() -> None:
    moved = unit_moved(Vec3(0.0, 1.0, 0.0))(demo())
    assert shifted(at(demo(), "power_unit1.origin.y"), 1.0)(demo()) == moved
    assert replace_thing(demo(), moved.power_units[0]) == moved
