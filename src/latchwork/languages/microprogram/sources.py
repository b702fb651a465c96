"""Files of a microprogram: the first one and those it includes."""

from __future__ import annotations

import os.path
from pathlib import Path

from latchwork.base.position import Position
from latchwork.languages.microprogram.errors import Findings
from latchwork.languages.microprogram.layout import Source
from latchwork.languages.microprogram.tree import Word

NEW_LINE = b"\n"


def read_file(
    path: Path, included: Word | None, findings: Findings, seen: dict[str, Word | None] | None = None
) -> Source | None:
    """The text of a file; an included one is looked for beside the file that includes it.

    ``seen``: files read so far with the place that included each; the new one is added.
    """
    if included:
        path = Path(os.path.normpath(Path(included.position.file).parent / path))
    seen = {} if seen is None else seen
    if included and str(path) in seen:
        _repeated(path, included, findings, seen)
        return None
    text = _text(path, included, findings)
    seen[str(path)] = included
    return None if text is None else Source(str(path), text)


def _text(path: Path, included: Word | None, findings: Findings) -> str | None:
    places = [included.position] if included else []
    try:
        return path.read_bytes().decode("utf-8")
    except UnicodeDecodeError as error:
        reason = f"line {error.object.count(NEW_LINE, 0, error.start) + 1} is no UTF-8 text"
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or str(error)).lower()
    hint = "paths are relative to the including file" if included else "a microprogram is plain text in UTF-8"
    findings.add("U103", f"`{path}` can't be read: {reason}", *places or [Position(str(path))], help=hint)
    return None


def _repeated(path: Path, included: Word, findings: Findings, seen: dict[str, Word | None]) -> None:
    first = seen[str(path)]
    earlier = [(first.position, "first included here")] if first else []
    findings.add(
        "U103",
        f"`{path.name}` is already part of this microprogram",
        included.position,
        *earlier,
        help="a file is included once; its blocks are known in all files",
    )
