"""What the microprogram language complains about: the codes, and the list into which problems are gathered.

U1xx belong to the language itself, U2xx to laying it out on the wiring.
"""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from latchwork.base.position import Position
from latchwork.problems import Label, LatchworkError, Problem

TITLES = {
    "U101": "a line that can't be read",
    "U102": "no block begins with this word",
    "U103": "a file that can't be included",
    "U104": "a line that is too long",
    "U105": "a number out of its range",
    "U106": "a name declared twice",
    "U107": "a line of a block in the wrong place",
    "U110": "an operand of an unknown kind",
    "U111": "an operand that the assembly form does not hold",
    "U112": "an operand for which the code has no room",
    "U113": "a bit of an operand that stands in the code twice",
    "U114": "a code word of the wrong length",
    "U115": "a letter or name in the code that is no operand",
    "U116": "an operand of named words spread over several code words",
    "U117": "two instructions with one opcode",
    "U118": "two instructions that are written alike",
    "U120": "a line that the machine does not have",
    "U121": "shared steps or a macro that nobody declared",
    "U122": "a macro with the wrong number of arguments",
    "U123": "steps that use themselves",
    "U124": "several steps asked for within one step",
    "U125": "brackets that name nothing",
    "U126": "a block without steps",
    "U127": "a block that grows too long",
    "U130": "a value that the field does not have",
    "U131": "a field value with the wrong number of levels",
    "U132": "a setting that is neither a line nor a field with its value",
    "U133": "two settings of one line in a step",
    "U140": "two branches of a step at once",
    "U141": "a step that does not cover every case",
    "U142": "a branch that never holds",
    "U143": "`otherwise` without `when`",
    "U144": "a condition that the machine does not have",
    "U145": "too many conditions in one step",
    "U150": "a meaning that speaks of something unknown",
}

MOST_PROBLEMS = 100


def near(word: str, names: Iterable[str]) -> str:
    """A hint at the name that was probably meant, or at all names where they are few, or nothing."""
    known = sorted(set(names))
    return close(word, known) or (f"there is {listed(known)}" if 0 < len(known) <= 8 else "")


def close(word: str, names: Iterable[str]) -> str:
    """A hint at the name that was probably meant, or nothing."""
    found = get_close_matches(word, sorted(set(names)), n=1, cutoff=0.6)
    return f"did you mean `{found[0]}`?" if found else ""


def listed(names: Iterable[str], last: str = "and") -> str:
    """`a`, `b` and `c`."""
    quoted = [f"`{name}`" for name in names]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} {last} {quoted[-1]}" if quoted else "nothing"


def counted(number: int, thing: str) -> str:
    """1 bit, 2 bits."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


class Findings:
    """Gathers problems. The same code at the same places counts once; after ``MOST_PROBLEMS`` the rest is dropped."""

    def __init__(self) -> None:
        self._found: dict[tuple[str, tuple[Position, ...]], Problem] = {}

    def add(self, code: str, message: str, *places: Position | tuple[Position, str], help: str = "") -> None:
        """Notes a problem; a place may come with the words that say what stands there."""
        labels = tuple(Label(*place) if isinstance(place, tuple) else Label(place) for place in places)
        key = (code, tuple(label.position for label in labels))
        if len(self._found) < MOST_PROBLEMS:
            self._found.setdefault(key, Problem(code, message, labels, help))

    @property
    def problems(self) -> tuple[Problem, ...]:
        """In the order of their places."""
        return tuple(sorted(self._found.values(), key=lambda problem: problem.position))

    def stop_if_any(self) -> None:
        """Raises LatchworkError with all problems."""
        if self._found:
            raise LatchworkError(self.problems)
