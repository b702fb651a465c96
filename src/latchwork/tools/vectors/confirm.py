"""Vectors held against the oracle: the sound part answers as expected, each faulty one does not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from latchwork.analysis.one_part.faults import Fault, faulty
from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Value
from latchwork.netlist import Board, Chip, Net, Netlist
from latchwork.parts import Direction, Part
from latchwork.reports.vectors import Vector
from latchwork.tools.vectors.tester import Tester

SEEDS = (1, 2, 3)  # power-up states
LETTERS = {Value.LOW: "L", Value.HIGH: "H", Value.NOTHING: "Z", Value.UNKNOWN: "?"}
HIGH, LOW = 0, 1  # the rails


def confirmed(tester: Tester, vectors: list[Vector], faults: Iterable[Fault]) -> list[Fault]:
    """The faults that the vectors show, from every power-up state that is tried."""
    seeds = SEEDS if tester.keeps_state or tester.shared else SEEDS[:1]
    return [fault for fault in faults if all(_differs(tester, fault, vectors, seed) for seed in seeds)]


def certain(tester: Tester, vectors: list[Vector]) -> list[Vector]:
    """The vectors with X wherever the sound part's answer hangs on its power-up state or on what floats."""
    netlist = in_socket(tester.part)
    nets = netlist.chips[0].pins
    oracle = Oracle(netlist, unknown=True)
    result = []
    for vector in vectors:
        _set(oracle, nets, vector)
        letters = [
            letter if letter not in "LHZ" or _seen(tester, oracle, nets, pin) == letter else "X"
            for pin, letter in enumerate(vector.levels)
        ]
        result.append(replace(vector, levels="".join(letters)))
    return result


def _seen(tester: Tester, oracle: Oracle, nets: tuple[int, ...], pin: int) -> str:
    seen = LETTERS[oracle.value(nets[pin])]
    return "H" if seen == "Z" and pin in tester.pulled_up else seen


def surprises(tester: Tester, part: Part, vectors: list[Vector], seed: int) -> Iterator[tuple[int, str, str]]:
    """(vector, pin, what was there) wherever a part does not answer as expected."""
    netlist = in_socket(part)
    nets = netlist.chips[0].pins
    oracle = Oracle(netlist, seed=seed)
    for number, vector in enumerate(vectors):
        _set(oracle, nets, vector)
        for pin, letter in enumerate(vector.levels):
            if letter in "LHZ":
                seen = _seen(tester, oracle, nets, pin)
                if seen != letter:
                    yield number, part.pins[pin].sheet, seen


def _differs(tester: Tester, fault: Fault, vectors: list[Vector], seed: int) -> bool:
    return next(surprises(tester, faulty(tester.part, fault), vectors, seed), None) is not None


def _set(oracle: Oracle, nets: tuple[int, ...], vector: Vector) -> None:
    levels: dict[int, int | None] = {}
    for pin, letter in enumerate(vector.levels):
        if letter != "N":
            levels[nets[pin]] = {"0": 0, "1": 1, "C": 0, "K": 1}.get(letter)
    oracle.force_all(levels)
    for pin, letter in enumerate(vector.levels):
        if letter in "CK":
            for _ in range(vector.times):
                oracle.force(nets[pin], int(letter == "C"))
                oracle.force(nets[pin], int(letter == "K"))


def in_socket(part: Part) -> Netlist:
    """The part alone, a net at every pin that carries a signal."""
    nets, pins = [Net("high"), Net("low")], []
    for pin in part.pins:
        if pin.direction in (Direction.SUPPLY, Direction.GROUND):
            pins.append(HIGH if pin.direction is Direction.SUPPLY else LOW)
        else:
            pins.append(len(nets))
            nets.append(Net(pin.name))
    chip = Chip("U1", 0, tuple(pins), 0)
    return Netlist("socket", part.family, 5000, (part,), tuple(nets), (chip,), (Board("main"),), (), HIGH, LOW)
