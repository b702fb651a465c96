"""Text cases: a circuit and a script, to be run by every engine. One statement a line, ``#`` starts a comment.

    part PART LABEL PORT=NET ...     place a part (underscores stand for spaces); after a part's label @NAME=NUMBER
                                     gives a parameter; a port of several pins takes NET/WIDTH or A,B,C lowest first
    input NET ...                    nets set by hand, 0 at power-up
    main NET                         the main clock
    set NET=LEVEL ...                by hand, one after the other, each a tick; NET/WIDTH names take numbers
    force NET=LEVEL  /  release NET  an outside driver
    close LABEL  /  open LABEL       switches
    put LABEL.STATE=NUMBER           overwrite a register or latch
    write LABEL ADDRESS=NUMBER       overwrite a memory cell
    tick [COUNT]  /  run CLOCKS      let time pass
    expect NET=VALUE ...             0, 1, a number, x (unknown), - (carries nothing)
    cell LABEL ADDRESS=VALUE         of a memory; x unknown
    time PICOSECONDS                 it is that late
    incident KIND NET,...            one of this kind names at least these nets; KIND with _ for spaces
    quiet                            nothing was reported so far
    seeded STATEMENT / unknown STATEMENT   only in that reading

Without ``seeded`` or ``unknown`` a statement holds in both readings, and for every seed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from building import Builder
from small_parts import ALL

from latchwork.engines.protocol import Simulation, Value
from latchwork.netlist import Netlist

Engine = Callable[[Netlist, bool], Simulation]
_VALUES = {Value.UNKNOWN: "x", Value.NOTHING: "-"}


@dataclass
class Case:
    """A circuit and the statements of its script, each with its line number."""

    name: str
    builder: Builder = field(default_factory=Builder)
    chips: dict[str, int] = field(default_factory=dict)
    buses: dict[str, list[str]] = field(default_factory=dict)
    inputs: dict[str, int] = field(default_factory=dict)
    script: list[tuple[int, list[str]]] = field(default_factory=list)

    def nets(self, name: str) -> list[int]:
        return [self.builder.names[net] for net in self.buses.get(name, [name])]

    def named(self, text: str) -> list[str]:
        """The nets that a word of a circuit means."""
        found: list[str] = []
        for word in text.split(","):
            base, _, width = word.partition("/")
            if width:
                self.buses[base] = self.builder.bus(base, int(width))
            found += self.buses.get(base, [base])
        return found


def read_case(path: Path) -> Case:
    """The case in a file."""
    case = Case(path.stem)
    for number, line in enumerate(path.read_text().splitlines(), start=1):
        words = line.split("#")[0].split()
        if words:
            _circuit(case, number, words)
    return case


def _circuit(case: Case, number: int, words: list[str]) -> None:
    match words[0]:
        case "part":
            name, label = words[1].replace("_", " "), words[2]
            given = dict(word.split("=") for word in words[3:])
            parameters = {key[1:]: int(value) for key, value in given.items() if key[0] == "@"}
            ports = {port: case.named(nets) for port, nets in given.items() if port[0] != "@"}
            case.chips[label] = case.builder.add(ALL.get(name, name), label, parameters, **ports)
        case "input":
            for net in (net for word in words[1:] for net in case.named(word)):
                case.inputs[net] = case.builder.add("hand clock", f"hand {net}", OUT=net)
        case "main":
            case.builder.clock = words[1]
        case _:
            case.script.append((number, words))


def run_case(case: Case, engine: Engine, unknown: bool) -> None:
    """Build the circuit and follow the script. AssertionError names the line that does not hold."""
    simulation = engine(case.builder.netlist(case.name), unknown)
    for number, words in case.script:
        reading = "unknown" if unknown else "seeded"
        if words[0] in ("seeded", "unknown"):
            if words[0] != reading:
                continue
            words = words[1:]
        _STATEMENTS[words[0]](case, simulation, f"{case.name}:{number} ({reading})", *words[1:])


def _set(case: Case, simulation: Simulation, place: str, *pairs: str) -> None:
    for name, level in _pairs(pairs):
        for index, net in enumerate(case.buses.get(name, [name])):
            bit = int(level, 0) >> index & 1
            if simulation.value(case.builder.names[net]) != bit:
                simulation.set_hand(case.inputs[net], bit)


def _force(case: Case, simulation: Simulation, place: str, *pairs: str) -> None:
    for name, level in _pairs(pairs):
        for index, net in enumerate(case.nets(name)):
            simulation.force(net, int(level, 0) >> index & 1)


def _release(case: Case, simulation: Simulation, place: str, *names: str) -> None:
    for net in (net for name in names for net in case.nets(name)):
        simulation.force(net, None)


def _switch(closed: bool) -> Callable[..., None]:
    def move(case: Case, simulation: Simulation, place: str, label: str) -> None:
        simulation.set_switch(case.chips[label], closed)

    return move


def _put(case: Case, simulation: Simulation, place: str, pair: str) -> None:
    ((name, value),) = _pairs((pair,))
    label, _, state = name.partition(".")
    simulation.set_state(case.chips[label], state, int(value, 0))


def _write(case: Case, simulation: Simulation, place: str, label: str, pair: str) -> None:
    ((address, value),) = _pairs((pair,))
    simulation.write_memory(case.chips[label], bytes([int(value, 0)]), int(address, 0))


def _tick(case: Case, simulation: Simulation, place: str, count: str = "1") -> None:
    for _ in range(int(count)):
        assert simulation.tick(), f"{place}: nothing happens any more"


def _run(case: Case, simulation: Simulation, place: str, clocks: str) -> None:
    assert simulation.run(int(clocks)) == int(clocks), f"{place}: the clock stopped"


def _expect(case: Case, simulation: Simulation, place: str, *pairs: str) -> None:
    for name, expected in _pairs(pairs):
        nets = case.nets(name)
        if expected in ("x", "-"):
            found: Any = {_VALUES.get(simulation.value(net), "a level") for net in nets}
            assert found == {expected}, f"{place}: {name} carries {found}, not {expected}"
        else:
            found = simulation.read(nets)
            assert found == int(expected, 0), f"{place}: {name} is {found}, not {expected}"


def _cell(case: Case, simulation: Simulation, place: str, label: str, pair: str) -> None:
    ((address, expected),) = _pairs((pair,))
    found = simulation.memory(case.chips[label])[int(address, 0)]
    assert found == (-1 if expected == "x" else int(expected, 0)), f"{place}: the cell holds {found}, not {expected}"


def _time(case: Case, simulation: Simulation, place: str, time: str) -> None:
    assert simulation.time_ps == int(time), f"{place}: it is {simulation.time_ps}"


def _incident(case: Case, simulation: Simulation, place: str, kind: str, names: str = "") -> None:
    wanted = {net for name in names.split(",") if name for net in case.nets(name)}
    kind = kind.replace("_", " ")
    found = [each for each in simulation.incidents if each.kind == kind and wanted <= set(each.nets)]
    assert found, f"{place}: no {kind} of {names}, only {list(simulation.incidents)}"


def _quiet(case: Case, simulation: Simulation, place: str) -> None:
    assert not simulation.incidents, f"{place}: {list(simulation.incidents)}"


def _pairs(words: tuple[str, ...]) -> list[tuple[str, str]]:
    return [(name, value) for name, _, value in (word.partition("=") for word in words)]


_STATEMENTS: dict[str, Callable[..., None]] = {
    "set": _set,
    "force": _force,
    "release": _release,
    "close": _switch(True),
    "open": _switch(False),
    "put": _put,
    "write": _write,
    "tick": _tick,
    "run": _run,
    "expect": _expect,
    "cell": _cell,
    "time": _time,
    "incident": _incident,
    "quiet": _quiet,
}
