"""The text form of netlists: written, and read back unchanged, byte for byte.

The first line names the form and its version; the others are records (see text_records.py). A netlist that has
been read is verified: every tool may rely on it as on one just elaborated.
"""

from __future__ import annotations

from latchwork.base.position import Position
from latchwork.netlist.netlist import Netlist
from latchwork.netlist.text_records import lines_from, record_from
from latchwork.netlist.text_words import lines_of, refused
from latchwork.netlist.verify import verify
from latchwork.problems import LatchworkError

HEADER = "latchwork netlist, form 1"


def written(netlist: Netlist) -> str:
    """The text form; the same netlist gives the same text everywhere."""
    return "\n".join([HEADER, *lines_from(netlist)]) + "\n"


def parsed(text: str, file: str = "netlist") -> Netlist:
    """The netlist that ``text`` describes. ``file`` is named in problems. Raises LatchworkError."""
    header, _, rest = text.partition("\n")
    if header != HEADER:
        message = f'the first line is "{header[:40]}", not "{HEADER}"'
        raise refused("M210", message, Position(file, 1, 1), "save the netlist anew with this version")
    lines = lines_of(rest, file, first=2)
    if len(lines) != 1 or lines[0].keyword != "netlist":
        raise refused("M210", "one netlist is expected below the first line", Position(file, 2, 1))
    netlist: Netlist = record_from(Netlist, lines[0])
    problems = verify(netlist)
    if problems:
        raise LatchworkError(problems)
    return netlist
