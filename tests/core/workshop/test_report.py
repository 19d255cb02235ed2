"""Findings in plain words: their order, their digits, and what counts as worse."""

import re

import msgspec
from hypothesis import assume, given
from hypothesis import strategies as st

from core.checks.rules import assess_all
from core.document.base import Ref, Vec3
from core.document.power import Mount, PowerUnit
from core.document.project import Document
from core.document.steel import Point
from core.engine.assess import Assessment
from core.engine.finding import Finding, Remedy
from core.workshop.figures import figures
from core.workshop.report import answer, check_lines, finding_lines, measure, tally, worsened
from tests.app.cars import tubes_only


def assessed(document: Document) -> Assessment:
    return assess_all(document, {}, also=(figures,))


UNIT = PowerUnit(id="power_unit1", name="PU", origin=Vec3(0.0, 0.0, 0.0))


def stay(length: float) -> Mount:
    """A stay of a length, with ends 100 apart."""
    return Mount(
        id="mount1",
        name="stay",
        unit=Ref("power_unit1"),
        form="stay",
        place=Vec3(0.0, 0.0, 0.0),
        chassis_end=Vec3(100.0, 0.0, 0.0),
        stay_length=length,
    )


def test_the_answer_is_the_worst_that_is_not_accepted() -> None:
    no = Finding("r", "no", (), "")
    accepted = Finding("r", "no", (), "", accepted="known")
    tight, unknown = Finding("r", "tight", (), ""), Finding("r", "unknown", (), "")
    assert answer([]) == "fine"
    assert answer([accepted]) == "fine"
    assert answer([tight, accepted]) == "tight"
    assert answer([tight, unknown]) == "unknown"
    assert answer([unknown, no]) == "no"


def test_the_tally_counts_by_verdict_in_words() -> None:
    no, unknown = Finding("r", "no", (), ""), Finding("r", "unknown", (), "")
    found = [unknown, no, no]
    assert tally(found) == "To look at, worst first: 2 no, 1 don't know."
    assert tally([]) == "To look at, worst first: nothing."


def test_a_finding_gives_its_figure_its_limit_and_where_the_limit_comes_from() -> None:
    finding = Finding(
        "gap",
        "no",
        (Ref("tube1"),),
        "It is near.",
        measured=-3.25,
        limit=10.0,
        governing="at rest",
        limit_source="own judgement",
        remedies=(Remedy("move", (), "move it 13.3 to the left"),),
    )
    assert list(finding_lines(finding)) == [
        "no          It is near.",
        "            \u22123.2 mm, at least 10.0 mm wanted; at rest; from: own judgement",
        "            could mend it: move it 13.3 to the left",
    ]


def shown_figures(text: str) -> list[float]:
    return [float(t) for t in re.findall(r"-?\d+\.\d+", text.replace("\u2212", "-"))]


@given(
    st.floats(-1000, 1000, allow_nan=False),
    st.floats(-1000, 1000, allow_nan=False),
    st.booleans(),
)
def test_what_is_shown_lies_on_the_side_of_the_limit_where_the_figure_lies(
    measured: float,
    limit: float,
    most: bool,  # noqa: FBT001 - hypothesis hands it on
) -> None:
    assume(abs(measured - limit) > 1e-3)
    shown = shown_figures(measure(measured, limit, "mm", most=most))
    assert (shown[0] < shown[1]) == (measured < limit)


def test_digits_are_few_where_few_tell() -> None:
    assert measure(14.46, 10.0, "mm", most=False) == "14.5 mm, at least 10.0 mm wanted"
    assert measure(9.96, 10.0, "mm", most=False) == "9.96 mm, at least 10.00 mm wanted"
    assert measure(0.004, 0.05, "mm", most=True) == "0.00 mm, at most 0.05 mm wanted"
    assert measure(605.44, None, "mm", most=True) == "605.4 mm"


def test_nothing_is_worse_than_itself() -> None:
    same = assessed(tubes_only())
    assert worsened(same, same) == []


def test_only_what_became_worse_is_told() -> None:
    drawn = tubes_only()
    open_frame = msgspec.structs.replace(drawn, tubes=drawn.tubes[:2])
    before, after = assessed(drawn), assessed(open_frame)
    assert {(f.rule, f.verdict) for f in worsened(before, after)} == {("loose_joint", "no")}
    assert worsened(after, before) == []


def test_a_worse_figure_of_the_same_verdict_is_told() -> None:
    # The stay's ends are 100 apart; it is bought 101, then 103 long.
    tables = [assessed(Document(power_units=(UNIT,), mounts=(stay(n),))) for n in (101.0, 103.0)]
    worse = worsened(tables[0], tables[1])
    assert [(f.rule, f.verdict, f.measured) for f in worse] == [("stay_fit", "no", 3.0)]
    assert worsened(tables[1], tables[0]) == []


def test_a_question_about_nothing_is_not_called_fine() -> None:
    lines = list(check_lines(assessed(Document())))
    assert "Fine: 0 things; 0 more questions found nothing amiss." in lines
    only_points = Document(points=(Point(id="point1", name="A", at=Vec3(0.0, 0.0, 0.0)),))
    lines = list(check_lines(assessed(only_points)))
    assert "Fine: 0 things; 0 more questions found nothing amiss." in lines
