"""Letters and marks that neither language has: found before a grammar would stop in the middle of a word."""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

_OTHER = re.compile(r"[^\x00-\x7f]")


class Foreign(NamedTuple):
    """Where it begins in the text, from 0, what is the matter with it, and what to do."""

    start: int
    message: str
    help: str


def foreign(text: str, letters: str) -> Foreign | None:
    """The first word with a letter outside of ASCII, or the first other character outside of it.

    ``letters``: what words are made of, as the help says it. Comments and quotes are blanked out before.
    """
    first = _OTHER.search(text)
    if first is None:
        return None
    if not _belongs_to_a_word(first[0]):
        name = unicodedata.name(first[0], "").lower()
        shown = f"`{first[0]}` ({name})" if first[0].isprintable() else name or "this character"
        message = f"{shown} is no character of the language; it is U+{ord(first[0]):04X}"
        return Foreign(first.start(), message, "outside of comments and quotes all characters are ASCII")
    start, end = first.start(), first.end()
    while start and _belongs_to_a_word(text[start - 1]):
        start -= 1
    while end < len(text) and _belongs_to_a_word(text[end]):
        end += 1
    message = f"`{text[start:end]}` has the letter `{first[0]}`, which no word may have"
    return Foreign(start, message, f"words are made of {letters}; other letters may stand in comments")


def _belongs_to_a_word(letter: str) -> bool:
    """Letters, digits, accents that are characters of their own, and what joins words."""
    return letter in "_." or letter.isalnum() or unicodedata.category(letter).startswith("M")
