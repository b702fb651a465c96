"""The .bench text form of the ISCAS circuits, made a netlist, and evaluated plainly beside it.

Form: D. Bryan, "The ISCAS 85 benchmark circuits and netlist format", MCNC 1988, as described in the SOURCE.md
beside the circuits.
"""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache, reduce
from operator import and_, or_, xor
from pathlib import Path

from building import Builder
from small_parts import part

from latchwork.logic import variable
from latchwork.logic.expression import Operation, make
from latchwork.netlist import Netlist
from latchwork.parts import Behaviour, Drive, Part, Register, Update

SHARED = Path(os.environ.get("LATCHWORK_SHARED", Path(__file__).parents[3] / "shared"))
ISCAS = SHARED / "data" / "iscas"
_GATE = re.compile(r"(\S+)\s*=\s*(\w+)\((.*)\)")
_PORT = re.compile(r"(INPUT|OUTPUT)\((.*)\)")
_OPERATIONS = {"AND": Operation.AND, "OR": Operation.OR, "XOR": Operation.XOR}
_REDUCE = {"AND": and_, "OR": or_, "XOR": xor}


@dataclass
class Circuit:
    inputs: list[str] = field(default_factory=list)
    outputs: list[str] = field(default_factory=list)
    gates: dict[str, tuple[str, tuple[str, ...]]] = field(default_factory=dict)

    def evaluated(self, levels: Mapping[str, int]) -> dict[str, int]:
        """The outputs for given inputs, by recursion over the gates: nothing of Latchwork in it."""
        return self._worked_out(levels, self.outputs)

    @property
    def flipflops(self) -> dict[str, str]:
        """The net that each takes at a clock, by the net that it drives."""
        return {name: nets[0] for name, (kind, nets) in self.gates.items() if kind == "DFF"}

    def after_clock(self, levels: Mapping[str, int]) -> dict[str, int]:
        """What flip-flops hold after a clock, for given inputs and what they held before."""
        taken = self.flipflops
        found = self._worked_out(levels, list(taken.values()))
        return {name: found[net] for name, net in taken.items()}

    def _worked_out(self, levels: Mapping[str, int], wanted: list[str]) -> dict[str, int]:
        known = dict(levels)
        waiting = list(wanted)
        while waiting:
            name = waiting[-1]
            missing = [] if name in known else [net for net in self.gates[name][1] if net not in known]
            if missing:
                waiting += missing
                continue
            waiting.pop()
            if name not in known:
                known[name] = _plain(self.gates[name][0], [known[net] for net in self.gates[name][1]])
        return {name: known[name] for name in wanted}

    def netlist(self) -> tuple[Netlist, Builder]:
        """One small part a gate; flip-flops take their data as the net "clock" rises."""
        builder = Builder()
        for name in self.inputs:
            builder.net(name)
        for name, (kind, nets) in self.gates.items():
            if kind == "DFF":
                builder.add(_flipflop(), Y=name, I=list(nets), CLK="clock")
            else:
                builder.add(_gate(kind, len(nets)), Y=name, I=list(nets))
        return builder.netlist(), builder


def _plain(kind: str, levels: list[int]) -> int:
    if kind in ("NOT", "BUFF"):
        return levels[0] ^ int(kind == "NOT")
    inverted = kind in ("NAND", "NOR")
    return reduce(_REDUCE[kind[1:] if inverted else kind], levels) ^ int(inverted)


@cache
def _gate(kind: str, width: int) -> Part:
    bits = [variable(f"I{i}") for i in range(width)]
    inverted = kind in ("NAND", "NOR", "NOT")
    bare = kind[1:] if kind in ("NAND", "NOR") else kind
    value = bits[0] if width == 1 else make(_OPERATIONS[bare], 1, *bits)
    pins = " ".join([*(f"I{i}:i" for i in range(width)), "Y:o"])
    return part(f"{kind} {width}", pins, Behaviour((Drive("Y", ~value if inverted else value),)), I=width)


@cache
def _flipflop() -> Part:
    held = Register("held", 1, (Update(variable("CLK"), variable("I0")),))
    return part("flip-flop", "I0:i CLK:i Y:o", Behaviour((Drive("Y", variable("held")),), (held,)), I=1)


def read_bench(path: Path) -> Circuit:
    circuit = Circuit()
    for line in path.read_text().splitlines():
        text = line.split("#")[0].strip()
        port, gate = _PORT.fullmatch(text), _GATE.fullmatch(text)
        if port:
            (circuit.inputs if port[1] == "INPUT" else circuit.outputs).append(port[2].strip())
        elif gate:
            circuit.gates[gate[1]] = gate[2], tuple(net.strip() for net in gate[3].split(","))
        elif text:
            raise ValueError(f"{path.name}: {text}")
    return circuit
