"""What the assembler complains about: the codes, the exception inside it, and the list into which problems go."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from latchwork.problems import Label, LatchworkError, Problem, Severity

TITLES = {
    "A101": "a line that can't be read",
    "A102": "neither an instruction, nor a directive, nor a macro",
    "A103": "a file that can't be read",
    "A104": "a text that is too long or too deeply nested",
    "A105": "a text or character in quotes that can't be read",
    "A110": "an expression that can't be read",
    "A111": "a name that nothing defines",
    "A112": "a value that is needed before it is known",
    "A113": "a constant that depends on itself",
    "A114": "an expression without a value",
    "A120": "a name defined twice",
    "A121": "a name that belongs to the machine or the language",
    "A122": "a local label without a label before it",
    "A130": "operands that fit no form of the instruction",
    "A131": "an operand out of its range",
    "A132": "a jump that does not reach its target",
    "A140": "a block that does not begin or end",
    "A141": "a macro that is declared wrongly",
    "A142": "a macro with the wrong arguments",
    "A143": "a program that grows without end",
    "A150": "a section that the machine does not have",
    "A151": "a section that overflows",
    "A152": "an address used twice",
    "A153": "an address outside of the section",
    "A154": "a directive with the wrong arguments",
    "A155": "a value that does not fit its place",
    "A160": "an assertion that does not hold",
    "A161": "an error that the program asks for",
    "A162": "a warning that the program asks for",
    "A170": "a machine that has no place for programs",
    "A171": "a program for memory that nothing loads",
    "A172": "a program for addresses where no memory answers",
}

MOST_PROBLEMS = 50


class Refusal(Exception):  # noqa: N818 - not an error of ours, and never seen outside of this package
    """A statement can't be used. ``column`` counts from 1 in the line at hand; 0: the whole line."""

    def __init__(self, code: str, message: str, column: int = 0, help: str = "", labels: Iterable[Label] = ()) -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.column = column
        self.help = help
        self.labels = tuple(labels)


def too_deep(column: int) -> Refusal:
    """A value of more parts than can be followed."""
    help = "give parts of it names of their own: `part = ...`"
    return Refusal("A104", "the expression has too many parts within one another", column, help)


class Unknown(Refusal):
    """A name that is not defined, or not yet."""

    def __init__(self, name: str, column: int) -> None:
        super().__init__("A111", f"nothing defines `{name}`", column)
        self.name = name


class Told(Refusal):
    """The reason was given before, at another place; to say it again would tell nothing."""

    def __init__(self) -> None:
        super().__init__("", "")


class TooManyProblems(Exception):  # noqa: N818 - ends the assembly early
    """The bound of problems is reached."""


class Findings:
    """Gathers problems, in the order in which they are found; the same one twice counts once."""

    def __init__(self) -> None:
        self._found: dict[Problem, None] = {}

    def add(self, problem: Problem) -> None:
        """Notes a problem; raises TooManyProblems when so many were found that the rest would tell nothing."""
        self._found[problem] = None
        if len(self._found) >= MOST_PROBLEMS:
            raise TooManyProblems

    def problems(self) -> tuple[Problem, ...]:
        return tuple(self._found)

    def warnings(self) -> tuple[Problem, ...]:
        return tuple(problem for problem in self._found if problem.severity is not Severity.ERROR)

    def stop_if_any(self) -> None:
        """Raises LatchworkError with everything found, in order of file and line, if there is an error among it."""
        if len(self.warnings()) < len(self._found):
            raise LatchworkError(sorted(self._found, key=lambda problem: problem.position))


def near(word: str, names: Iterable[str]) -> str:
    """ "did you mean `start`?", or nothing."""
    close = get_close_matches(word, sorted(set(names)), n=1, cutoff=0.7)
    return f"did you mean `{close[0]}`?" if close else ""


def listed(words: Iterable[str], last: str = "or") -> str:
    """`a`, `b` or `c`."""
    quoted = [f"`{word}`" for word in words]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} {last} {quoted[-1]}" if quoted else "nothing"


def counted(number: int, thing: str) -> str:
    """1 byte, 2 bytes."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"
