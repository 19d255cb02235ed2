"""What is proposed is drawn in thin lines over the car as it is, and goes when it is dropped."""

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from app.scene.paint_lines import moved_lines
from app.trial import Trial
from core.document.lookup import Lookup
from core.edits.settle import Placed, settle_places
from core.engine.address import Address
from core.engine.assess import compute
from core.scene.cells import the_scene
from core.scene.records import Scene
from tests.app.scene.conftest import Bench


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    return Bench(qtbot)


def with_toe_link_moved(bench: Bench) -> Scene:
    point = Lookup(bench.document).find("rear_toe_inner")[0]
    places = (Placed(Address(point, "at.z"), 320.0),)
    moved = settle_places(bench.document, places)
    return compute(moved, bench.session.meshes, the_scene)


def test_a_proposal_is_drawn_as_long_as_it_stands(bench: Bench) -> None:
    trial, panel, what = Trial.of(bench.selection), QObject(), object()
    proposed = with_toe_link_moved(bench)

    trial.show(proposed, panel, what)

    shown = bench.view.moment()
    assert shown is not None
    assert shown.before is proposed
    lines = moved_lines(proposed, shown.scene)
    assert any(abs(float(line[0][2]) - 320.0) < 1.0 for line in lines)
    trial.drop_if(panel)
    after = bench.view.moment()
    assert after is not None
    assert after.before is None


def test_another_panel_does_not_take_it_away(bench: Bench) -> None:
    trial, panel, other = Trial.of(bench.selection), QObject(), QObject()
    trial.show(with_toe_link_moved(bench), panel, object())

    trial.drop_if(other)

    assert trial.scene is not None
    assert bench.view.moment() is not None
