"""What the rules found."""

from __future__ import annotations

from dataclasses import dataclass

from latchwork.problems import Problem


@dataclass(frozen=True)
class CheckReport:
    """``counts``: how many problems of each severity, "error", "warning" and "note". ``rules``: codes of those run."""

    machine: str
    problems: tuple[Problem, ...]
    counts: dict[str, int]
    rules: tuple[str, ...]

    @property
    def good(self) -> bool:
        """Whether nothing but notes was found."""
        return not (self.counts["error"] or self.counts["warning"])
