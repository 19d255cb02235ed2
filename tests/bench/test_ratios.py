"""The harness of the benchmarks itself, on a machine whose every turn is prescribed."""

import gc
from collections.abc import Callable, Iterator
from itertools import chain, repeat

from tests.bench.ratios import SPELLS, Bound, Clock, Turns, ratio

BOUND = Bound(most=1.5, measured=1.2)
TWO = Turns(enough=2, most=2)


class Machine:
    """A clock that only goes on while work is done or waited for."""

    def __init__(self) -> None:
        self.time = 0.0
        self.waited: list[float] = []

    @property
    def clock(self) -> Clock:
        return Clock(lambda: self.time, self.waited.append)

    def work(self, taking: Iterator[float]) -> Callable[[], object]:
        """Work whose first turn only warms up."""

        def do() -> None:
            self.time += next(taking)

        return do


def test_the_best_turn_of_each_counts_and_a_disturbed_one_does_not() -> None:
    machine = Machine()
    ours, theirs = machine.work(iter([9.0, 1.2, 50.0])), machine.work(iter([9.0, 70.0, 1.0]))
    found = ratio(ours, theirs, BOUND, TWO, machine.clock)
    assert found.holds
    assert round(found.best.times, 9) == 1.2
    assert machine.waited == []


def test_a_busy_spell_is_measured_again_later() -> None:
    machine = Machine()
    ours = machine.work(iter([1.0, 3.0, 3.0, 3.0, 3.0, 1.2, 1.2]))
    found = ratio(ours, machine.work(repeat(1.0)), BOUND, TWO, machine.clock)
    assert found.holds
    assert len(found.spells) == 3
    assert machine.waited == sorted(machine.waited)
    assert len(machine.waited) == 2


def test_best_times_of_different_spells_are_never_set_against_each_other() -> None:
    machine = Machine()
    ours = machine.work(chain([1.0, 1.0, 1.0], repeat(4.0)))
    theirs = machine.work(chain([1.0, 0.5, 0.5], repeat(2.0)))
    found = ratio(ours, theirs, BOUND, TWO, machine.clock)
    assert [spell.times for spell in found.spells] == [2.0] * SPELLS


def test_what_is_too_slow_in_every_spell_does_not_hold_and_says_by_how_much() -> None:
    machine = Machine()
    found = ratio(machine.work(repeat(1.6)), machine.work(repeat(1.0)), BOUND, TWO, machine.clock)
    assert not found.holds
    assert str(found).startswith("1.6 times in the best of 8 spells, 1.6e+03 ms against 1e+03 ms")
    assert str(found).endswith("at most 1.5, and 1.2 when that was set")


def test_the_collector_is_off_inside_and_on_again_after() -> None:
    states: list[bool] = []
    ratio(lambda: states.append(gc.isenabled()), lambda: None, Bound(1e9, 1.0), TWO)
    assert states[1:] == [False, False]
    assert gc.isenabled()
