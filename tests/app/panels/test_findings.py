from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.panels.findings import LookAt
from app.selection import Selection
from app.session import Session
from app.widgets.finding_card import FindingCard
from app.widgets.finding_details import FindingDetails
from app.widgets.telling import BEFORE
from core.document.base import Ref, Vec3
from core.edits.things import rename
from core.edits.unit import move_unit
from core.engine.cells import When
from core.study.faults import fault
from tests.app.panels.conftest import Show

UNIT = Ref("power_unit1")


def card_of(panel: LookAt, rule: str) -> FindingCard:
    return next(card for key, card in panel.cards.items() if key[0][0] == rule)


def click(card: FindingCard) -> None:
    QTest.mouseClick(card, Qt.MouseButton.LeftButton, pos=QPoint(60, 14))


def details(card: FindingCard) -> FindingDetails:
    body = card.body
    assert isinstance(body, FindingDetails)
    return body


def shift_unit(
    session: Session, y: float, z: float, group: object = None, upto: When = When.RELEASE
) -> None:
    session.apply("Move it", lambda d: move_unit(d, UNIT, Vec3(0.0, y, z)), group, upto)


def test_an_empty_car_tells_its_unanswered_questions_by_the_reason_they_share(
    session: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = LookAt(session, selection, look)
    show(panel, 392, 700)

    assert set(panel.asks) == {
        "no corner is entered",
        "no drive shaft is entered",
        "there is no engine and gearbox",
        "no tube is drawn",
    }
    assert "don't know" in panel.head.remark
    assert panel.cards == {}


def test_findings_stand_worst_first_and_fine_ones_are_folded(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    demo.apply("Fault", fault("SF02").overlay)
    panel = LookAt(demo, selection, look)
    show(panel, 392, 900)

    shown = sorted(
        (card for card in panel.cards.values() if card.isVisible()), key=lambda card: card.y()
    )
    verdicts = [card.finding.verdict for card in shown if not card.finding.accepted]
    assert verdicts == sorted(verdicts, key=["no", "unknown", "tight", "fine"].index)
    assert "no" in verdicts
    assert "fine" not in verdicts
    assert panel.fine.isVisible()


def test_a_click_goes_to_the_place_chooses_the_things_and_opens_in_place(
    demo: Session, selection: Selection, look: Look, show: Show, qtbot: QtBot
) -> None:
    panel = LookAt(demo, selection, look)
    show(panel, 392, 900)
    card = card_of(panel, "unit_gap")

    with qtbot.waitSignal(selection.looked_at) as looked:
        click(card)

    assert looked.args == [card.finding]
    assert selection.refs == card.finding.subjects
    assert card.is_open
    click(card)
    assert not card.is_open


def test_enter_opens_a_card_as_a_click_does(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = LookAt(demo, selection, look)
    show(panel, 392, 900)
    card = card_of(panel, "way_out")
    card.setFocus()

    QTest.keyClick(card, Qt.Key.Key_Return)

    assert card.is_open


def test_accepting_needs_a_reason(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = LookAt(demo, selection, look)
    show(panel, 392, 900)
    card = card_of(panel, "unit_gap")
    click(card)
    before = demo.state.document

    QTest.mouseClick(details(card).accept, Qt.MouseButton.LeftButton)

    assert demo.state.document is before
    assert "reason" in details(card).refusal

    QTest.keyClicks(details(card).reason, "a finger fits; soft mounts are stiffer than drawn")
    QTest.mouseClick(details(card).accept, Qt.MouseButton.LeftButton)

    found = [f for f in demo.state.findings if f.rule == "unit_gap" and f.accepted]
    assert [f.accepted for f in found] == ["a finger fits; soft mounts are stiffer than drawn"]
    assert "accepted" in card_of(panel, "unit_gap").accessibleName()


def test_an_accepted_finding_can_be_opened_again(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = LookAt(demo, selection, look)
    show(panel, 392, 900)
    card = card_of(panel, "open_bay")
    assert card.finding.accepted
    click(card)

    QTest.mouseClick(details(card).reopen, Qt.MouseButton.LeftButton)

    bays = [f for f in demo.state.findings if f.key == card.finding.key]
    assert [f.accepted for f in bays] == [""]


def test_a_remedy_mends_an_engine_that_hangs_too_far_to_the_right(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    demo.apply("Fault", fault("SF02").overlay)
    panel = LookAt(demo, selection, look)
    show(panel, 392, 900)
    card = card_of(panel, "wheel_planes")
    assert card.finding.verdict == "no"
    click(card)
    move = next(b for b in details(card).remedies if "engine and gearbox" in b.text())

    QTest.mouseClick(move, Qt.MouseButton.LeftButton)

    planes = [f for f in demo.state.findings if f.rule == "wheel_planes"]
    assert all(f.verdict != "no" for f in planes)
    assert demo.history.done[-1].words.startswith("Move the engine and gearbox")


def test_what_a_finding_rests_on_is_told_when_asked_for(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = LookAt(demo, selection, look)
    show(panel, 392, 900)
    card = card_of(panel, "unit_gap")
    click(card)
    assert details(card).why == ""

    QTest.mouseClick(details(card).ask_why, Qt.MouseButton.LeftButton)

    assert "guessed" in details(card).why


def test_what_has_not_caught_up_says_so_in_a_drag_and_no_more_after_it(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = LookAt(demo, selection, look)
    show(panel, 392, 900)
    assert "way_out" in {key[0][0] for key in panel.cards}

    shift_unit(demo, 0.0, 1.0, "drag", upto=When.LIVE)

    way_out = card_of(panel, "way_out")
    assert way_out.finding.behind
    assert way_out.accessibleName().startswith(BEFORE)
    assert BEFORE in panel.head.remark
    assert not card_of(panel, "unit_gap").finding.behind

    demo.settle()

    assert not any(card.finding.behind for card in panel.cards.values())
    assert BEFORE not in panel.head.remark


def test_what_got_worse_in_this_drag_stands_first(
    demo: Session, selection: Selection, look: Look, show: Show, qtbot: QtBot
) -> None:
    panel = LookAt(demo, selection, look)
    show(panel, 392, 900)

    for _ in range(3):
        shift_unit(demo, 0.0, -3.0, "drag", upto=When.LIVE)
    qtbot.wait(10)

    shown = sorted((c for c in panel.cards.values() if c.isVisible()), key=lambda c: c.y())
    worse = [card.worse for card in shown]
    assert True in worse
    assert worse == sorted(worse, reverse=True)
    demo.settle()
    assert any(card.worse for card in panel.cards.values())
    demo.apply("Call it otherwise", lambda d: rename(d, "car", "Fennock Two"))
    assert not any(card.worse for card in panel.cards.values())


def test_a_drag_makes_no_new_cards_while_the_same_things_are_found(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = LookAt(demo, selection, look)
    show(panel, 392, 900)
    shift_unit(demo, 0.0, 0.2, "drag", upto=When.LIVE)
    before = dict(panel.cards)

    for _ in range(5):
        shift_unit(demo, 0.0, 0.2, "drag", upto=When.LIVE)

    kept = {key: card for key, card in panel.cards.items() if key in before}
    assert all(before[key] is card for key, card in kept.items())
    demo.settle()
