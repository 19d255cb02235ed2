"""Why a value is what it is: its source, its hold, its reasons, and what rests on it."""

import msgspec
import pytest

from core.checks.rules import assess_all, to_look_at
from core.document.base import Because, Fact, Ref
from core.document.layers import replace_thing
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.running_gear import Corner
from core.edits.values import hold, set_fact, set_free
from core.engine.address import Address, AddressError
from core.engine.cells import When
from core.quantities.writing import MINUS
from core.study.faults import fault
from core.study.why import why, why_finding
from tests.core.study.demo import asked, asked_of, at, demo, found

HUB_FACE = "rear corner:left.upright.hub_face.y"
RESTING = "  what rests on it:"


def told(text: str) -> tuple[str, ...]:
    return why(asked(), at(demo(), text))


def resting(lines: tuple[str, ...]) -> list[str]:
    if RESTING not in lines:
        return []
    after = lines[lines.index(RESTING) + 1 :]
    end = next((n for n, line in enumerate(after) if not line.startswith("    ")), len(after))
    return [line.strip() for line in after[:end]]


def test_a_measured_number_says_its_doubt_and_how_it_was_got() -> None:
    assert told("drive_shaft_L.length")[0] == (
        "drive_shaft_L.length is 480.48 mm: measured ± 0.6, see bench"
    )
    assert told("drive_shaft_L.length")[1] == "  held: it is measured (see bench)"


def test_a_number_without_a_fact_is_guessed() -> None:
    assert told("K_L.at.z")[0] == (
        "K_L.at.z is 592.11 mm: guessed, no source given; the same number for both sides"
    )


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("wheel2.rim_width_in", "7 in"),
        ("drive_shaft_L.plunge_in", "18 mm"),
        ("drive_shaft_L.inner_angle_deg", "20 deg"),
        ("corner2:left.damper.spring_rate", "26 N/mm"),
        ("power_unit1.mass_kg", "196 kg"),
        ("power_unit1.final_drive", "4.06:"),
        ("power_unit1.torque_nm", "180 N m"),
        ("material1.density_kg_m3", "7850 kg/m3"),
        ("mount1.inserts.standard.stiffness.z", "450 N/mm"),
        ("power_unit1.outputs.left_axis.y", "1:"),
        ("limit9.value", "0.15 deg"),
        ("tube9.section", "T38"),
    ],
)
def test_a_value_is_told_with_its_unit(text: str, value: str) -> None:
    assert f" is {value}" in told(text)[0]


def test_a_branch_tells_how_many_numbers_come_from_where() -> None:
    assert "36 numbers: measured ± 3, tape over the outside" in told("power_unit1.solids")[0]
    assert "12 numbers: 6 guessed, 6 chosen" in told("power_unit1.outputs")[0]


def test_a_whole_thing_tells_its_numbers_by_source_and_what_rests_on_it() -> None:
    lines = told("rear_hub")
    assert lines[0].startswith("rear_hub, hub, ")
    assert "2 measured" not in lines[0]  # stud circle, spigot and the two depths: four
    assert "4 measured" in lines[0]
    assert "1 chosen" in lines[0]
    assert any("drive_shaft_L is within its stroke" in line for line in resting(lines))


def test_the_hub_face_is_held_by_the_shafts_and_says_why() -> None:
    lines = told(HUB_FACE)
    assert "  held: the drive shafts decide the width" in lines
    reasons = [line.strip() for line in lines if line.startswith("    ")]
    for start in (
        "drive_shaft_L.length is 480.48 mm: measured",
        "drive_shaft_R.length is 400.58 mm: measured",
        "rear_hub.joint_to_face is 82 mm: measured ± 0.3",
    ):
        assert any(line.startswith(start) for line in reasons)


def with_because(document: Document, text: str, *reasons: Because) -> Document:
    fact = Fact(source="chosen", because=reasons)
    return set_fact(document, at(document, text), fact)


def test_reasons_are_followed_on_and_a_circle_ends() -> None:
    lookup = Lookup(demo())
    k, h = (lookup.find(name)[0] for name in ("K_L", "H_L"))
    circle = with_because(demo(), "K_L.at.z", Because(ref=h, of="at.z", words="level"))
    circle = with_because(circle, "H_L.at.z", Because(ref=k, of="at.z"))
    lines = why(assess_all(circle, {}, asked()), Address(k, "at.z"))
    assert "  because of this (level):" in lines
    assert sum("H_L.at.z is" in line for line in lines) == 1
    assert "        K_L.at.z: told above" in lines


def test_a_reason_on_the_other_side_of_a_pair_is_the_same_number() -> None:
    lookup = Lookup(demo())
    left, right = lookup.find("K")
    document = with_because(demo(), "K_L.at.z", Because(ref=right, of="at.z"))
    lines = why(assess_all(document, {}, asked()), Address(left, "at.z"))
    assert "    K_R.at.z: told above" in lines


def test_a_reason_that_is_gone_is_told_as_gone() -> None:
    corner = demo().corners[1]
    fact = Fact(of="droop", because=(Because(ref=Ref("bracket999"), of="thickness"),))
    document = replace_thing(demo(), msgspec.structs.replace(corner, facts=(fact,)))
    lines = why(assess_all(document, {}, asked()), Address(Ref(corner.id, "left"), "droop"))
    assert any("not there any more" in line for line in lines)


