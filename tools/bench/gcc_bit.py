"""The yardstick ``gcc_bit``: a netlist's bits as C, straight from the model, for ``gcc -O3 -march=native``.

A clock is two halves, each written out: settle every net in order, look for clock edges and level writes, take the
new states, count the nets on which drivers fight. As the level of the clock is a constant in each half, gcc works out
once what is the same in both. That is right for machines in which all states hang on the one clock, and it leaves out
what the engine watches for besides (rounds until nothing changes, races, short pulses, reads of cells never written,
floating inputs), so the yardstick has less to do; the bench throws away a run whose end state is another one. Loops
of two-way buffers are worked through ``PASSES`` times; where that did not settle them it is counted, and thrown away.
"""

from __future__ import annotations

import ctypes
import subprocess
from collections.abc import Callable
from pathlib import Path

from bits import Bit, Blaster, invert

from latchwork.engines.oracle.grouping import Grouping
from latchwork.engines.oracle.wiring import Wiring, drive_of
from latchwork.engines.ordering import ordered_components
from latchwork.logic import Expression
from latchwork.parts import Latch, Memory, OutputKind, Register
from latchwork.parts.behaviour import Write

PASSES = 2
FLAGS = ("-O3", "-march=native", "-shared", "-fPIC")


class Writer:
    """Writes the C text. ``choice``: what the seed gives a net that nothing drives."""

    def __init__(self, wiring: Wiring, grouping: Grouping, choice: list[int], clock_slot: int) -> None:
        self.wiring, self.grouping, self.choice, self.clock_slot = wiring, grouping, choice, clock_slot
        self.lines: list[str] = []
        self._memo: dict[Bit | int, str] = {}
        self._words: dict[tuple[str, ...], str] = {}
        self._count = 0
        self.before: list[str] = []  # what clocks were in the half before
        self._inside: set[int] = set()  # nets of the loop that is being written
        chips = range(len(wiring.netlist.chips))
        self._blasters = [Blaster(wiring, grouping.group, chip) for chip in chips]
        self._sides: dict[int, list[tuple[Bit, Bit]]] = {}  # by net: what each driver pulls low, and high
        self.rails = {wiring.netlist.high: "1", wiring.netlist.low: "0"}
        for number in range(len(wiring.drives)):
            self._drive(number)

    def _drive(self, number: int) -> None:
        chip, drive = drive_of(self.wiring, number)
        values = self._blasters[chip].bits(drive.value)
        enable = None if drive.enable is None else self._blasters[chip].bits(drive.enable)[0]
        for net, value in zip(self.wiring.drives[number].outputs, values, strict=True):
            low, high = invert(value), value
            if enable is not None:
                low, high = Bit("and", (enable, low)), Bit("and", (enable, high))
            if drive.kind is OutputKind.OPEN_COLLECTOR:
                high = Bit("0")
            self._sides.setdefault(self.grouping.group[net], []).append((low, high))

    # Statements

    def _new(self, text: str, kind: str = "B") -> str:
        self._count += 1
        self.lines.append(f"const {kind} v{self._count} = {text};")
        return f"v{self._count}"

    def value(self, bit: Bit) -> str:
        """The C name of a bit, written when it is first asked for."""
        if bit not in self._memo:
            self._memo[bit] = self._written(bit)
        return self._memo[bit]

    def _written(self, bit: Bit) -> str:
        if bit.operation in "01":
            return bit.operation
        if bit.operation == "slot":
            return f"s{bit.where[0]}_{bit.where[1]}"
        if bit.operation == "net":
            return self.net(bit.where[0])
        args = tuple(self.value(arg) for arg in bit.args)
        if bit.operation == "read":
            return self._new(f"({self._read(bit.where[0], args)} >> {bit.where[1]}) & 1")
        if bit.operation == "not":
            return self._new(f"{args[0]} ^ 1")
        return self._new({"and": " & ", "or": " | ", "xor": " ^ "}[bit.operation].join(args))

    def _read(self, store: int, address: tuple[str, ...]) -> str:
        key = (str(store), *address)
        if key not in self._words:
            self._words[key] = self._new(f"m{store}[{joined(address)}]", "unsigned")
        return self._words[key]

    # Nets

    def net(self, net: int) -> str:
        if net in self.rails:
            return self.rails[net]
        if net not in self._memo:
            raise KeyError(f"net {self.wiring.names[net]} is read before it is settled")
        return self._memo[net]

    def _reads(self, net: int) -> set[int]:
        """The nets that a net hangs on."""
        found, seen = set(self.grouping.links[net]), set[Bit]()
        waiting = [bit for pair in self._sides.get(net, []) for bit in pair]
        for other in self.grouping.links[net]:
            waiting += [bit for pair in self._sides.get(other, []) for bit in pair]
        while waiting:
            bit = waiting.pop()
            if bit.operation == "net":
                found.add(bit.where[0])
            waiting += [arg for arg in bit.args if arg not in seen]
            seen.update(bit.args)
        return found - set(self.rails)

    def settle(self) -> None:
        """Every net, in order; then which fight."""
        nets = sorted(set(self.grouping.group))
        reads = {net: self._reads(net) for net in nets}
        readers: dict[int, list[int]] = {net: [] for net in nets}
        for net, others in reads.items():
            for other in others:
                if net not in self.grouping.links[other] or net not in reads[other] or self._sides.get(other):
                    readers[other].append(net)
        place = {net: index for index, net in enumerate(nets)}
        for component in ordered_components([[place[net] for net in readers[each]] for each in nets]):
            members = [nets[index] for index in component]
            if len(members) > 1 or members[0] in readers[members[0]]:
                self._loop(members)
            else:
                self._resolve(members[0])

    def _loop(self, members: list[int]) -> None:
        """Several nets that hang on each other: passes, the net with most drivers first."""
        members.sort(key=lambda net: len(self._sides.get(net, [])))
        self._write_before(members)
        outer, words = dict(self._memo), dict(self._words)
        for net in members:
            self._memo[net] = "0"
        self._inside = set(members)
        results: list[list[str]] = []
        for _ in range(PASSES):
            found = []
            for net in members:
                self._memo = {**outer, **{each: self._memo[each] for each in members}}
                self._words = dict(words)
                self._resolve(net)
                found.append(self._memo[net])
            results.append(found)
        settled = {net: self._memo[net] for net in members}
        self._memo, self._words, self._inside = {**outer, **settled}, words, set()
        for number, (before, after) in enumerate(zip(*results[-2:], strict=True)):
            if any(members[number] in self._reads(net) for net in members[: number + 1]):
                self.lines.append(f"unsettled |= {before} ^ {after};")

    def _write_before(self, members: list[int]) -> None:
        """Write what the nets of a loop ask for and does not hang on them."""
        known: dict[Bit, bool] = {}

        def hangs(bit: Bit) -> bool:
            if bit not in known:
                below = [hangs(arg) for arg in bit.args]
                known[bit] = any(below) or (bit.operation == "net" and bit.where[0] in members)
            return known[bit]

        for net in members:
            for pair in self._sides.get(net, []):
                for bit in pair:
                    hangs(bit)
        for bit, hanging in list(known.items()):
            if not hanging:
                self.value(bit)

    def _strong(self, net: int) -> tuple[str, str]:
        lows = [self.value(low) for low, _ in self._sides.get(net, [])]
        highs = [self.value(high) for _, high in self._sides.get(net, [])]
        for tie, mask in self.grouping.rails[net]:
            (highs if mask == 2 else lows).append(f"t{tie}")
        both = [" | ".join(side) if side else "0" for side in (lows, highs)]
        return self._new(both[0]), self._new(both[1])

    def _resolve(self, net: int) -> None:
        if net in self.rails:
            return
        low, high = self._strong(net)
        drivers = len(self._sides.get(net, [])) + len(self.grouping.rails[net])
        if drivers > 1:
            # Within a loop only the last pass counts.
            self.lines.append(f"fight_{net} = {low} & {high};" if self._inside else f"fight |= {low} & {high};")
        weak_low, weak_high = ["0"], ["0"]
        for other in self.grouping.links[net]:
            if other in self.rails:
                (weak_high if self.rails[other] == "1" else weak_low).append("1")
            elif self._sides.get(other):
                sides = self._strong(other)
                weak_low.append(sides[0])
                weak_high.append(sides[1])
        idle = self.choice[net] >> 1
        weak = f"(({' | '.join(weak_high)}) | ((({' | '.join(weak_low)}) ^ 1) & {idle}))"
        self._memo[net] = self._new(f"{high} | ((({low} | {high}) ^ 1) & {weak})")

    # States

    def states(self) -> None:
        """Edges and level writes; what is stored comes after all that is read."""
        later: list[str] = []
        for chip in range(len(self.wiring.netlist.chips)):
            behaviour = self.wiring.netlist.part_of(chip).behaviour
            for register in behaviour.registers:
                self._register(chip, register, later)
            for latch in behaviour.latches:
                self._latch(chip, latch, later)
            for memory in behaviour.memories:
                for write in memory.writes:
                    self._write(chip, memory, write, later)
        self.lines += later

    def _values(self, chip: int, expression: Expression) -> list[str]:
        return [self.value(bit) for bit in self._blasters[chip].bits(expression)]

    def _register(self, chip: int, register: Register, later: list[str]) -> None:
        conditions = [self._values(chip, level.active)[0] for level in register.levels]
        conditions += [self._edge(self._values(chip, update.clock)[0], later) for update in register.updates]
        choices = [self._values(chip, level.value) for level in register.levels]
        choices += [self._values(chip, update.data) for update in register.updates]
        self._next(self.wiring.slot_named[chip, register.name], register.width, conditions, choices, later)

    def _latch(self, chip: int, latch: Latch, later: list[str]) -> None:
        conditions = [self._values(chip, each)[0] for each in (*(v.active for v in latch.levels), latch.enable)]
        choices = [self._values(chip, each) for each in (*(v.value for v in latch.levels), latch.data)]
        self._next(self.wiring.slot_named[chip, latch.name], latch.width, conditions, choices, later)

    def _write(self, chip: int, memory: Memory, write: Write, later: list[str]) -> None:
        when = self._values(chip, write.strobe)[0]
        when = self._edge(when, later) if write.clocked else when
        at = joined(tuple(self._values(chip, write.address)))
        data = joined(tuple(self._values(chip, write.data)))
        later.append(f"if ({when}) m{self.wiring.store_named[chip, memory.name]}[{at}] = {data};")

    def _edge(self, now: str, later: list[str]) -> str:
        self._count += 1
        was = f"was{self._count}"
        self.before.append(was)
        later.append(f"{was} = {now};")
        return self._new(f"{now} & ({was} ^ 1)")

    def _next(self, slot: int, width: int, conditions: list[str], choices: list[list[str]], later: list[str]) -> None:
        for bit in range(width):
            held = f"s{slot}_{bit}"
            result = held
            for condition, values in zip(reversed(conditions), reversed(choices), strict=True):
                result = self._new(f"({condition} & {values[bit]}) | (({condition} ^ 1) & {result})")
            later.append(f"{held} = {result};")

    def text(self) -> str:
        self.settle()
        self.states()
        slots = [(number, bit) for number, slot in enumerate(self.wiring.slots) for bit in range(slot.width)]
        loads = [f"B s{n}_{b} = (slots[{n}] >> {b}) & 1;" for n, b in slots]
        loads += [f"unsigned char *restrict m{n} = memories[{n}];" for n in range(len(self.wiring.stores))]
        loads += [f"const B t{n} = ties[{n}];" for n in range(len(self.wiring.ties))]
        loads += [f"B {was} = 1;" for was in self.before]
        fights = sorted({word for line in self.lines if line.startswith("fight_") for word in line.split()[:1]})
        loads += [f"B {name} = 0;" for name in fights]
        body = "\n            ".join([*self.lines, *(f"fight |= {name};" for name in fights)])
        saves = [f"slots[{n}] = 0;" for n in range(len(self.wiring.slots))]
        saves += [f"slots[{n}] |= (uint64_t)s{n}_{b} << {b};" for n, b in slots]
        join = "\n    "
        return f"""#include <stdint.h>
typedef unsigned B;
void run(uint64_t *restrict slots, unsigned char **memories, const unsigned char *ties, uint64_t clocks,
         uint64_t *trouble) {{
    {join.join(loads)}
    uint64_t fought = 0, loose = 0;
    for (uint64_t clock = 0; clock < clocks; clock++) {{
        B fight = 0, unsettled = 0;
        {{ s{self.clock_slot}_0 = 0;
            {body} }}
        {{ s{self.clock_slot}_0 = 1;
            {body} }}
        fought += fight;
        loose += unsettled;
    }}
    trouble[0] = fought; trouble[1] = loose;
    {join.join(saves)}
}}
"""


def joined(bits: tuple[str, ...]) -> str:
    return " | ".join(f"({bit} << {place})" for place, bit in enumerate(bits)) or "0"


def compiled(text: str, folder: Path, name: str, function: str = "run") -> Callable[..., None]:
    """A function of a C text, by gcc."""
    source, library = folder / f"{name}.c", folder / f"{name}.so"
    source.write_text(text, encoding="utf-8")
    subprocess.run(["gcc", *FLAGS, "-o", str(library), str(source)], check=True)
    found: Callable[..., None] = ctypes.CDLL(str(library))[function]
    return found
