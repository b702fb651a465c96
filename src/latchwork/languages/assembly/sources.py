"""Files of a program: text and bytes, with the reason where they can't be read."""

from __future__ import annotations

from pathlib import Path

from latchwork.languages.assembly import grammar
from latchwork.languages.assembly.errors import Refusal
from latchwork.languages.assembly.scan import without_comment
from latchwork.languages.letters import foreign

_MOST_TEXT = 8_000_000
_MOST_BYTES = 1 << 25
_FROM_FILE = "paths are relative to the file that names them"
_FROM_HERE = "name a program's file, as seen from here or from the machine's folder"


def read_text(path: Path, column: int = 0) -> str:
    """The text of a file, with plain line ends. Raises Refusal, at ``column`` of the line that asks for it."""
    data = _read(path, _MOST_TEXT, column)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        message = f"`{path}` can't be read: line {line} is no UTF-8 text"
        raise Refusal("A103", message, column, "save it as UTF-8") from None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def read_bytes(path: Path, column: int) -> bytes:
    """The bytes of a file. Raises Refusal."""
    return _read(path, _MOST_BYTES, column)


def _read(path: Path, most: int, column: int) -> bytes:
    help = _FROM_FILE if column else _FROM_HERE
    try:
        if path.exists() and not path.is_file():
            raise Refusal("A103", f"`{path}` can't be read: it is no file", column, help)
        with path.open("rb") as file:
            data = file.read(most + 1)
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or str(error)).lower()
        raise Refusal("A103", f"`{path}` can't be read: {reason}", column, help) from None
    if len(data) > most:
        raise Refusal("A103", f"`{path}` has more than {most} bytes", column, "is it the file that is meant?")
    return data


def check_line(text: str) -> None:
    """Raises Refusal for a line that is too long or holds characters that no text file or no program should."""
    if len(text) > grammar.LONGEST_LINE:
        message = f"the line has {len(text)} characters; {grammar.LONGEST_LINE} is the most"
        raise Refusal("A104", message, grammar.LONGEST_LINE + 1)
    found = grammar.control.search(text)
    if found:
        raise Refusal("A101", f"a character with the code {ord(found[0])} in the line", found.start() + 1)
    if not text.isascii():
        _check_letters(text)


def _check_letters(text: str) -> None:
    code = grammar.quoted.sub(lambda found: " " * len(found[0]), without_comment(text))
    found = foreign(code, "A to Z, a to z, digits and `_`")
    if found and not code[: found.start].count('"') + code[: found.start].count("'"):
        raise Refusal("A101", found.message, found.start + 1, found.help)
