"""The mark of the centre of gravity: of the whole car, or of what is weighed of it."""

import pytest

from core.assess.weights import weight_at_design
from core.document.records import Weighing
from core.edits.things import make
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.scene.weight import weight_mark
from tests.cars.stored import demo, empty, only_tubes, second
from tests.core.assess.weighed_cars import changed, weighed_car


def test_both_cars_have_it_where_their_weight_is() -> None:
    for document in (demo().drawn, second().drawn):
        mark = compute(document, {}, weight_mark)
        weight = compute(document, {}, weight_at_design)

        assert weight.centre is not None
        assert mark.is_whole
        assert mark.at == pytest.approx(weight.centre)
        assert mark.text == f"{round(weight.least_kg)} kg"


def test_of_a_frame_alone_it_is_as_far_as_it_is_weighed() -> None:
    mark = compute(only_tubes(), {}, weight_mark)

    assert not mark.is_whole
    assert "as far as it is weighed" in mark.text


def test_what_has_no_weight_leaves_it_that_of_the_rest() -> None:
    car = changed(weighed_car(), "driver", mass_kg=None)

    mark = compute(car, {}, weight_mark)

    assert not mark.is_whole
    assert mark.at == (-1800.0, 0.0, 350.0)  # of the engine alone


def test_scales_move_it() -> None:
    car, _ = make(
        weighed_car(),
        Weighing,
        "scales",
        front_left_kg=100.0,
        front_right_kg=100.0,
        rear_left_kg=100.0,
        rear_right_kg=100.0,
    )

    mark = compute(car, {}, weight_mark)

    assert mark.at[:2] == pytest.approx((-1000.0, 0.0))
    assert mark.text == "400 kg"


def test_of_nothing_there_is_none() -> None:
    with pytest.raises(NotComputedError, match="nothing"):
        compute(empty(), {}, weight_mark)
