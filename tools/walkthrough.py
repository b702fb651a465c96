"""Pages that are worked through: every command and every change of a file on the page is done, in order.

A page is Markdown. In it, fenced blocks are

- ``console``: lines that begin with ``$ `` are commands, the lines after them what they print;
- ``change FILE``: lines that begin with ``- `` are taken out of the file where they stand beside each other, those that
  begin with ``+ `` come in their place; with ``+ `` lines alone the file begins anew with them;
- ``session latchwork debug ...``: a talk with the debugger; what stands after its prompts is typed again.

``worked`` does all of it in a folder and gives the page with what the commands printed now.
"""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
import tempfile
from pathlib import Path

_BLOCK = re.compile(r"^```(console|change [^\n]+|session [^\n]+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def worked(page: str, folder: Path) -> str:
    """The page as it reads when its commands are run in ``folder``. AssertionError where a change fits nowhere."""

    def done(block: re.Match[str]) -> str:
        kind, text = block[1], block[2]
        if kind == "console":
            return f"```console\n{_run(text, folder)}```"
        if kind.startswith("session "):
            return f"```{kind}\n{_talk(kind.removeprefix('session '), text, folder)}```"
        _change(folder / kind.removeprefix("change "), text)
        return block[0]

    return _BLOCK.sub(done, page)


def worked_through(docs: Path, *names: str) -> dict[str, str]:
    """Pages of a folder, each worked through in a folder of its own: name -> text."""
    found = {}
    for name in names:
        with tempfile.TemporaryDirectory() as folder:
            found[name] = worked((docs / name).read_text(encoding="utf-8"), Path(folder).resolve())
    return found


_PROMPT = re.compile(r"^\S+ at clock \d+: (.*)$", re.MULTILINE)


def _talk(command: str, text: str, folder: Path) -> str:
    orders = "".join(f"{order}\n" for order in _PROMPT.findall(text))
    return _steady(_printed(shlex.split(command), folder, orders), folder)


def _run(text: str, folder: Path) -> str:
    commands = [line.removeprefix("$ ") for line in text.splitlines() if line.startswith("$ ")]
    place = folder
    shown = []
    for command in commands:
        shown.append(f"$ {command}\n")
        words = shlex.split(command)
        if words[0] == "cd":
            place = place / words[1]
            continue
        shown.append(_steady(_printed(words, place), folder))
    return "".join(shown)


def _printed(words: list[str], place: Path, typed: str = "") -> str:
    """What a command prints; ``typed`` is its standard input."""
    program = {"latchwork": [sys.executable, "-m", "latchwork"], "pytest": [sys.executable, "-m", "pytest"]}[words[0]]
    environment = {**os.environ, "COLUMNS": "100", "NO_COLOR": "1", "PYTHONDONTWRITEBYTECODE": "1"}
    done = subprocess.run(
        [*program, *words[1:]],
        cwd=place,
        input=typed,
        capture_output=True,
        text=True,
        check=False,
        env=environment,
        timeout=120,
    )
    return done.stdout + done.stderr


def _steady(text: str, folder: Path) -> str:
    """What was printed, without what differs from run to run: the folder, and times."""
    text = text.replace(f"{folder}/", "").replace(str(folder), ".")
    text = re.sub(r"in \d+\.\d+s", "in 0.50s", text)
    return "".join(line.rstrip() + "\n" for line in text.splitlines())


def _change(file: Path, text: str) -> None:
    lines = text.splitlines()
    old = "".join(line[2:] + "\n" for line in lines if line.startswith("- "))
    new = "".join(line[2:] + "\n" for line in lines if line.startswith("+ "))
    if not old:
        file.parent.mkdir(exist_ok=True)
        file.write_text(new, encoding="utf-8")
        return
    before = file.read_text(encoding="utf-8")
    assert before.count(old) == 1, f"{file.name} has these lines {before.count(old)} times:\n{old}"
    file.write_text(before.replace(old, new), encoding="utf-8")
