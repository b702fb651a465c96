"""Times as people read them."""

from __future__ import annotations

_UNITS = ((10**12, "s"), (10**9, "ms"), (10**6, "µs"), (10**3, "ns"))


def time_text(picoseconds: int) -> str:
    """In the largest unit of which there is one at least, to six digits: "2.8554 s", "33 µs"."""
    for size, unit in _UNITS:
        if picoseconds >= size:
            return f"{picoseconds / size:.6g} {unit}"
    return f"{picoseconds} ps" if picoseconds else "0 s"
