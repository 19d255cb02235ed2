"""The rules on springs: what breaks each, what each says, and what it does not know."""

from typing import Any

import pytest

from core.assess.limits import DEFAULTS
from core.checks.springs import RULES
from core.document.base import Ref
from core.document.links import BumpStop, TorsionBar
from core.document.project import Document
from core.edits.limits import set_limit
from core.engine.assess import assess
from core.engine.cells import When
from core.engine.finding import Finding
from core.study.order import Order
from tests.cars.stored import demo, empty, only_tubes, second
from tests.core.assess.made_corners import Made, level_h_arm, made, swinging_arm
from tests.core.assess.sprung_cars import sprung, swung_length

KEYS = {"coil_bind", "spring_loose", "bump_stop", "hangs"}
WHOLE: dict[str, Any] = {
    "closed_length": 200.0,
    "open_length": 400.0,
    "spring_seats": 90.0,
    "spring_free_length": 280.0,
    "spring_block_length": 120.0,
    "bump_stop": BumpStop(length=60.0, rate=50.0),
}
"""The damper of the swinging arm is 240 long at full bump and 361 at full droop."""
WHOLE_SEATS = 90.0


def findings(document: Document) -> list[Finding]:
    return assess(document, {}, None, RULES, When.ASKED).findings()


def whole(**damper: Any) -> Made:  # noqa: ANN401
    return sprung(swinging_arm(), **(WHOLE | damper))


def one(car: Made, rule: str, corner: Ref | None = None) -> Finding:
    of = corner or car.corner
    (found,) = [f for f in findings(car.document) if f.rule == rule and of in f.subjects]
    return found


def test_every_rule_asks_something() -> None:
    assert {rule.key for rule in RULES} == KEYS


@pytest.mark.parametrize("document", [empty(), only_tubes()])
def test_without_a_corner_each_rule_says_that_none_is_entered(document: Document) -> None:
    found = findings(document)

    assert {f.rule for f in found} == KEYS
    assert {f.verdict for f in found} == {"unknown"}
    assert all("no corner is entered" in f.sentence for f in found)


def test_the_demo_car_is_fine_but_for_what_its_wheels_hang_on() -> None:
    verdicts = {(f.rule, f.verdict) for f in findings(demo().drawn)}

    assert verdicts == {(key, "fine") for key in KEYS - {"hangs"}} | {("hangs", "tight")}


def test_the_second_car_says_once_for_a_pair_what_to_enter() -> None:
    found = [f for f in findings(second().drawn) if f.rule in ("coil_bind", "bump_stop")]

    assert [len(f.subjects) for f in found] == [2, 2, 2, 2]
    assert {f.verdict for f in found} == {"unknown"}
    assert found[0].sentence == (
        "How long the spring of front corner is with its coils closed is not known: enter it from "
        "its maker's sheet."
    )
    assert found[2].sentence.startswith("No bump stop is entered for front corner: enter how much")


def test_one_side_that_lacks_it_is_named_by_its_side() -> None:
    car = whole()
    apart = car.right_only(car.corner, "damper.spring_block_length", 130.0)
    right = apart.changed(car.corner.mirrored(), "damper.spring_block_length", None)

    assert one(right, "coil_bind").verdict == "fine"
    lacking = one(right, "coil_bind", car.corner.mirrored())
    assert "spring of corner right is with its coils closed" in lacking.sentence


@pytest.mark.parametrize(
    ("left", "verdict", "words"),
    [
        (30.0, "fine", "has 30.0 left at full bump"),
        (7.0, "tight", "has 7.0 left at full bump"),
        (3.0, "no", "has 3.0 left at full bump before its coils close, and 5.0 is kept back"),
        (-2.0, "no", "close 2.0 before full bump"),
    ],
)
def test_coil_bind(left: float, verdict: str, words: str) -> None:
    room = swung_length(60.0) - WHOLE_SEATS
    found = one(whole(spring_block_length=room - left), "coil_bind")

    assert found.verdict == verdict
    assert words in found.sentence
    assert found.measured == pytest.approx(left, abs=1e-6)
    assert found.limit == DEFAULTS["coil_bind_left"].value
    assert found.place is not None


