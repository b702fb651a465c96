"""Running a program on the chip-level machine."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from latchwork.tools.run.running import Running

__all__ = ["load"]


def load(folder: str | Path, seed: int = 0, unknown: bool = False, *, engine: str | None = None) -> Running:
    """The machine in a folder, under power, for your own tests::

        machine = latchwork.load("machines/dunlin")
        machine["keys"] = 5
        machine.run("multiply.asm")
        assert machine["acc"] == 15

    ``engine``: "compiled" or "oracle"; what suits if left out. Raises LatchworkError with every problem found.
    """
    from latchwork.load.model import load_model
    from latchwork.tools.run.running import Running

    return Running(load_model(Path(folder)), seed, unknown, engine=engine)
