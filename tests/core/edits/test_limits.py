import pytest

from core.assess.limits import DEFAULTS, limit
from core.document.base import Fact, Ref
from core.document.project import Document
from core.document.records import Limit, Note
from core.document.rules import check_document
from core.edits.limits import reset_limit, set_limit
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.things import delete, make
from core.edits.values import set_fact
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from tests.core.edits.cars import TubeCar, demo_car


@pytest.fixture
def car() -> TubeCar:
    return TubeCar()


def value(document: Document, rule: str, of: Ref | None = None) -> float:
    return (
        compute(document, {}, limit, rule, of).value
        if of
        else compute(document, {}, limit, rule).value
    )


@pytest.mark.parametrize("rule", sorted(DEFAULTS))
def test_every_limit_of_the_programs_can_be_the_cars_own_and_back(car: TubeCar, rule: str) -> None:
    own = set_limit(car.document, rule, 7.5, "the builder")

    assert compute(own, {}, limit, rule).value == 7.5
    assert compute(own, {}, limit, rule).source == "the builder"
    assert own.limits[0].unit == DEFAULTS[rule].unit
    assert check_document(own) == []
    back = reset_limit(own, rule)
    assert back.limits == ()
    if DEFAULTS[rule].counts:
        assert value(back, rule) == DEFAULTS[rule].value
    else:
        with pytest.raises(NotComputedError, match="no limit is given for"):
            value(back, rule)


def test_only_the_tilt_of_a_joint_waits_for_a_figure_of_the_builders() -> None:
    assert {key for key, default in DEFAULTS.items() if not default.counts} == {"link_tilt"}


def test_a_limit_for_one_thing_alone_leaves_that_of_others_unknown(car: TubeCar) -> None:
    own = set_limit(car.document, "link_tilt", 20.0, "stamped on it", car.tie)

    assert value(own, "link_tilt", car.tie) == 20.0
    with pytest.raises(NotComputedError, match="no limit is given for tilt of a link joint"):
        value(own, "link_tilt", car.strut)


def test_setting_a_limit_again_changes_the_one_there_is(car: TubeCar) -> None:
    once = set_limit(car.document, "unit_gap", 8.0, "a")

    twice = set_limit(once, "unit_gap", 9.0, "b")

    assert [(li.id, li.value, li.source) for li in twice.limits] == [(once.limits[0].id, 9.0, "b")]
    assert set_limit(twice, "unit_gap", 9.0, "b") is twice


def test_a_limit_may_be_for_one_thing(car: TubeCar) -> None:
    own = set_limit(car.document, "unit_gap", 8.0, "all")
    own = set_limit(own, "unit_gap", 4.0, "a stay", car.tie)

    assert value(own, "unit_gap", car.tie) == 4.0
    assert value(own, "unit_gap", car.strut) == 8.0
    assert {li.name for li in own.limits} == {"unit gap", "unit gap of tie"}
    assert value(reset_limit(own, "unit_gap", car.tie), "unit_gap", car.tie) == 8.0
    with pytest.raises(EditRefusedError, match="no limit of its own"):
        reset_limit(own, "unit_gap", car.strut)


@pytest.mark.parametrize(
    ("rule", "figure", "source", "words"),
    [
        ("gap", 8.0, "me", "there is no limit «gap»; there are bracket_reach"),
        ("unit_gap", float("nan"), "me", "needs a figure"),
        ("unit_gap", 8.0, " ", "where it comes from"),
    ],
)
def test_what_is_no_limit_is_refused(
    car: TubeCar, rule: str, figure: float, source: str, words: str
) -> None:
    with pytest.raises(EditRefusedError, match=words):
        set_limit(car.document, rule, figure, source)


def test_a_limit_for_what_is_not_there_is_refused(car: TubeCar) -> None:
    with pytest.raises(EditRefusedError, match="tube99"):
        set_limit(car.document, "unit_gap", 8.0, "me", Ref("tube99"))


def test_a_limit_that_was_not_set_cannot_be_taken_back(car: TubeCar) -> None:
    with pytest.raises(EditRefusedError, match="no limit of its own for «unit_gap»"):
        reset_limit(car.document, "unit_gap")


def test_a_held_limit_stays(car: TubeCar) -> None:
    own = set_limit(car.document, "unit_gap", 8.0, "me")
    held = set_fact(own, Address(Ref(own.limits[0].id), "value"), Fact(held="the rule book"))

    with pytest.raises(HeldError, match="the rule book"):
        set_limit(held, "unit_gap", 9.0, "me")


def test_a_limit_that_a_note_is_about_is_not_lost_from_under_it(car: TubeCar) -> None:
    own = set_limit(car.document, "unit_gap", 8.0, "me")
    noted, _ = make(own, Note, "why", text="t", about=(Ref(own.limits[0].id),))

    with pytest.raises(EditRefusedError):
        reset_limit(noted, "unit_gap")


def test_the_limits_of_the_first_car_are_changed_in_place() -> None:
    car = demo_car()
    rule = car.limits[0].rule

    own = set_limit(car, rule, 3.25, "tried")

    assert len(own.limits) == len(car.limits)
    assert own.limits[0].name == car.limits[0].name
    assert value(own, rule) == 3.25


def test_a_name_that_is_taken_is_given_a_number(car: TubeCar) -> None:
    document, _ = make(car.document, Limit, "unit gap", rule="touch", value=1.0)

    own = set_limit(document, "unit_gap", 8.0, "me")

    assert own.limits[-1].name == "unit gap 2"


def test_a_limit_for_one_thing_goes_with_it(car: TubeCar) -> None:
    own = set_limit(car.document, "unit_gap", 4.0, "a stay", car.tie)

    assert delete(own, car.tie.id, with_dependents=True).limits == ()
