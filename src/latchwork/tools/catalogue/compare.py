"""Whether two parts do the same at pins that stand for each other: both are given the same random levels."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from latchwork.analysis.one_part.lanes_bench import LanesBench
from latchwork.analysis.one_part.program import Program
from latchwork.parts import Direction, Part

LANES = 64
STEPS = 220
QUIET = 60  # steps before the first look: by then what was kept from power-up is gone
DRIVEN = {Direction.OUTPUT, Direction.BOTH}


@dataclass(frozen=True)
class Comparison:
    """``differing``: pins of the first part at which the two were ever unlike; ``opposite``: those of them that always
    had the other level; ``letting_go``: those where one drove and the other let go, and never else."""

    steps: int
    differing: tuple[int, ...]
    opposite: tuple[int, ...]
    letting_go: tuple[int, ...]

    @property
    def same(self) -> bool:
        return not self.differing


def comparable(part: Part) -> bool:
    """Whether levels alone decide what the part does."""
    return bool(part.behaviour.drives) and not part.behaviour.timers and not part.behaviour.keepers


def compared(first: Part, second: Part, pins: dict[int, int]) -> Comparison:
    """``pins``: pin of the first part -> pin of the second that stands in its place."""
    random = Random(f"{first.number} {second.number}")
    full = (1 << LANES) - 1
    benches = [LanesBench(Program(part), full) for part in (first, second)]
    set_pins = [pin for pin in pins if first.pins[pin].direction in {Direction.INPUT, Direction.BOTH}]
    watched = [pin for pin in pins if first.pins[pin].direction in DRIVEN]
    levels, driven = dict.fromkeys(set_pins, 0), dict.fromkeys(set_pins, full)
    tallies = {pin: [0, 0, 0] for pin in watched}  # unlike, opposite, one of them let go
    for step in range(STEPS):
        for pin in random.sample(set_pins, min(len(set_pins), random.choice((1, 1, 2)))):
            levels[pin] = random.getrandbits(LANES)
            if first.pins[pin].direction is Direction.BOTH:
                driven[pin] = random.getrandbits(LANES)
        _put(benches, levels, driven, pins)
        if step >= QUIET:
            for pin, tally in tallies.items():
                _count(tally, benches, pin, pins[pin])
    return _judged(tallies)


def _put(benches: list[LanesBench], levels: dict[int, int], driven: dict[int, int], pins: dict[int, int]) -> None:
    benches[0].put(levels, driven)
    benches[1].put({pins[pin]: level for pin, level in levels.items()}, {pins[pin]: on for pin, on in driven.items()})


def _count(tally: list[int], benches: list[LanesBench], pin: int, other: int) -> None:
    (on_a, high_a), (on_b, high_b) = benches[0].pin(pin), benches[1].pin(other)
    both = on_a & on_b
    tally[0] += ((on_a ^ on_b) | both & (high_a ^ high_b)).bit_count()
    tally[1] += (both & (high_a ^ high_b)).bit_count()
    tally[2] += (on_a ^ on_b).bit_count()


def _judged(tallies: dict[int, list[int]]) -> Comparison:
    looks = (STEPS - QUIET) * LANES
    differing = tuple(pin for pin, tally in tallies.items() if tally[0])
    opposite = tuple(pin for pin in differing if tallies[pin][1] == looks)
    letting_go = tuple(pin for pin in differing if not tallies[pin][1] and tallies[pin][2])
    return Comparison(looks, differing, opposite, letting_go)
