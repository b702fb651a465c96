"""The rows of the larger machine: runs of engine and yardsticks take turns, medians with their spread."""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from unittest.mock import patch

from campaign import campaign_rows
from figures import Figure, spread
from lapwing import GccBit, Interpreter, Lapwing
from living import back_a_million, with_devices

from latchwork.engines.compiled.engine import CompiledEngine
from latchwork.engines.compiled.settling import Fight, Settling
from latchwork.engines.compiled.watching import Watch

RUNS = 5
CLOCKS = 2_000_000


def lapwing_rows() -> list[Figure]:
    lapwing = Lapwing()
    with tempfile.TemporaryDirectory() as folder:
        found = [*_rates(lapwing, Path(folder)), *_waits(lapwing)]
    healthy = next(float(str(row["value"])) for row in found if row["name"] == "engine.general_clocks_s")
    return [*found, with_devices(), back_a_million(), *campaign_rows(lapwing, healthy)]


def _timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def _without_fights(lapwing: Lapwing) -> CompiledEngine:
    """An engine compiled as if no two drivers could differ."""

    def none(settling: Settling) -> list[Fight]:
        return []

    with patch.object(Settling, "fights", none):
        engine = lapwing.warm()
        engine.run(CLOCKS)
    return engine


def _watched(engine: CompiledEngine, lapwing: Lapwing, clocks: int) -> None:
    """Clocks run by while a net is looked at after every tick; it changes in the end of the program only."""
    watch = Watch(changing=(lapwing.model.statements.halts[0].net,))
    while clocks > 0:
        done = engine.skip(watch, clocks)
        if not done:
            raise RuntimeError("nothing ran by")
        clocks -= done


def _hot(lapwing: Lapwing) -> CompiledEngine:
    """An engine that has all clocks of the program in code for their control words, before an instruction."""
    engine = lapwing.engine(hot=True)
    before = -1
    while engine.clocks - engine.hot_clocks != before:
        before = engine.clocks - engine.hot_clocks
        engine.run(20 * CLOCKS)
    while engine.read(lapwing.registers["step"]) != 0:
        engine.run(1)
    return engine


def _hot_run(lapwing: Lapwing, engine: CompiledEngine, interpreter: Interpreter) -> tuple[float, float]:
    """Seconds a clock of the interpreter and of the engine. RuntimeError where their end states differ."""
    end, memory, clocks, spent = interpreter.run(lapwing.interpreted(engine), 10 * CLOCKS)
    took = _timed(lambda: engine.run(clocks))
    if lapwing.interpreted(engine) != (end, memory):
        raise RuntimeError("the end states differ")
    return spent / clocks, took / clocks


def _rates(lapwing: Lapwing, folder: Path) -> list[Figure]:
    bits, interpreter = GccBit(lapwing, folder), Interpreter(folder)
    blind, watched = _without_fights(lapwing), lapwing.warm()
    watched.worth_it = 1
    _watched(watched, lapwing, 1000)
    hot = _hot(lapwing)
    engine = lapwing.warm()
    engine.run(CLOCKS)
    times: dict[str, list[float]] = {
        name: [] for name in ("engine", "bits", "hand", "blind", "watched", "hot", "beside")
    }
    while engine.read(lapwing.registers["step"]) != 0:
        engine.run(1)
    for _ in range(RUNS):
        beside, spent = _hot_run(lapwing, hot, interpreter)
        times["beside"].append(beside)
        times["hot"].append(spent)
        states, known = lapwing.states(engine), lapwing.interpreted(engine)
        end, memory, clocks, spent = interpreter.run(known, CLOCKS)
        times["hand"].append(spent / clocks)
        times["engine"].append(_timed(lambda clocks=clocks: engine.run(clocks)) / clocks)  # type: ignore[misc]
        bits_end, spent = bits.run(states, clocks)
        times["bits"].append(spent / clocks)
        if lapwing.states(engine) != bits_end or lapwing.interpreted(engine) != (end, memory):
            raise RuntimeError("the end states differ")
        times["blind"].append(_timed(lambda: blind.run(CLOCKS)) / CLOCKS)
        times["watched"].append(_timed(lambda: _watched(watched, lapwing, CLOCKS)) / CLOCKS)

    def ratio(above: str, below: str) -> list[float]:
        return [a / b for a, b in zip(times[above], times[below], strict=True)]

    rates = {name: [1 / each for each in values] for name, values in times.items()}
    return [
        spread("engine.general_clocks_s", rates["engine"], "clocks/s", "higher"),
        spread("yardstick.gcc_bit_clocks_s", rates["bits"], "clocks/s", "higher"),
        spread("yardstick.interpreter_clocks_s", rates["hand"], "clocks/s", "higher"),
        spread("engine.general_vs_gcc_bit", ratio("bits", "engine"), "times", "higher", 1.8),
        spread("engine.general_vs_interpreter", ratio("hand", "engine"), "times", "higher"),
        spread("engine.specialised_clocks_s", rates["hot"], "clocks/s", "higher"),
        spread("engine.specialised_vs_gcc_bit", ratio("bits", "hot"), "times", "higher", 18),
        spread("engine.specialised_vs_interpreter", ratio("beside", "hot"), "times", "higher", 0.2),
        spread("engine.fight_detection_cost", ratio("engine", "blind"), "times", "lower", 1.1),
        spread("engine.watched_net_cost", ratio("watched", "engine"), "times", "lower", 2),
    ]


PIECE = 1100
"""Clocks in one go: so many that whole clocks are compiled, and so few that they take no time worth naming."""


def _waits(lapwing: Lapwing) -> list[Figure]:
    """Until the first clock is over; from then on, until clocks run in code for their control words, the longest time
    in which no clock passed: of a tick, or of some clocks in one go; and how long all that took."""
    first, longest, ready = [], [], []
    for _ in range(RUNS):
        start = time.perf_counter()
        engine = lapwing.engine(hot=True, aside=True)
        engine.run(1)
        first.append(time.perf_counter() - start)
        longest.append(_longest_pause(engine))
        ready.append(time.perf_counter() - start)
    return [
        spread("engine.first_clock_s", first, "s", "lower", 0.5),
        spread("engine.longest_pause_s", longest, "s", "lower", 0.05),
        spread("engine.specialised_ready_s", ready, "s", "lower", 1.5),
    ]


def _longest_pause(engine: CompiledEngine) -> float:
    longest = 0.0

    def watched(work: Callable[..., bool]) -> Callable[..., bool]:
        def watching(*arguments: int) -> bool:
            nonlocal longest
            start = time.perf_counter()
            result = work(*arguments)
            longest = max(longest, time.perf_counter() - start)
            return result

        return watching

    with (
        patch.object(engine, "tick", watched(engine.tick)),
        patch.object(engine, "_fast", watched(engine._fast)),
    ):
        while not engine.hot_clocks:
            engine.run(PIECE)
    return longest
