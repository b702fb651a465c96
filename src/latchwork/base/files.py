"""Writing files without surprises: all or nothing, and never over a file that a person made or changed.

Every folder that Latchwork writes into gets a small list, ``latchwork-files.json``, of the names it wrote there with
the SHA-256 of what they held. A file that is not in the list, or whose bytes are no longer those, belongs to a person.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path

LIST_NAME = "latchwork-files.json"
_BESIDE = ".latchwork-new"


class ForeignFileError(Exception):
    """A file that Latchwork did not write, or that was changed since, stands in the way. ``changed``: the latter."""

    def __init__(self, path: Path, changed: bool) -> None:
        self.path = path
        self.changed = changed
        super().__init__(f"{path} {'was changed since' if changed else 'was not written by'} Latchwork")


def write_files(folder: Path, files: Mapping[str, bytes], force: bool = False) -> None:
    """Write all ``files`` (names within ``folder``) or none, and note them in the folder's list.

    Raises ForeignFileError before anything is written, and OSError where the folder can't be written to; what stood
    there before then stands there again.
    """
    known = written_before(folder)
    for name in files:
        _refuse_device(folder / name)
    if not force:
        for name, content in files.items():
            _refuse_foreign(folder / name, content, known.get(name))
    folder.mkdir(parents=True, exist_ok=True)
    noted = {**known, **{name: _hash(content) for name, content in files.items()}}
    text = json.dumps(noted, indent=1, sort_keys=True) + "\n"
    with _staged(folder, {**files, LIST_NAME: text.encode()}) as staged:
        _swap_in(staged)


def check_free(folder: Path, name: str, force: bool = False) -> None:
    """Raises ForeignFileError where ``write_files`` would, whatever the file is to hold."""
    path = folder / name
    _refuse_device(path)
    if path.is_dir() or (path.exists() and not force):
        _refuse_foreign(path, b"", written_before(folder).get(name))


def meant(path: Path) -> Path:
    """The file for which one written beside it stands."""
    name = path.name
    return path.with_name(name[1 : -len(_BESIDE)]) if name.startswith(".") and name.endswith(_BESIDE) else path


def write_file(path: Path, content: bytes, force: bool = False) -> None:
    """Write one file; see ``write_files``."""
    write_files(path.parent, {path.name: content}, force)


def written_before(folder: Path) -> dict[str, str]:
    """Name -> SHA-256 of the files that Latchwork wrote into a folder. A list that can't be read says nothing."""
    try:
        read = json.loads((folder / LIST_NAME).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return {str(name): str(value) for name, value in read.items()} if isinstance(read, dict) else {}


def changed_since(path: Path) -> bool:
    """Whether a file that Latchwork wrote holds something else by now. Raises OSError where it can't be read."""
    known = written_before(path.parent).get(path.name)
    return known is not None and known != _hash(path.read_bytes())


def _refuse_device(path: Path) -> None:
    """A device or a pipe is never read, which may last for ever, and never replaced by a file."""
    if path.exists() and not path.is_file() and not path.is_dir():
        raise ForeignFileError(path, changed=False)


def _refuse_foreign(path: Path, content: bytes, known: str | None) -> None:
    if path.is_dir():
        raise ForeignFileError(path, changed=False)
    if not path.exists():
        return
    present = _hash(path.read_bytes())
    if present not in (known, _hash(content)):
        raise ForeignFileError(path, changed=known is not None)


def _hash(content: bytes) -> str:
    return sha256(content).hexdigest()


@contextmanager
def _staged(folder: Path, files: Mapping[str, bytes]) -> Iterator[list[tuple[Path, Path]]]:
    """Pairs of a file written beside and the place where it goes; what was not moved there is removed in the end."""
    pairs: list[tuple[Path, Path]] = []
    try:
        for name, content in files.items():
            target = folder / name
            target.parent.mkdir(parents=True, exist_ok=True)
            beside = target.with_name(f".{target.name}{_BESIDE}")
            pairs.append((beside, target))
            beside.write_bytes(content)
        yield pairs
    finally:
        for beside, _ in pairs:
            beside.unlink(missing_ok=True)


def _swap_in(staged: list[tuple[Path, Path]]) -> None:
    done: list[tuple[Path, bytes | None]] = []
    try:
        for beside, target in staged:
            before = target.read_bytes() if target.is_file() else None
            beside.replace(target)
            done.append((target, before))
    except OSError:
        for target, before in done:
            _put_back(target, before)
        raise


def _put_back(target: Path, before: bytes | None) -> None:
    if before is None:
        target.unlink(missing_ok=True)
    else:
        target.write_bytes(before)
