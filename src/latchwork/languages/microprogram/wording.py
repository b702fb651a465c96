"""Syntax errors in words: what was found, what could have stood there, and what to do about it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from latchwork.languages.microprogram.errors import close

_WORDS = {
    "NAME": "a name",
    "NUMBER": "a number",
    "SIGNED": "a number",
    "TEMPLATE": "a name",
    "STRING": 'a file name in "double quotes"',
    "LEVELS": "a level",
    "PIECE": "bits or an operand",
    "FORM_WORD": "a word",
    "FORM_MARK": "a mark",
    "_BITS": "`bits`",
    "_COMMA": "a comma",
    "_NL": "the end of the line",
    "SIGN": "a value",
    "LPAR": "`(`",
    "RPAR": "`)`",
    "LSQB": "`[`",
    "RSQB": "`]`",
    "EQUAL": "`=`",
    "COLON": "`:`",
    "SEMICOLON": "`;`",
    "DOT": "`.`",
    "$END": "the end of the block",
}
_VALUES = {"SIGN", "NOT", "NAME", "NUMBER", "LPAR"}
_OPERATORS = {
    "COMPARE",
    "SHIFT",
    "BIT_OR",
    "BIT_XOR",
    "BIT_AND",
    "ADD",
    "TIMES",
    "AND",
    "OR",
    "IF",
    "LSQB",
    "DOT",
    "LPAR",
}
_LINE = {"PIN", "MEANING", "WHEN", "OTHERWISE", "TEMPLATE", "NOTHING"}
_GROUPS = (  # where all of the first are expected, one word stands for all of the last
    ({"TIMES"}, "an operator", _OPERATORS),
    ({"SIGN"}, "a value", _VALUES),
    ({"PIN", "TEMPLATE"}, "a line of the block", _LINE),
    ({"AND", "TEMPLATE"}, "what the step sets", {"TEMPLATE", "NOTHING"}),
    ({"EQUAL", "DOT"}, "`=`", {"EQUAL", "DOT", "LSQB"}),
    ({"EQUAL", "_COMMA", "_NL"}, "a comma", {"EQUAL", "LPAR", "_COMMA"}),
)


@dataclass(frozen=True)
class Said:
    message: str
    help: str


def expectation(lines: Sequence[str], index: int, column: int, found: str, expected: frozenset[str]) -> Said:
    """The sentence and the hint for a syntax error at ``lines[index]``, ``column`` (from 1), where ``found`` stands."""
    shown = f"`{found}`" if found else "the end of the line"
    message = f"found {shown} where {_choice(_in_words(expected))} should stand"
    return Said(message, _hint(lines, index, column, found, expected))


def _in_words(expected: frozenset[str]) -> list[str]:
    names = set(expected)
    words = []
    for group, word, covered in _GROUPS:
        if names >= group:
            words.append(word)
            names -= covered
    words.extend(_WORDS.get(name, f"`{name.lower().strip('_')}`") for name in names)
    return sorted(set(words), key=_rank)


def _rank(word: str) -> tuple[bool, bool, str]:
    return (word == "the end of the line", word.startswith("`"), word)


def _choice(words: list[str]) -> str:
    if len(words) < 2:
        return "".join(words) or "something else"
    return f"{', '.join(words[:-1])} or {words[-1]}"


def _hint(lines: Sequence[str], index: int, column: int, found: str, expected: frozenset[str]) -> str:
    line, kind = lines[index], lines[0].split(maxsplit=1)[0]
    for applies, hint in (
        (found == "#", "`#` begins a comment only with a blank after it"),
        (found == ";" and "_NL" in expected, "one step a line; statements of a meaning stand after `meaning`"),
        (found == "=" and re.match(r"\s*if\b|\s*meaning.*\bif\b", line), "equality is written `==`"),
        ("_CODE" in expected and kind == "instruction" and index == 0 and not found, _CODE),
        ({"_CODE", "_COMMA"} <= expected and index == 0 and found, "each operand has its kind: `with n byte`"),
        ("_CODE" in expected and index > 0, "`code` with the bits comes before the steps"),
        (kind == "field" and "LEVELS" in expected, "a level is 0, 1 or - for does not matter, one for each line"),
        (found in {"and", "or", "not"} and "TEMPLATE" in expected, "conditions stand after `when`"),
        (re.match(r"\s*else\b", line) and "_NL" in expected, "the other case of a step is written `otherwise`"),
        (line.split(maxsplit=1)[0] == "if", "a step's condition is written `when carry ...`"),
        (re.match(r"\[\d", line[column - 1 :]), "the line of one bit has the bit in its name: `alu_f0`"),
        (
            "_COMMA" in expected and "TEMPLATE" not in expected and re.match(r"[\w\[]", found),
            "commas stand between names",
        ),
        (found == ":" and "TEMPLATE" in expected, "no colon after a condition: `when carry   pc_advance`"),
        (found and found[0].isdigit() and "NAME" in expected, "a name begins with a letter or `_`"),
        (not found and "NOTHING" in expected, "a step that sets nothing is written `nothing`"),
    ):
        if applies:
            return hint
    return close(found, (name.lower().strip("_") for name in expected if name not in _WORDS))


_CODE = "an instruction needs `code` and its bits, such as `code 0100_000r n`"
