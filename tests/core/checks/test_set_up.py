"""Whether the adjusters bring a car to what is wanted: by each verdict, and never fine unknown."""

import msgspec
import pytest

from core.assess.setting_up import set_up_of
from core.checks.set_up import RULES, TIGHT_SHARE
from core.document.base import Ref
from core.document.project import Document
from core.document.records import Limit
from core.edits.things import make
from core.engine.assess import assess, compute
from core.engine.finding import Finding
from core.quantities import number
from core.study.order import Order
from tests.cars.stored import demo, empty, only_tubes, second
from tests.core.assess.set_up_cars import adjusters, corner, point, rods, with_corner


def said(document: Document) -> list[Finding]:
    return assess(document, {}, None, RULES).findings()


def of(document: Document, end: str, side: str = "left") -> Finding:
    """What is said of a whole corner."""
    ref = corner(document, end, side)
    (found,) = [each for each in said(document) if each.subjects == (ref,)]
    return found


def test_the_demo_car_comes_to_what_is_wanted_at_all_four_wheels() -> None:
    found = said(demo().drawn)

    assert [(f.verdict, len(f.subjects)) for f in found] == [("fine", 1)] * 4
    for finding in found:
        assert finding.measured is not None
        assert finding.measured > 0.0
        assert "How much thread stays engaged is not entered" in finding.sentence
    assert f"{number(-0.75, 2)} deg of camber and 0.05 deg of toe-in" in found[0].sentence


def test_cars_without_adjusters_or_anything_wanted_are_told_nothing() -> None:
    assert said(empty()) == []
    assert said(only_tubes()) == []
    assert said(second().drawn) == []


def test_a_corner_that_runs_out_says_where_and_by_how_much() -> None:
    document = with_corner("front", wanted_camber_deg=-3.0)

    found = of(document, "front")

    short = compute(document, {}, set_up_of, corner(document, "front")).runs_out
    assert found.verdict == "no"
    assert len(short) == 2
    for each in short:
        assert f"{each.adjuster.label} by {abs(each.lacking):.1f}" in found.sentence
    assert found.measured == pytest.approx(-max(abs(each.lacking) for each in short))
    assert of(document, "rear").verdict == "fine"


def test_the_lacking_range_once_given_is_enough() -> None:
    document = with_corner("front", wanted_camber_deg=-3.0)
    lacking = compute(document, {}, set_up_of, corner(document, "front")).runs_out
    more = {each.adjuster.number: each.lacking for each in lacking}
    wider = tuple(
        msgspec.structs.replace(each, least=each.least + more.get(k, 0.0) - 0.01)
        for k, each in enumerate(adjusters("front"))
    )

    found = of(with_corner("front", document, adjusters=wider), "front")

    assert found.verdict == "tight"  # just enough is next to nothing left


@pytest.mark.parametrize(("spare", "verdict"), [(0.05, "tight"), (0.2, "fine")])
def test_less_than_a_tenth_of_a_range_left_is_tight(spare: float, verdict: str) -> None:
    """One adjuster for camber, with a range chosen so that a share is left."""
    settings = compute(
        with_corner("rear", adjusters=adjusters("rear")[:2]), {}, set_up_of,
        corner(demo().drawn, "rear"),
    ).settings  # fmt: skip
    goes = settings[0].exact
    assert goes < 0.0
    most = 10.0
    least = (goes - spare * most) / (1.0 - spare)
    first = msgspec.structs.replace(adjusters("rear")[0], least=least, most=most)

    found = of(with_corner("rear", adjusters=(first, adjusters("rear")[1])), "rear")

    assert found.verdict == verdict
    assert found.measured == pytest.approx(spare * (most - least), abs=0.01)
    assert 0.05 < TIGHT_SHARE < 0.2


def test_a_figure_that_no_range_would_bring_is_named() -> None:
    document = with_corner("front", adjusters=adjusters("front")[2:])

    found = of(document, "front")

    assert found.verdict == "no"
    wanted = f"front corner left to {number(-0.75, 2)} deg of camber."
    assert f"No range of its adjusters brings {wanted}" in found.sentence
    assert found.measured is None


def test_steps_too_coarse_for_what_is_wanted_are_no() -> None:
    coarse = adjusters("rear", how="shims", step=3.0)
    tight = make(with_corner("rear", adjusters=coarse), Limit, "c", rule="corner_camber",
                 value=0.01, unit="deg")[0]  # fmt: skip
    tight = make(tight, Limit, "t", rule="corner_toe", value=0.005, unit="deg")[0]

    found = of(tight, "rear")

    assert found.verdict == "no"
    assert found.sentence.startswith("In whole steps rear corner left comes to")


WANTING: dict[str, None] = {"wanted_camber_deg": None, "wanted_toe_in_deg": None}


