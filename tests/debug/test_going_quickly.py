"""The debugger over clocks that run by unseen, beside the debugger that looks at each tick of the oracle: the same
answers, places and machines, whatever is asked."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from terminal_machine import write_machine
from test_going_back import DUNLIN, keyed, with_panel

from latchwork.engines.compiled.engine import CompiledEngine
from latchwork.load.model import load_model
from latchwork.model import Model
from latchwork.problems import LatchworkError
from latchwork.tools.debug import Session
from latchwork.tools.run.running import Running

FORWARD = [("clock", 300), ("instruction", 90), ("step", 200), ("tick", 500)]


def made_quick(running: Running) -> Running:
    """Compiled, and over clocks, from here on."""
    engine = running.simulation
    assert isinstance(engine, CompiledEngine)
    engine._wait, engine._aside, engine.worth_it = 0, False, 1
    engine._codes.clear()
    return running


def loaded(model: Model, program: Path, engine: str) -> Running:
    running = Running(model, seed=4, engine=engine)
    running.load(program)
    return running


class Pair:
    def __init__(self, slow: Running, quick: Running, every: int) -> None:
        self.sessions = (Session(slow, every=every), Session(made_quick(quick), every=every))

    def both(self, word: str, *arguments: object) -> None:
        answers = []
        for session in self.sessions:
            try:
                answer = getattr(session, word)(*arguments)
            except LatchworkError as error:
                answer = error.problems[0].code
            answers.append((type(answer).__name__, str(getattr(answer, "text", answer))))
        assert answers[0] == answers[1], (word, arguments)
        self.compare(f"after {word} {arguments}")

    def compare(self, when: str) -> None:
        one, other = ((session._timeline, session.machine) for session in self.sessions)
        for name in ("here", "counts", "before", "ticked"):
            assert getattr(one[0], name) == getattr(other[0], name), (name, when)
        for name in ("clocks", "instructions", "begins", "instruction_address", "micro_address", "microstep"):
            assert getattr(one[1], name) == getattr(other[1], name), (name, when)
        nets = range(len(one[1].model.netlist.nets))
        values = ([running.simulation.value(net) for net in nets] for _, running in (one, other))
        assert next(values) == next(values), when
        assert one[1].showing() == other[1].showing()
        for device in one[1].devices:
            assert one[1].heard(device) == other[1].heard(device)  # type: ignore[attr-defined]
        assert list(one[1].incidents) == list(other[1].incidents), when


def walk(pair: Pair, rng: random.Random, asked: dict[str, list[tuple[object, ...]]], steps: int) -> None:
    """``asked``: words of the session with what may be asked by them."""
    for _ in range(steps):
        choice = rng.random()
        if choice < 0.35:
            unit, most = rng.choice(FORWARD)
            unit = "clock" if pair.sessions[0].halted else unit  # no instruction begins any more
            pair.both("forward", rng.randrange(1, most), unit)
        elif choice < 0.6:
            unit, most = rng.choice(FORWARD)
            pair.both("back", rng.randrange(1, most), unit)
        else:
            word = rng.choice(sorted(asked))
            pair.both(word, *rng.choice(asked[word]))


ASKED: dict[str, list[tuple[object, ...]]] = {
    "until": [(what, 300) for what in ("acc = 3", "carry", "not zero", ".next", "start.turn", "ram[low] > 40")],
    "back_until": [("acc = 3",), ("carry and not zero",), ("index = 5 or acc = 1",), ("index > 3",)],
    "back_until_changed": [("ram[low]",), ("index",), ("acc + 1",)],
    "back_until_written": [("ram[high]",), ("ram[low]",), ("ram[low]", 24)],
    "back_until_read": [("ram[factor]",), ("rom[3]",)],
    "back_until_at": [("start",), ("start.turn",)],
    "stop_at": [("start.turn",), (5,)],
    "stop_when": [("index = 2",), ("carry",)],
    "stop_when_written": [("ram[low]",), ("ram[high]", 96)],
    "stop_when_changed": [("index",)],
    "stop_when_trouble": [()],
    "stop_at_step": [("jump to", 1), ("add r", 2)],
    "stop_at_micro": [(16,)],
    "forget": [(), (1,)],
    "go": [(400,), (100,)],
    "back_to_stop": [()],
    "put": [("ram[low]", 77)],
    "set": [("keys", 5), ("keys", 0)],
}


@pytest.mark.parametrize("seed", range(6))
def test_walks_on_dunlin(seed: int) -> None:
    model, program = load_model(DUNLIN), DUNLIN / "programs" / "multiply.asm"
    pair = Pair(loaded(model, program, "oracle"), loaded(model, program, "compiled"), every=(3, 40, 1000)[seed % 3])
    walk(pair, random.Random(seed), ASKED, 40)
    assert pair.sessions[1].machine.simulation.native_ticks > 0  # type: ignore[attr-defined]


SCRATCH: dict[str, list[tuple[object, ...]]] = {
    "until": [("count = 9", 40), ("scratch[4] = 0", 40)],
    "back_until": [("count = 3",), ("count[0]",), ("scratch[2] > 7",)],
    "back_until_changed": [("count",), ("scratch[1]",), ("keys",)],
    "back_until_written": [("scratch[2]",), ("scratch[3]", 3)],
    "send": [("panel", b"run=1"), ("panel", b"run=0"), ("panel", b"protect=1"), ("panel", b"protect=0")],
    "put": [("scratch[2]", 200)],
    "set": [("keys", 3), ("keys", 12)],
}


@pytest.mark.parametrize("seed", range(6))
def test_walks_with_a_panel_and_a_memory(seed: int) -> None:
    slow, quick = (with_panel(keyed(), engine) for engine in ("oracle", "compiled"))
    walk(Pair(slow, quick, every=(3, 50)[seed % 2]), random.Random(seed), SCRATCH, 40)


def test_a_long_run_and_back_with_a_terminal(tmp_path: Path) -> None:
    """A million clocks forward and back: the same lamps and the same words on the line as before."""
    write_machine(tmp_path)
    machine = loaded(load_model(tmp_path), tmp_path / "terminal.asm", "compiled")
    session = Session(machine)
    session.forward(200_000, "clock")
    session.send("line", b"w")
    session.forward(300_000, "clock")
    there, said, lamps = session.place, machine.heard("line"), machine["lamps"]
    session.forward(500_000, "clock")
    assert b"w" in said
    session.back(900_000, "clock")
    assert not machine.heard("line").endswith(b"w")
    session.forward(400_000, "clock")
    assert (session.place, machine.heard("line"), machine["lamps"]) == (there, said, lamps)
