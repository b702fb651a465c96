"""Work beside a run: the collector is off meanwhile, and afterwards as it was."""

from __future__ import annotations

import gc
import threading
from collections.abc import Callable, Iterator

import pytest

from latchwork.engines.compiled.background import Task, collector


@pytest.fixture(autouse=True)
def collector_on() -> Iterator[None]:
    gc.enable()
    yield
    collector.tidy()
    gc.enable()


def waiting(gate: threading.Event) -> Callable[[Callable[[], bool]], bool]:
    """Work that is not over before the gate opens; gives whether the collector was on."""

    def work(_: Callable[[], bool]) -> bool:
        gate.wait(timeout=60)
        return gc.isenabled()

    return work


def test_the_collector_is_off_until_the_last_of_them_is_done() -> None:
    gates = threading.Event(), threading.Event()
    first, second = (Task(waiting(gate), aside=True) for gate in gates)
    gates[0].set()
    assert first.result() is False
    gates[1].set()
    assert second.result() is False
    assert gc.isenabled()


def test_who_had_it_off_keeps_it_off() -> None:
    gc.disable()
    gate = threading.Event()
    gate.set()
    Task(waiting(gate), aside=True).result()
    assert not gc.isenabled()


def test_what_is_raised_turns_it_on_again() -> None:
    def work(_: Callable[[], bool]) -> None:
        raise ValueError("no")

    with pytest.raises(ValueError, match="no"):
        Task(work, aside=True).result()
    assert gc.isenabled()


def test_what_was_set_aside_is_gone_through_at_a_good_moment() -> None:
    gate = threading.Event()
    gate.set()
    Task(waiting(gate), aside=True).result()
    assert gc.get_freeze_count() > 0
    collector.tidy()
    assert gc.get_freeze_count() == 0


def test_work_that_is_waited_for_leaves_it_alone() -> None:
    gate = threading.Event()
    gate.set()
    assert Task(waiting(gate), aside=False).result() is True
