"""Vectors for a part that keeps something: a sequence, found step by step.

From where the part stands several acts are tried; the one that shows most new faults is taken, or else the one that
makes most faulty specimens keep something else than the sound one. A walk that shows nothing new is taken back. At the
end acts without which nothing is lost are left out. Pins that clock, clear, open or write are moved one at a time.
"""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from latchwork.analysis.one_part.faults import Fault, faults_of
from latchwork.reports.vectors import Vector
from latchwork.tools.vectors.bench import STARTS, Act, Specimens
from latchwork.tools.vectors.counting import counted
from latchwork.tools.vectors.found import Found
from latchwork.tools.vectors.hidden import hidden_faults
from latchwork.tools.vectors.protocol import march
from latchwork.tools.vectors.tester import Socket

TRIED = 16  # bundles of acts tried from one place
WALK = 6  # bundles without something new before a walk is taken back
WALKS = 40  # walks taken back one after the other before the search ends
BUDGET = 16_000  # acts and pulses for the search, and as many to shorten what it found
LONG = 12  # bits of a state that pulses count through

Bundle = list[Act]


def step_vectors(tester: Socket, seed: int) -> Found:
    every = faults_of(tester.part)
    hidden = hidden_faults(tester.part, every)
    faults = [fault for fault in every if fault not in set(hidden)]
    acts = _searched(tester, faults, seed)
    acts = _shortened(tester, faults, acts, seed)
    shown = set(_played(tester, faults, acts, seed)[0].found())
    acts += counted(_played(tester, [fault for fault in faults if fault not in shown], acts, seed)[0])
    specimens, vectors = _played(tester, faults, acts, seed)
    return Found(vectors, specimens.found(), hidden)


def _searched(tester: Socket, faults: list[Fault], seed: int) -> list[Act]:
    specimens, random = Specimens(tester, faults, seed), Random(seed)
    acts = [act for act in march(tester) if specimens.do(act) is not None]
    mark, saved, failed, walked = len(acts), specimens.save(), 0, 0
    while failed < WALKS and specimens.open_lanes() and specimens.work < BUDGET:
        shown = specimens.shown
        bundle = _best(specimens, list(_bundles(specimens, random, failed)), random)
        acts += [act for act in bundle if specimens.do(act) is not None]
        walked += 1
        if specimens.shown != shown:
            specimens = _fewer(specimens, acts, seed)
            mark, saved, failed, walked = len(acts), specimens.save(), 0, 0
        elif walked >= WALK:
            del acts[mark:]
            specimens.restore(saved)
            failed, walked = failed + 1, 0
    return acts[:mark]


def _fewer(specimens: Specimens, acts: list[Act], seed: int) -> Specimens:
    """Without the faults that are found, once they are the greater part."""
    found = set(specimens.found())
    if len(found) <= len(specimens.faults) // 2:
        return specimens
    fewer = _played(specimens.tester, [fault for fault in specimens.faults if fault not in found], acts, seed)[0]
    fewer.work += specimens.work
    return fewer


def _best(specimens: Specimens, bundles: list[Bundle], random: Random) -> Bundle:
    """The one that shows most; where none shows anything new, now and then one that disturbs many specimens."""
    saved, open_lanes = specimens.save(), specimens.open_lanes()
    shows: list[tuple[int, int, int]] = []  # newly shown, fewest acts, number of the bundle
    disturbs: list[tuple[int, int]] = []
    for number, bundle in enumerate(bundles):
        done = sum(specimens.do(act) is not None for act in bundle)
        shows.append(((specimens.shown & open_lanes).bit_count(), -done, -number))
        disturbs.append(((specimens.bench.changed(STARTS) & open_lanes).bit_count(), -number))
        specimens.restore(saved)
    if max(shows)[0]:
        return bundles[-max(shows)[2]]
    return bundles[-max(disturbs)[1]] if random.random() < 0.4 else random.choice(bundles)


def _bundles(specimens: Specimens, random: Random, failed: int) -> Iterator[Bundle]:
    """What might be done next. The more walks failed, the more pulses at once."""
    tester = specimens.tester
    now = specimens.levels
    for pin in tester.careful:
        yield [Act({pin: 1 - now[pin]})]
        yield [Act({}, pulsed=pin)]
    for number in range(TRIED):
        times = random.choice(_lengths(tester, failed)) if failed and number % 6 == 0 else 1
        yield _bundle(tester, now, random, times)


def _bundle(tester: Socket, now: dict[int, int], random: Random, times: int) -> Bundle:
    """Some careful pins moved, one after the other; then the others, and perhaps pulses."""
    chosen = [pin for pin in random.sample(tester.careful, len(tester.careful)) if random.random() < 0.35]
    acts = [Act({pin: 1 - now[pin]}) for pin in chosen]
    levels = _other_levels([pin for pin in now if pin not in tester.careful], now, random)
    pulsed = random.choice(tester.careful) if tester.careful and random.random() < 0.8 else -1
    acts.append(Act(levels, pulsed, times if pulsed >= 0 else 1, release=random.random() < 0.3))
    return acts


def _other_levels(pins: list[int], now: dict[int, int], random: Random) -> dict[int, int]:
    way = random.random()
    if way < 0.25 or not pins:
        return {}
    if way < 0.5:
        return {pin: 1 - now[pin] for pin in random.sample(pins, 1)}
    if way < 0.65:
        level = random.getrandbits(1)
        return dict.fromkeys(pins, level)
    return {pin: random.getrandbits(1) for pin in pins}


def _lengths(tester: Socket, failed: int) -> list[int]:
    """Numbers of pulses by which a counter comes to where its higher bits move."""
    widest = max((register.width for register in tester.part.behaviour.registers), default=1)
    total = sum(register.width for register in tester.part.behaviour.registers)
    top = min(LONG, max(widest, min(total, 8)), 2 + failed)
    return [each for bits in range(1, top + 1) for each in ((1 << bits) - 1, 1 << bits)]


def _played(tester: Socket, faults: list[Fault], acts: list[Act], seed: int) -> tuple[Specimens, list[Vector]]:
    specimens = Specimens(tester, faults, seed)
    vectors = [specimens.do(act) for act in acts]
    return specimens, [vector for vector in vectors if vector is not None]


def _shortened(tester: Socket, faults: list[Fault], acts: list[Act], seed: int) -> list[Act]:
    """Without acts that are not needed, longer runs of them first, the last tried first."""
    wanted, work = len(_played(tester, faults, acts, seed)[0].found()), 0
    for length in (8, 4, 2, 1):
        for place in reversed(range(len(acts) - length + 1)):
            shorter = acts[:place] + acts[place + length :]
            work += sum(act.times for act in shorter)
            if work > BUDGET:
                return acts
            if len(_played(tester, faults, shorter, seed)[0].found()) >= wanted:
                acts = shorter
    return acts
