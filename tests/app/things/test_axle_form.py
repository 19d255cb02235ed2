"""The links of a rigid axle, made, renamed, changed and taken out in the panel about the axle."""

import pytest
from PySide6.QtWidgets import QLineEdit

from app.panels.details import Details
from app.selection import Selection
from app.session import Session
from app.widgets.branch_editor import ListEditor
from app.widgets.number_field import NumberField
from app.widgets.text_field import TextField
from core.assess.beams import rigid_axle
from core.document.base import Ref
from core.document.running_gear import Axle
from core.engine.assess import compute
from tests.app.things.form_filling import fill_part
from tests.app.things.hands import click, enter, field_at, thing
from tests.core.assess.made_axles import made_axle
from tests.core.assess.made_corners import Made
from tests.core.suspension.axles import kinds, triangulated


@pytest.fixture
def car(session: Session, selection: Selection) -> Made:
    made = made_axle(triangulated())
    session.apply("make", lambda _: made.document)
    selection.choose(made.axle)
    return made


def a_list(details: Details, path: str) -> ListEditor:
    assert details.editor is not None
    found = details.editor.parts[path]
    assert isinstance(found, ListEditor)
    return found


def axle_of(session: Session, ref: Ref) -> Axle:
    axle = thing(session, ref.id)
    assert isinstance(axle, Axle)
    return axle


def names(session: Session, car: Made) -> list[str]:
    return [link.name for link in axle_of(session, car.axle).links]


def test_a_link_is_added_in_the_form_of_the_axle(
    session: Session, details: Details, car: Made
) -> None:
    links = a_list(details, "links")
    click(links.add)
    assert links.form is not None
    assert links.form.input.part is not None
    ends = {"inner": car.points["lower left inner"], "outer": car.points["upper right outer"]}
    fill_part(session, links.form.input.part, {"name": "fifth", **ends})

    click(links.form.keep)

    assert names(session, car)[-1] == "fifth"
    assert len(links.items) == 5
    held = compute(session.state.document, {}, rigid_axle, car.axle).constraints
    assert held[-1].name == "fifth"


def test_a_link_is_renamed_measured_and_taken_out(
    session: Session, details: Details, car: Made
) -> None:
    links = a_list(details, "links")
    click(links.items[0].summary)
    name = field_at(details, "links.lower left.name")
    assert isinstance(name, TextField)
    assert isinstance(name.line, QLineEdit)

    enter(name.line, "tube")
    click(a_list(details, "links").items[0].summary)
    outside = field_at(details, "links.tube.outside")
    assert isinstance(outside, NumberField)
    enter(outside.line, "32")

    assert names(session, car)[0] == "tube"
    assert axle_of(session, car.axle).links[0].outside == 32.0
    click(a_list(details, "links").items[0].remove)
    assert names(session, car) == ["upper left", "lower right", "upper right"]
    session.undo()
    assert names(session, car)[0] == "tube"


def test_what_else_holds_the_axle_is_added_and_taken_out(
    session: Session, details: Details, selection: Selection
) -> None:
    made = made_axle(kinds()["torque tube"])
    session.apply("make", lambda _: made.document)
    selection.choose(made.axle)
    holders = a_list(details, "holders")
    count = len(holders.items)
    click(holders.add)
    assert holders.form is not None
    assert holders.form.input.part is not None
    point = made.points["Panhard rod outer"]
    fill_part(session, holders.form.input.part, {"name": "peg", "how": "ball", "points": (point,)})

    click(holders.form.keep)

    assert [held.name for held in axle_of(session, made.axle).holders] == ["ball", "peg"]
    click(holders.items[-1].remove)
    assert len(axle_of(session, made.axle).holders) == count
