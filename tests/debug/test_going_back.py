"""After walks back and forth the machine is where a straight run, with the same hands at the same ticks, brings it."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

import latchwork
from latchwork.devices.panel import Panel
from latchwork.load.model import load_model
from latchwork.model import Model
from latchwork.problems import LatchworkError
from latchwork.tools.debug import Session
from latchwork.tools.run.running import Running

DUNLIN = Path(__file__).parents[2] / "machines" / "dunlin"
KEYED = """
from latchwork import HIGH, LOW, OPEN, Machine
m = Machine("keyed")
clock = m.clock(1_000_000)
reset_n = m.power_on_reset()
count = m.bus("count", 4)
m.chip("161", CLK=clock, CLR_n=reset_n, LOAD_n=HIGH, P=[LOW] * 4, ENP=m.net("run"), ENT=HIGH, Q=count, RCO=OPEN)
keys = m.switches("keys", 4)
data = m.bus("data", 8)
write_n = m.gate("or", clock, m.net("protect"), name="write_n")
m.chip("541", A=[*keys, *[LOW] * 4], Y=data, G1_n=write_n, G2_n=LOW)
ram = m.chip("6116", A=[*count, *[LOW] * 7], D=data, CE_n=LOW, OE_n=m.gate("inverter", write_n), WE_n=write_n)
m.space("scratch", address=count, data=data, chips=[ram])
m.output("seen", count)
m.input("keys", keys)
m.register("count", count)
"""


@cache
def keyed() -> Model:
    with TemporaryDirectory() as folder:
        (Path(folder) / "machine.py").write_text(KEYED)
        return load_model(folder)


def with_panel(model: Model, engine: str | None = None) -> Running:
    """The machine with a panel that counts may be stopped at; the panel tells of the count."""
    machine = Running(model, seed=3, engine=engine)
    net = model.netlist.net_named
    lamps = {"count": machine.nets("count")}
    machine.attach(Panel("panel", switches={"run": [net["run"]], "protect": [net["protect"]]}, lamps=lamps))
    return machine


def straight(machine: Running, session: Session) -> Running:
    """A run without going back that does what was done in the session, at the same ticks."""
    place, acts = session.place, list(session._timeline.acts)
    done = 0
    while True:
        while done < place.acts and acts[done].tick == machine.simulation.ticks:
            act = acts[done]
            if act.kind == "set":
                machine[act.name] = act.value
            elif act.kind == "send":
                machine.send(act.name, act.value)
            else:
                machine.memory[act.name][act.value[0]] = act.value[1]
            done += 1
        if machine.simulation.ticks >= place.tick:
            return machine
        machine.tick()


moves = st.one_of(
    st.tuples(st.just("forward"), st.integers(1, 40)),
    st.tuples(st.just("back"), st.integers(1, 60)),
    st.tuples(st.just("back clocks"), st.integers(1, 20)),
    st.tuples(st.just("keys"), st.integers(0, 15)),
    st.tuples(st.just("panel"), st.sampled_from([b"run=1", b"run=0", b"protect=1", b"protect=0", b"junk"])),
    st.tuples(st.just("put"), st.integers(0, 255)),
    st.tuples(st.just("back until"), st.sampled_from(["count = 3", "count[0]", "scratch[2] > 7"])),
    st.tuples(st.just("changed"), st.sampled_from(["count", "scratch[1]", "keys"])),
    st.tuples(st.just("until"), st.sampled_from(["count = 9", "scratch[4] = 0"])),
)


def move(session: Session, kind: str, value: object) -> None:
    acts: dict[str, Callable[[], object]] = {
        "forward": lambda: session.forward(value, "tick"),  # type: ignore[arg-type]
        "back": lambda: session.back(value, "tick"),  # type: ignore[arg-type]
        "back clocks": lambda: session.back(value, "clock"),  # type: ignore[arg-type]
        "keys": lambda: session.set("keys", value),  # type: ignore[arg-type]
        "panel": lambda: session.send("panel", value),  # type: ignore[arg-type]
        "put": lambda: session.put("scratch[2]", value),  # type: ignore[arg-type]
        "back until": lambda: session.back_until(value),  # type: ignore[arg-type]
        "changed": lambda: session.back_until_changed(value),  # type: ignore[arg-type]
        "until": lambda: session.until(value, clocks=20),  # type: ignore[arg-type]
    }
    code = ""
    try:
        acts[kind]()
    except LatchworkError as error:
        code = error.problems[0].code
    assert code in ("", "R502", "R503")


@settings(max_examples=60, deadline=None)
@example(
    steps=[*[("forward", 1)] * 10, ("panel", b"run=1"), *[("forward", 1)] * 2, ("back until", "count = 3")], every=1
)
@given(steps=st.lists(moves, min_size=1, max_size=14), every=st.sampled_from([1, 3, 7, 50]))
def test_random_walks(steps: list[tuple[str, object]], every: int) -> None:
    session = Session(with_panel(keyed()), every=every)
    for kind, value in steps:
        move(session, kind, value)
    other = straight(with_panel(keyed()), session)
    assert session.machine.save() == other.save()
    assert session.machine.output("seen") == other.output("seen")  # type: ignore[attr-defined]
    assert session.machine.heard("panel") == other.heard("panel")  # type: ignore[attr-defined]


@settings(max_examples=10, deadline=None)
@given(
    steps=st.lists(
        st.tuples(st.sampled_from(["forward", "back"]), st.integers(1, 9), st.sampled_from(["step", "instruction"])),
        min_size=1,
        max_size=10,
    )
)
def test_random_walks_on_dunlin(steps: list[tuple[str, int, str]]) -> None:
    model = _loaded()
    session = Session(Running(model), every=5)
    session.forward(12)
    for kind, count, unit in steps:
        (session.forward if kind == "forward" else session.back)(count, unit)
    other = straight(Running(model), session)
    assert session.machine.save() == other.save()


@cache
def _dunlin() -> Model:
    return load_model(DUNLIN)


@cache
def _loaded() -> Model:
    """With the program in its ROM."""
    return _multiplying(_dunlin()).model


def _multiplying(model: Model) -> Running:
    machine = Running(model)
    machine.load("programs/multiply.asm")
    return machine


def session_on_dunlin(every: int = 10) -> Session:
    return Session(_multiplying(_dunlin()), every=every)


def test_back_by_units() -> None:
    session = session_on_dunlin()
    session.stop_at("start.turn")
    assert session.go().stop == 1
    at = session.place
    session.forward(5)
    for _ in range(5):
        session.back(1)
    assert session.place == at
    session.forward(7, "tick")
    session.back(7, "tick")
    assert session.place == at
    session.back(2, "step")
    session.forward(2, "step")
    assert session.place == at


def test_from_within_an_instruction_back_goes_to_its_beginning() -> None:
    session = session_on_dunlin()
    session.forward(10)
    at = session.place
    session.forward(1, "step")
    session.back(1)
    assert session.place == at


def test_back_to_where_a_cell_was_written() -> None:
    """The product of 200 and 123, worked out by hand: 24600 = 96 * 256 + 24."""
    session = session_on_dunlin()
    assert session.go().kind == "halt"
    assert (session["ram[high]"], session["ram[low]"]) == (96, 24)
    session.back_until_changed("ram[low]")
    assert session["ram[low]"] == 24
    session.back(1, "tick")
    assert session["ram[low]"] != 24
    session.back_until("index = 8")
    assert session["index"] == 8
    session.forward(1, "tick")
    assert session["index"] == 7


def test_what_never_happened() -> None:
    session = session_on_dunlin()
    session.go()
    at = session.place
    with pytest.raises(LatchworkError, match="R503 index = 77 never held since clock 0"):
        session.back_until("index = 77")
    assert session.place == at


def test_the_horizon_is_kept_and_stated() -> None:
    session = session_on_dunlin(every=4)
    session.limit(clocks=40)
    session.go()
    horizon = session.horizon
    assert horizon.limit_clocks == 40
    assert session.machine.clocks - 48 <= horizon.oldest_clock <= session.machine.clocks - 40
    at = session.place
    with pytest.raises(LatchworkError) as raised:
        session.back(60, "clock")
    oldest = horizon.oldest_clock
    assert str(raised.value) == (
        f"R502 that is farther back than clock {oldest}, the oldest moment that is kept "
        "(a longer horizon reaches farther, and takes more memory)"
    )
    assert session.place == at
    session.back(30, "clock")


def test_memory_is_bounded_by_saving_less_often() -> None:
    session = session_on_dunlin(every=2)
    session.go()
    wide = session.horizon
    session.limit(clocks=100_000)
    session._timeline.horizon_bytes = wide.bytes_used // 4
    session._timeline._trim()
    narrow = session.horizon
    assert narrow.bytes_used <= wide.bytes_used // 4
    assert narrow.oldest_clock == 0
    assert narrow.every > 2
    session.back(200, "clock")


def test_a_new_act_in_the_past_begins_another_future() -> None:
    machine = latchwork.load(DUNLIN)
    machine.load("programs/multiply.asm")
    session = Session(machine)
    session.forward(50, "tick")
    session.set("keys", 5)
    session.forward(50, "tick")
    session.back(80, "tick")
    assert session["keys"] == 0
    session.forward(90, "tick")
    assert session["keys"] == 5  # done again
    session.back(80, "tick")
    session.set("keys", 2)
    session.forward(90, "tick")
    assert session["keys"] == 2


def test_pages_that_did_not_change_are_shared() -> None:
    session = session_on_dunlin(every=20)
    session.go()
    first, second = (mark.saved.simulation.cells for mark in session._timeline.marks[-2:])  # type: ignore[attr-defined]
    rom = [(a[0], b[0]) for a, b in zip(first, second, strict=True) if a[0]]
    shared = sum(pages[number] is others[number] for pages, others in rom for number in pages if number in others)
    total = sum(len(pages) for pages, _ in rom)
    assert total >= 1
    assert shared >= total - 1
