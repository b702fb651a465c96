"""The pages of the rules as files for docs/rules/, made from the docstrings of the rules."""

from __future__ import annotations

from latchwork.tools.rules.registry import RULES
from latchwork.tools.rules.rule import HEADINGS, Rule

_NOTE = "<!-- Made by tools/regenerate.py from the rule's own file. Change it there. -->"


def pages() -> dict[str, str]:
    """Name of each file -> its text."""
    return {"README.md": _contents(), **{f"{rule.code}.md": _page(rule) for rule in RULES}}


def _contents() -> str:
    rows = [f"| [{rule.code}]({rule.code}.md) | {rule.title} | {rule.severity.value} |" for rule in RULES]
    head = ["# The rules of `latchwork check`", "", _NOTE, "", "| code | what it finds | at worst |", "|---|---|---|"]
    return "\n".join([*head, *rows, ""])


def _page(rule: Rule) -> str:
    head = [f"# {rule.code}: {rule.title}", "", _NOTE, "", f"At worst: {rule.severity.value}."]
    return "\n".join([*head, *_body(rule.page), ""])


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