@pytest.mark.parametrize("missing", [*[(name,) for name in WANTING], tuple(WANTING)])
def test_what_is_not_wanted_is_never_fine(missing: tuple[str, ...]) -> None:
    document = with_corner("front", **dict.fromkeys(missing))

    found = of(document, "front")

    assert found.verdict == "unknown"
    assert "is not entered" in found.sentence or "not entered" in found.sentence


def test_adjusters_of_a_corner_that_nothing_holds_are_unknown() -> None:
    document = with_corner("front", links=(), points=(), linkage="other")

    assert of(document, "front").verdict == "unknown"


def test_an_unknown_adjuster_that_might_help_makes_no_into_unknown() -> None:
    odd = msgspec.structs.replace(adjusters("front")[0], least=1.0, most=1.0)
    document = with_corner("front", wanted_camber_deg=-3.0, adjusters=(odd, *adjusters("front")))

    found = of(document, "front")

    assert found.verdict == "unknown"
    assert "is left out: it has no range" in found.sentence


@pytest.mark.parametrize(
    ("camber", "toe", "verdict"),
    [(0.05, 0.02, "fine"), (-0.75, 0.02, "no"), (0.05, 0.5, "no"), (0.05, None, "unknown")],
)
def test_without_adjusters_the_drawing_is_held_against_what_is_wanted(
    camber: float, toe: float | None, verdict: str
) -> None:
    """The demo car is drawn at no camber and no toe, by scipy too."""
    assert rods("front").camber_toe_deg() == pytest.approx([0.0, 0.0], abs=1e-6)
    document = with_corner("front", adjusters=(), wanted_camber_deg=camber, wanted_toe_in_deg=toe)

    found = of(document, "front", "right")

    assert found.verdict == verdict
    assert found.measured is not None
    assert found.limit is not None
    if verdict == "no":
        assert found.measured == pytest.approx(abs(toe or 0.0) if toe == 0.5 else 0.75, abs=1e-3)
        assert "no adjuster is entered" in found.sentence


def threads(document: Document) -> list[Finding]:
    ref = corner(document, "front")
    return [f for f in said(document) if len(f.subjects) == 2 and f.subjects[1] == ref]


def test_thread_is_held_against_what_is_needed_as_it_will_be_set() -> None:
    """Shortened, an end goes further in: the upper ends by 2.6 and 3.0, the track rod by 0.6."""
    document = with_corner(
        "front", adjusters=adjusters("front", thread_engaged=12.0, thread_needed=14.8)
    )

    found = threads(document)

    assert [f.verdict for f in found] == ["no", "fine", "no"]
    assert [f.subjects[0] for f in found] == [
        point(name) for name in
        ("front_upper_inner_front_L", "front_upper_inner_rear_L", "steering_rack_L")
    ]  # fmt: skip
    settings = compute(document, {}, set_up_of, corner(document, "front")).settings
    assert [f.measured for f in found] == pytest.approx([12.0 - s.amount for s in settings])
    assert of(document, "front").verdict == "fine"


def test_half_of_what_a_thread_needs_is_unknown_and_none_of_it_is_said() -> None:
    half = with_corner("front", adjusters=adjusters("front", thread_engaged=12.0))

    assert {f.verdict for f in threads(half)} == {"unknown"}
    assert "How much thread" not in of(half, "front").sentence
    assert threads(demo().drawn) == []


def test_threads_are_looked_at_where_nothing_is_wanted() -> None:
    bare = with_corner(
        "front",
        adjusters=adjusters("front", thread_engaged=12.0, thread_needed=14.0),
        **WANTING,
    )

    assert [(f.verdict, f.measured) for f in threads(bare)] == [("no", 12.0)] * 3


def test_findings_stand_where_their_corner_stands_in_the_order_of_work() -> None:
    document = with_corner(
        "front", adjusters=adjusters("front", thread_engaged=12.0, thread_needed=14.0)
    )
    order = Order(document)

    places = {f.subjects: order.place(f) for f in said(document)}

    assert places[(corner(document, "rear"),)] == ("rear", "links")
    assert places[(corner(document, "front"),)] == ("front", None)
    thread = (point("front_upper_inner_front_L"), corner(document, "front"))
    assert places[thread] == ("front", None)


def test_only_a_corner_that_changed_is_looked_at_again() -> None:
    before = assess(demo().drawn, {}, None, RULES)
    after = with_corner("front", wanted_camber_deg=-1.0)

    again = assess(after, {}, before, RULES)

    ran = {(key.cell.name, key.args) for key in again.ran}
    refs = {args[0] for name, args in ran if name == "set_up_of"}
    assert refs == {Ref(corner(after, "front").id, side) for side in ("left", "right")}
    assert again.agrees_with(assess(after, {}, None, RULES))