def test_what_was_set_free_says_so() -> None:
    address = at(demo(), "drive_shaft_L.length")
    freed = set_free(demo(), address)
    assert "  set free to move" in why(assess_all(freed, {}, asked()), address)
    held = hold(freed, address, "the shop has no other")
    assert "  held: the shop has no other" in why(assess_all(held, {}, asked()), address)


def test_welded_steel_holds_its_joints() -> None:
    welded = msgspec.structs.replace(demo().tubes[0], state="welded")
    document = replace_thing(demo(), welded)
    lines = why(assess_all(document, {}, asked()), at(document, "D_top_L.at"))
    assert any(line.startswith("  held: ") and "welded" in line for line in lines)


def test_what_rests_on_a_number_comes_worst_first_with_its_figure() -> None:
    assessment = asked_of(fault("SF02").overlay)
    lines = resting(why(assessment, at(assessment.document, "power_unit1.origin.y")))
    # A finding whose figures have no number says its verdict before a colon.
    verdicts = [line.split(":")[0].split(",")[0] for line in lines if "(accepted: " not in line]
    assert verdicts == sorted(verdicts, key=["no", "don't know", "tight", "fine"].index)
    assert any(line.startswith(f"no, {MINUS}5.15 mm against 10 mm: ") for line in lines)
    order = [f.sentence for f in to_look_at(assessment) if any(f.sentence in li for li in lines)]
    told_of = [line.split(": ", 1)[1].split(" (accepted: ")[0] for line in lines]
    assert told_of == order


def test_the_same_number_on_both_sides_is_told_with_what_rests_on_either() -> None:
    lines = resting(told(HUB_FACE))
    for side in "LR":
        assert any(f"drive_shaft_{side} is within its stroke" in line for line in lines)


def test_what_is_one_sides_own_rests_on_its_own_side() -> None:
    lines = resting(told("drive_shaft_R.length"))
    assert any("drive_shaft_R is within" in line for line in lines)
    assert not any("drive_shaft_L is within" in line for line in lines)


def test_rules_that_looked_without_being_decided_are_named() -> None:
    assert "    Is the engine and gearbox clear of every tube?" in told("K_L.at.z")
    gaps = [line for line in resting(told("C_low_L.at.z")) if "comes within" in line]
    # Those are of the wheels; and on the weight of all tubes rests when the car would tip.
    others = ("Moved on its mounts", " corner ")
    assert not [line for line in gaps if not any(words in line for words in others)]


def test_a_number_that_no_rule_reads_is_not_passed_off_as_fine() -> None:
    lines = told("rear_hub.nut_across_flats")
    assert any("no rule reads it" in line and "not known" in line for line in lines)
    assert not resting(lines)


def test_rules_that_have_not_been_run_are_named() -> None:
    early = assess_all(demo(), {}, upto=When.LIVE)
    lines = why(early, at(demo(), "K_L.at.z"))
    assert "  not computed yet, so these may rest on it too:" in lines
    assert "    Do tubes touch without a joint?" in lines


def test_findings_of_before_a_change_say_so() -> None:
    late = assess_all(fault("SF10").overlay(demo()), {}, asked(), upto=When.LIVE)
    lines = resting(why(late, at(late.document, "power_unit1.origin.y")))
    assert any(line.startswith("before this change, ") for line in lines) == bool(late.behind)


def test_an_address_that_leads_nowhere_is_refused() -> None:
    with pytest.raises(AddressError):
        why(asked(), Address(Ref("point999"), "at.x"))
    with pytest.raises(AddressError):
        why(asked(), Address(Ref("hub1"), "colour"))


def test_a_finding_tells_what_it_rests_on_guessed_first() -> None:
    lines = why_finding(asked(), found(asked(), "shaft_plunge", "drive_shaft_L"))
    heads = [line.strip() for line in lines if line.startswith("  ") and line[2] != " "]
    sources = [head for head in heads if head in ("guessed:", "measured:", "chosen:", "in hand:")]
    assert sources == ["guessed:", "measured:", "chosen:", "in hand:"]
    text = "\n".join(lines)
    for part in ("drive_shaft_L.length is 480.48", "joint_to_face is 82", "hub_face.y is 732"):
        assert part in text
    assert "drive_shaft_R.length" not in text
    assert "its rule also looked at other things" in text


def test_a_number_guessed_on_one_side_is_told_as_guessed() -> None:
    # The number is one, but only the left side of it was measured.
    corner = demo().corners[1]
    assert isinstance(corner, Corner)
    fact = Fact(of="upright.hub_face", side="left", source="measured", uncertainty=0.5)
    facts = tuple(f for f in corner.facts if not f.of.startswith("upright"))
    document = replace_thing(demo(), msgspec.structs.replace(corner, facts=(*facts, fact)))
    assessment = assess_all(document, {}, asked())
    finding = found(assessment, "wheel_planes", "drive_shaft_L", "drive_shaft_R")
    lines = why_finding(assessment, finding)
    guessed = lines[lines.index("  guessed:") : lines.index("  measured:")]
    assert any("rear corner right.upright.hub_face is" in line for line in guessed)
    assert any("rear corner left.upright.hub_face is" in line for line in lines)


@pytest.mark.parametrize("name", ["SF06", "SF07", "SF17"])
def test_findings_without_figures_tell_what_they_rest_on(name: str) -> None:
    assessment = asked_of(fault(name).overlay)
    for finding in assessment.findings():
        if finding.measured is None:
            assert len(why_finding(assessment, finding)) > 1
