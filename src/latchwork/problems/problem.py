"""A finding: code, severity, one sentence, labelled places, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from latchwork.base.position import NOWHERE, Position


class Severity(Enum):
    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True)
class Label:
    """A place that has to do with a problem, and what stands there."""

    position: Position
    text: str = ""


@dataclass(frozen=True)
class Problem:
    """``code`` is a letter and three digits, unique in Latchwork; ``message`` one sentence without full stop."""

    code: str
    message: str
    labels: tuple[Label, ...] = ()
    help: str = ""
    severity: Severity = Severity.ERROR

    @property
    def position(self) -> Position:
        """The first labelled place, the one to jump to."""
        return self.labels[0].position if self.labels else NOWHERE


class LatchworkError(Exception):
    """The input or the call is unusable. Carries the problems found; a command that meets it exits with 2."""

    def __init__(self, problems: Problem | Iterable[Problem]) -> None:
        self.problems = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(_line(problem) for problem in self.problems))


def _line(problem: Problem) -> str:
    place = f"{problem.position}: " if problem.labels else ""
    hint = f" ({problem.help})" if problem.help else ""
    return f"{place}{problem.code} {problem.message}{hint}"
