"""An opcode is not defined.

What it finds
    Opcodes that no instruction of the microprogram has, where the microprogram does not say what all others do.

Why it matters
    A program that runs astray meets such an opcode, and the machine does what happens to stand in the control
    store.

Example
    An opcode register of eight bits, twenty instructions, and no block for the rest.

What to do
    Say what they do: a block `other opcodes` with steps of its own, such as halting or starting again at 0.

Sources
    Common practice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from latchwork.base.position import NOWHERE
from latchwork.model import Model
from latchwork.problems import Label, Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import listed

CODE = "W204"
SEVERITY = Severity.WARNING
MOST_BITS = 16
MOST_WORDS = 8


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    binding = model.statements.microprogram
    if model.control is None or binding is None or len(binding.opcode) > MOST_BITS:
        return
    found = undefined(model)
    if found:
        bits = len(binding.opcode)
        count = f"{len(found)} of {1 << bits} opcodes are" if len(found) > 1 else f"1 of {1 << bits} opcodes is"
        message = f"{count} not defined: {_in_words(found, bits)}"
        label = (Label(binding.position, f"the opcode has {bits} bits"),) if binding.position != NOWHERE else ()
        yield Problem(CODE, message, label, "say in a block `other opcodes` what they do", SEVERITY)


def undefined(model: Model) -> list[int]:
    """Opcodes that run no block."""
    binding = model.statements.microprogram
    assert model.control is not None
    assert binding is not None
    known = {opcode for opcode, _ in model.control.opcodes}
    return [opcode for opcode in range(1 << len(binding.opcode)) if opcode not in known]


def _in_words(opcodes: Iterable[int], bits: int) -> str:
    words = [word for first, last in runs(opcodes) for word in _run(first, last, bits)]
    more = len(words) - MOST_WORDS
    return listed(words if more <= 0 else [*words[:MOST_WORDS], f"{more} more"])


def runs(numbers: Iterable[int]) -> list[tuple[int, int]]:
    """Rising numbers as first and last of each unbroken run."""
    found: list[tuple[int, int]] = []
    for number in numbers:
        if found and number == found[-1][1] + 1:
            found[-1] = (found[-1][0], number)
        else:
            found.append((number, number))
    return found


def _run(first: int, last: int, bits: int) -> list[str]:
    low, high = (f"0x{number:0{(bits + 3) // 4}x}" for number in (first, last))
    return [f"{low} to {high}"] if last > first + 1 else [low, high][: 1 + last - first]
