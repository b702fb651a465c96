"""``make bench``: how fast Latchwork is on this machine. Writes build/bench.json and the table in docs/performance.md.

Each figure is the median of several runs; whole commands are timed as a person meets them, in a fresh interpreter
with compiled files at hand. Nothing here is asserted: a figure that misses its mark is written down like the others.
"""

from __future__ import annotations

import json
import os
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from figures import Figure, compiler, figure, processor, table
from rows import lapwing_rows

ROOT = Path(__file__).resolve().parents[2]
DUNLIN = ROOT / "machines" / "dunlin"
LATCHWORK = Path(sys.executable).with_name("latchwork")


def seconds(work: Callable[[], object], runs: int) -> float:
    """The median time of ``runs`` runs, after one that does not count."""
    work()
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def command(*words: str) -> Callable[[], object]:
    """A command in a fresh interpreter; one that fails ends the bench."""
    environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": ""}
    return lambda: subprocess.run([LATCHWORK, *words], check=True, capture_output=True, env=environment)


def python(*words: str) -> Callable[[], object]:
    """A few lines of Python in a fresh interpreter."""
    environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": ""}
    return lambda: subprocess.run([sys.executable, "-c", *words], check=True, capture_output=True, env=environment)


def lines_of_program(count: int) -> str:
    """A program text of so many lines: labels, local labels, expressions, every kind of operand, data, comments."""
    chunk = [
        "; a stretch of code",
        "step{0}: load    acc, #low({0} * 3 + 1)",
        "        add     [cell + {1}]",
        "        store   acc, table[index]",
        "        branch  carry, .over & $fff",
        "        compare acc, #{1}       ; within a byte",
        "        branch  not zero, step{0} & $fff",
        ".over:  rotate  left",
        "        .byte   {1}, {1} ^ $55, (3 + 4) * 2",
        "        output  acc",
    ]
    text = ["cell = 16", "table = 32", "        .section rom"]
    for number in range((count - len(text)) // len(chunk)):
        text += [line.format(number, number % 100) for line in chunk]
    text += ["; the end"] * (count - len(text))
    return "\n".join(text) + "\n"


ASSEMBLE = """
import sys
from pathlib import Path
from latchwork.languages.assembly.assemble import assemble_file
from latchwork.languages.assembly.target import Place, Target
from latchwork.languages.microprogram.parse import parse_microprogram
instructions = parse_microprogram(Path(sys.argv[1])).instructions
assemble_file(Path(sys.argv[2]), Target(instructions, (Place("rom", "rom", 0, 1 << 20, 8, 20),)))
"""
"""Dunlin's instructions with a program space that is larger than Dunlin's: its ROM ends before 20,000 lines do."""


def measured() -> list[Figure]:
    """All figures, each with its mark."""
    import latchwork

    latchwork.load(DUNLIN).run("programs/primes.asm", clocks=1)

    def clocks_a_second() -> float:
        rates = []
        for _ in range(5):
            machine = latchwork.load(DUNLIN)
            start = time.perf_counter()
            report = machine.run("programs/primes.asm", clocks=6_000)
            rates.append(report.clocks / (time.perf_counter() - start))
        return statistics.median(rates)

    with tempfile.TemporaryDirectory() as folder:
        long = Path(folder) / "long.asm"
        long.write_text(lines_of_program(20_000), encoding="utf-8")
        assembling = seconds(python(ASSEMBLE, str(DUNLIN / "dunlin.micro"), str(long)), 5)
    return [
        figure("cli.help_s", seconds(command("--help"), 7), "s", "lower", 0.3),
        figure("check.dunlin_s", seconds(command("check", str(DUNLIN)), 5), "s", "lower", 3.0),
        figure("timing.lapwing_s", timing_seconds(), "s", "lower", 5.0),
        figure("assembly.lines_20000_s", assembling, "s", "lower", 2.0),
        figure("oracle.dunlin_clocks_s", clocks_a_second(), "clocks/s", "higher", 500),
        *engine_figures(),
        *lapwing_rows(),
    ]


def timing_seconds() -> float:
    """The whole analysis of Lapwing. That its oscillator is found too fast is an answer, not a failure."""
    folder = ROOT / "tests" / "machines" / "lapwing"
    return seconds(lambda: subprocess.run([LATCHWORK, "timing", str(folder)], capture_output=True, check=False), 5)


def engine_figures() -> list[Figure]:
    """Compiled code on Dunlin, general code for every control word alike. Runs of both engines take turns; where the
    end states differ there is no figure but an error."""
    from latchwork.analysis.rom_contents import rom_bytes, waking_bytes
    from latchwork.engines.compiled.engine import CompiledEngine
    from latchwork.engines.oracle import Oracle
    from latchwork.load.model import load_model
    from latchwork.load.program import assemble_program

    model = load_model(DUNLIN)
    model = model.with_contents(dict(assemble_program(model, DUNLIN / "programs" / "primes.asm").contents))
    contents, nets = waking_bytes(model, rom_bytes(model)), range(len(model.netlist.nets))
    rates: list[float] = []
    slow: list[float] = []
    first: list[float] = []
    for _ in range(5):
        start = time.perf_counter()
        engine = CompiledEngine(model.netlist, contents)
        engine.run(1)
        first.append(time.perf_counter() - start)
        oracle = Oracle(model.netlist, contents)
        start = time.perf_counter()
        oracle.run(3_000)
        slow.append(3_000 / (time.perf_counter() - start))
        engine.run(2_999)
        if [oracle.value(net) for net in nets] != [engine.value(net) for net in nets]:
            raise RuntimeError("the engines differ")
        start = time.perf_counter()
        engine.run(5_000_000)
        rates.append(5_000_000 / (time.perf_counter() - start))
    rate = statistics.median(rates)
    return [
        figure("engine.dunlin_general_clocks_s", rate, "clocks/s", "higher", 10_000_000),
        figure("engine.dunlin_general_vs_oracle", rate / statistics.median(slow), "times", "higher", 1000),
        figure("engine.dunlin_first_clock_s", statistics.median(first), "s", "lower", 0.5),
    ]


def main() -> None:
    figures = measured()
    build = ROOT / "build"
    build.mkdir(exist_ok=True)
    (build / "bench.json").write_text(json.dumps(figures, indent=2) + "\n", encoding="utf-8")
    page = f"""# Performance

Written by `make bench`; medians of several runs, whole commands in a fresh interpreter. Measured with Python
{platform.python_version()} on {processor()}; other machines differ, and so do other evenings on the same one.

The rows from `engine.general_clocks_s` on are measured on Lapwing, the machine of `tests/machines/lapwing`: runs of
engine and yardsticks take turns, their end states are equal or there is no figure, and the range is that of single
runs. The yardsticks are compiled by {compiler()} with `-O3 -march=native`. As `gcc_bit` is not simplified, its code
for a clock is long; it says less about how good the engine is than the interpreter of the instruction set, written by
hand, does. The yardstick `gcc_best` is not there yet.

{table(figures)}
"""
    (ROOT / "docs" / "performance.md").write_text(page, encoding="utf-8")
    print(page)


if __name__ == "__main__":
    main()
