"""The runner: the newest request wins, and no late, doubled or disordered answer is shown."""

import multiprocessing
from collections.abc import Iterator
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from app import jobs as jobs_module
from app.jobs import Answer, Failure, Jobs
from app.worker import Told, Work, WorkFailedError
from core.document.errors import JigplateError
from tests.app.shell import work

LONG = 15_000  # a worker has to start, perhaps on a machine that has other things to do


class Kept:
    """What a runner said, in order."""

    def __init__(self, jobs: Jobs) -> None:
        self.answers: list[Answer] = []
        self.failures: list[Failure] = []
        self.progress: list[Any] = []
        jobs.answered.connect(self.answers.append)
        jobs.failed.connect(self.failures.append)
        jobs.progressed.connect(lambda answer: self.progress.append(answer.value))


@pytest.fixture
def jobs() -> Iterator[Jobs]:
    made = Jobs()
    yield made
    made.close()


@pytest.fixture
def kept(jobs: Jobs) -> Kept:
    return Kept(jobs)


def test_work_is_done_in_another_process_and_answered_with_its_turn(
    jobs: Jobs, kept: Kept, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(jobs.answered, timeout=LONG):
        turn = jobs.ask(work.double, 21)

    assert kept.answers == [Answer(turn, 42)]
    assert kept.progress == ["half"]
    assert not jobs.is_busy


def test_of_many_requests_only_the_newest_is_answered(jobs: Jobs, kept: Kept, qtbot: QtBot) -> None:
    first = jobs.ask(work.slow, (1, 30.0))
    with qtbot.waitSignal(jobs.progressed, timeout=LONG):
        pass  # it is under way

    with qtbot.waitSignal(jobs.answered, timeout=LONG):
        turns = [jobs.ask(work.double, value) for value in range(2, 50)]
    qtbot.wait(100)

    assert first == 1
    assert kept.answers == [Answer(turns[-1], 98)]


def test_a_late_answer_of_work_that_cannot_be_stopped_is_dropped(
    jobs: Jobs, kept: Kept, qtbot: QtBot
) -> None:
    jobs.ask(work.double, 0)
    qtbot.waitUntil(lambda: len(kept.answers) == 1, timeout=LONG)

    jobs.ask(work.deaf, (1, 0.4))
    with qtbot.waitSignal(jobs.answered, timeout=LONG):
        turn = jobs.ask(work.double, 2)

    assert kept.answers[1:] == [Answer(turn, 4)]


def test_doubled_and_disordered_words_from_the_worker_go_no_further(
    jobs: Jobs, kept: Kept, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(jobs.answered, timeout=LONG):
        old = jobs.ask(work.double, 1)
    jobs.take(Told("done", old, "again"))
    new = jobs.ask(work.slow, (7, 0.3))

    jobs.take(Told("done", old, "late"))
    jobs.take(Told("progress", old, "late"))
    jobs.take(Told("failed", old, ValueError()))
    jobs.take(Told("done", new + 1, "not asked for"))
    qtbot.waitUntil(lambda: len(kept.answers) == 2, timeout=LONG)
    jobs.take(Told("done", new, "twice"))

    assert [answer.value for answer in kept.answers] == [2, 7]
    assert kept.failures == []
    assert set(kept.progress) <= {"half", 7}


def test_what_was_stopped_is_not_answered(jobs: Jobs, kept: Kept, qtbot: QtBot) -> None:
    jobs.ask(work.slow, (1, 30.0))
    with qtbot.waitSignal(jobs.progressed, timeout=LONG):
        pass

    jobs.stop()

    assert not jobs.is_busy
    with qtbot.waitSignal(jobs.answered, timeout=LONG):
        turn = jobs.ask(work.double, 3)
    assert kept.answers == [Answer(turn, 6)]


def test_work_that_does_not_stop_in_time_is_ended(
    jobs: Jobs, kept: Kept, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    with qtbot.waitSignal(jobs.answered, timeout=LONG):
        jobs.ask(work.double, 1)
    monkeypatch.setattr(jobs_module, "PATIENCE_MS", 100)

    jobs.ask(work.deaf, (1, 600.0))
    turn = jobs.ask(work.double, 2)

    qtbot.waitUntil(lambda: Answer(turn, 4) in kept.answers, timeout=LONG)
    assert kept.failures == []


def test_an_expected_failure_comes_with_its_sentence(jobs: Jobs, kept: Kept, qtbot: QtBot) -> None:
    with qtbot.waitSignal(jobs.failed, timeout=LONG):
        turn = jobs.ask(work.refuse, "there is no way out")

    assert kept.failures[0].turn == turn
    assert isinstance(kept.failures[0].error, JigplateError)
    assert str(kept.failures[0].error) == "there is no way out"


def test_a_bug_in_the_worker_comes_with_where_it_happened(
    jobs: Jobs, kept: Kept, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(jobs.failed, timeout=LONG):
        jobs.ask(work.break_off, "twelve")

    error = kept.failures[0].error
    assert isinstance(error, WorkFailedError)
    assert "break_off" in str(error)
    assert "ValueError" in str(error)


@pytest.mark.parametrize("doing", [work.vanish, work.unsendable])
def test_the_runner_survives_a_worker_that_ends_or_cannot_answer(
    jobs: Jobs, kept: Kept, qtbot: QtBot, doing: Work
) -> None:
    with qtbot.waitSignal(jobs.failed, timeout=LONG):
        jobs.ask(doing, 1)

    with qtbot.waitSignal(jobs.answered, timeout=LONG):
        turn = jobs.ask(work.double, 5)
    assert kept.answers == [Answer(turn, 10)]


def test_closing_waits_until_the_worker_is_gone(jobs: Jobs, kept: Kept, qtbot: QtBot) -> None:
    jobs.ask(work.slow, (1, 30.0))
    with qtbot.waitSignal(jobs.progressed, timeout=LONG):
        pass

    jobs.close()

    assert multiprocessing.active_children() == []
    qtbot.wait(50)
    assert kept.answers == []


def test_at_once_the_answer_still_comes_after_the_turn_is_known(qtbot: QtBot) -> None:
    jobs = Jobs(at_once=True)
    kept = Kept(jobs)

    turn = jobs.ask(work.double, 4)

    assert kept.answers == []
    qtbot.waitUntil(lambda: kept.answers == [Answer(turn, 8)])
    assert kept.progress == ["half"]
    jobs.close()
