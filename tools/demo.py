"""``make demo``: the main job on Dunlin, the example machine, as a person would do it at the prompt."""

from __future__ import annotations

import os
import shlex
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
DEMO = Path("build") / "demo"
DUNLIN = Path("machines") / "dunlin"

WALK = ("go 5000000 clocks", "back 1000000 clocks", "back until changed ram[steps_high]", "show ram[steps_high]")
ORDERS = [word for order in (*WALK, "leave") for word in ("--do", order)]

STEPS = (
    ("Is it wired right? Every rule, on 44 chips and each step of 58 instructions.", ["check", DUNLIN]),
    (
        "What goes into each ROM? One file a chip, named by its place on the boards.",
        ["images", DUNLIN, "--program", DUNLIN / "programs" / "primes.asm", "--out", DEMO / "images", "--force"],
    ),
    ("Does the program run? The primes below 100, on the chips themselves.", ["run", DUNLIN, "programs/primes.asm"]),
    (
        "Another one: 200 times 123 is 96 times 256 and 24. Every change goes into a trace file.",
        ["run", DUNLIN, "programs/multiply.asm", "--trace", DEMO / "multiply.vcd", "--force"],
    ),
    (
        "A long program: a register of sixteen bits goes through all its 65,535 states, at the speed of compiled code.",
        ["run", DUNLIN, "programs/period.asm", "--clocks", "5000000"],
    ),
    (
        "Where did it come from? A million clocks back from the halt, and to where the count was last carried.",
        ["debug", DUNLIN, "programs/period.asm", *ORDERS],
    ),
)

NEXT = """
What to try next, with the environment's programs on the path (export PATH="$PWD/.venv/bin:$PATH"):

  latchwork run machines/dunlin programs/selftest.asm    every instruction and the RAM
  latchwork assemble machines/dunlin machines/dunlin/programs/sort.asm    a listing
  latchwork spare machines/dunlin                        what is still free on the boards
  latchwork explain W201                                 what a rule is about
  latchwork new wader                                    begin a machine of your own

docs/first-machine.md takes you from nothing to a running machine; the trace opens in any viewer of VCD files.
"""


def main() -> None:
    os.chdir(ROOT)
    DEMO.mkdir(parents=True, exist_ok=True)
    for title, words in STEPS:
        arguments = [str(word) for word in words]
        print(f"\n== {title}\n$ latchwork {shlex.join(arguments)}\n", flush=True)
        done = subprocess.run([Path(sys.executable).with_name("latchwork"), *arguments], check=False)
        if done.returncode:
            sys.exit(f"the demo ends here: latchwork {arguments[0]} said {done.returncode}")
    print(NEXT, end="")


if __name__ == "__main__":
    main()
