"""One type for everything Latchwork has to complain about, and the ways it is shown."""

from latchwork.problems.problem import Label, LatchworkError, Problem, Severity

__all__ = ["Label", "LatchworkError", "Problem", "Severity"]
