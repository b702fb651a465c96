"""The pages of the rules as files for docs/rules/, made from the docstrings of the rules."""

from __future__ import annotations

from latchwork.problems.registry import page, titles
from latchwork.tools.rules.registry import RULES
from latchwork.tools.rules.rule import HEADINGS

_NOTE = "<!-- Made by tools/regenerate.py from the rule's own file. Change it there. -->"

FITTING = ("U203", "U226", "U230")
"""What is found while the microprogram is fitted to the wiring, before the rules are asked; it has pages as well."""


def pages() -> dict[str, str]:
    """Name of each file -> its text."""
    listed = {rule.code: (rule.title, rule.severity.value, rule.page) for rule in RULES}
    listed |= {code: (titles()[code], "error, and nothing is written", page(code)) for code in FITTING}
    made = {f"{code}.md": _page(code, *about) for code, about in listed.items()}
    return {"README.md": _contents({code: about[:2] for code, about in listed.items()}), **made}


def _contents(listed: dict[str, tuple[str, str]]) -> str:
    rows = [f"| [{code}]({code}.md) | {title} | {severity} |" for code, (title, severity) in listed.items()]
    head = ["# The rules of `latchwork check`", "", _NOTE, "", "| code | what it finds | at worst |", "|---|---|---|"]
    return "\n".join([*head, *rows, ""])


def _page(code: str, title: str, severity: str, text: str) -> str:
    head = [f"# {code}: {title}", "", _NOTE, "", f"At worst: {severity}."]
    return "\n".join([*head, *_body(text), ""])


def _body(page: str) -> list[str]:
    """Headings as headings, text without its indent, examples (indented deeper) as blocks."""
    found: list[str] = []
    inside = False
    for line in page.splitlines()[1:]:
        code = line.startswith(" " * 8)
        if code != inside and line.strip():
            found.append("```" if inside else "```text")
            inside = code
        if line in HEADINGS:
            found += [f"## {line}", ""]
        else:
            found.append(line[8:] if code else line.strip().replace("::", ":"))
    return _tidy(found)


def _tidy(lines: list[str]) -> list[str]:
    """Fences close right after their last line, with one empty line after."""
    found: list[str] = []
    for line in lines:
        if line == "```":
            while found and not found[-1]:
                found.pop()
            found += [line, ""]
        elif line or (found and found[-1]) or not found:
            found.append(line)
    return found