def test_the_cars_own_reserve_counts_for_coil_bind() -> None:
    car = whole()
    document = set_limit(car.document, "coil_bind_left", value=35.0, source="the spring's maker")

    (found, _) = [f for f in findings(document) if f.rule == "coil_bind"]

    assert (found.verdict, found.limit) == ("no", 35.0)
    assert found.limit_source == "the spring's maker"


@pytest.mark.parametrize(("free", "verdict"), [(280.0, "fine"), (260.0, "tight")])
def test_a_spring_that_is_loose_at_droop(free: float, verdict: str) -> None:
    found = one(whole(spring_free_length=free), "spring_loose")

    assert found.verdict == verdict
    assert ("loose" in found.sentence) is (verdict == "tight")


@pytest.mark.parametrize(
    ("stop", "left", "verdict", "words"),
    [
        (60.0, 40.0, "fine", "pressed from 60 to 40.0 at full bump"),
        (30.0, 40.0, "no", "is not met within the 60 of bump in use"),
        (30.0, -5.0, "no", "closes metal to metal before the 60 of bump in use, 5.0 too soon"),
        (120.0, 40.0, "tight", "pressed already as drawn"),
    ],
)
def test_bump_stops(stop: float, left: float, verdict: str, words: str) -> None:
    closed = swung_length(60.0) - left
    car = whole(bump_stop=BumpStop(length=stop), closed_length=closed)

    found = one(car, "bump_stop")

    assert found.verdict == verdict
    assert words in found.sentence


def test_a_corner_on_a_torsion_bar_alone_is_asked_for_no_coil() -> None:
    car = sprung(level_h_arm())
    bare = car.changed(car.corner, "damper.spring_rate", None)
    bar = bare.changed(bare.corner, "torsion_bar", TorsionBar(rate_nm_per_deg=20.0))

    rules = [f.rule for f in findings(bar.document)]

    assert not {"coil_bind", "spring_loose"} & set(rules)
    assert {"bump_stop", "hangs"} <= set(rules)
    assert "coil_bind" in [f.rule for f in findings(bare.document)]


def test_no_damper_is_unknown_and_not_fine() -> None:
    car = made(swinging_arm())
    bare = car.changed(car.corner, "damper", None)

    found = [f for f in findings(bare.document) if f.rule != "hangs"]

    assert {f.verdict for f in found} == {"unknown"}
    assert {f.rule for f in found} == KEYS - {"hangs"}


@pytest.mark.parametrize(
    ("strap", "verdict", "words"),
    [
        (80.0, "fine", "hangs 80 down, where its strap holds it."),
        (40.0, "no", "That is before the 60 of droop in use."),
        (None, "tight", "nothing has stopped it yet. Hold the wheel up"),
    ],
)
def test_what_a_wheel_hangs_on(strap: float | None, verdict: str, words: str) -> None:
    car = whole()

    found = one(car.changed(car.corner, "strap_droop", strap), "hangs")

    assert found.verdict == verdict
    assert words in found.sentence


def test_a_joint_of_unknown_limit_leaves_it_unknown_although_a_strap_holds() -> None:
    car = made(level_h_arm())
    strapped = car.changed(car.corner, "strap_droop", 80.0)

    found = one(strapped, "hangs")

    assert found.verdict == "unknown"
    assert "What tilt the joint at upper_inner_L (upper) and 1 more allows is not known" in (
        found.sentence
    )


def test_a_driven_wheel_is_told_that_its_shaft_stops_nothing() -> None:
    rear = [f for f in findings(demo().drawn) if f.rule == "hangs"][2:]

    assert all("The drive shaft is no stop" in f.sentence for f in rear)
    front = [f for f in findings(demo().drawn) if f.rule == "hangs"][:2]
    assert not any("drive shaft" in f.sentence for f in front)


def test_findings_belong_to_the_end_that_their_corner_is_at() -> None:
    order = Order(demo().drawn)

    places = {(f.rule, order.place(f)) for f in findings(demo().drawn)}

    assert places == {
        (key, place) for key in KEYS for place in (("front", None), ("rear", "links"))
    }
