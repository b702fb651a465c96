"""What is told about a code."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Explanation:
    """``text`` is the page of a code, "" where its title says all."""

    code: str
    title: str
    text: str = ""
