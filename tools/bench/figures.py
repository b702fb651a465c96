"""Figures with their marks, and the table of them."""

from __future__ import annotations

import platform
import statistics
import subprocess
from collections.abc import Sequence
from pathlib import Path

Figure = dict[str, object]


def figure(name: str, value: float, unit: str, better: str, against: float | None) -> Figure:
    return {"name": name, "value": round(value, 4), "unit": unit, "better": better, "against": against}


def spread(name: str, values: Sequence[float], unit: str, better: str, against: float | None = None) -> Figure:
    """The median of several runs, with the lowest and the highest."""
    found = figure(name, statistics.median(values), unit, better, against)
    return {**found, "lowest": round(min(values), 4), "highest": round(max(values), 4), "runs": len(values)}


def table(figures: list[Figure]) -> str:
    rows = [f"| `{row['name']}` | {_measured(row)} | {_mark(row)} | {_verdict(row)} |" for row in figures]
    return "\n".join(["| figure | measured | mark | |", "|---|---|---|---|", *rows])


def _measured(row: Figure) -> str:
    between = f" ({row['lowest']} to {row['highest']})" if "lowest" in row else ""
    return f"{row['value']} {row['unit']}{between}"


def _mark(row: Figure) -> str:
    if row["against"] is None:
        return "none"
    return f"{'at most' if row['better'] == 'lower' else 'at least'} {row['against']} {row['unit']}"


def _verdict(row: Figure) -> str:
    value, against, note = row["value"], row["against"], str(row.get("note", ""))
    if against is None:
        return note
    assert isinstance(value, float | int)
    assert isinstance(against, float | int)
    well = value <= against if row["better"] == "lower" else value >= against
    return f"{'met' if well else 'MISSED'}{note and '; ' + note}"


def processor() -> str:
    try:
        text = Path("/proc/cpuinfo").read_text(encoding="utf-8")
    except OSError:
        return platform.processor() or "unknown processor"
    names = [line.split(":", 1)[1].strip() for line in text.splitlines() if line.startswith("model name")]
    return f"{names[0]}, {len(names)} cores" if names else platform.machine()


def compiler() -> str:
    done = subprocess.run(["gcc", "--version"], check=True, capture_output=True, text=True)
    return done.stdout.splitlines()[0]
