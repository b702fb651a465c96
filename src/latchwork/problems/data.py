"""Problems as data: plain objects for JSON, and logs of the SARIF standard (OASIS, version 2.1.0)."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from latchwork.base.position import Position
from latchwork.problems.problem import Label, Problem, Severity
from latchwork.problems.terminal import shown_file

_SARIF_SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"


def as_data(problem: Problem) -> dict[str, Any]:
    """One problem: code, severity, message, places with file, line, column and text, help."""
    return {
        "code": problem.code,
        "severity": problem.severity.value,
        "message": problem.message,
        "places": [_place(label) for label in problem.labels],
        "help": problem.help,
    }


def _place(label: Label) -> dict[str, Any]:
    position = label.position
    file = shown_file(position.file)
    return {"file": file, "line": position.line, "column": position.column, "text": label.text}


def as_sarif(problems: Iterable[Problem], titles: dict[str, str], version: str) -> dict[str, Any]:
    """A SARIF log with one run. ``titles``: code -> title of all codes that may occur."""
    found = list(problems)
    codes = sorted({problem.code for problem in found})
    rules = [{"id": code, "shortDescription": {"text": titles.get(code, code)}} for code in codes]
    driver = {"name": "Latchwork", "version": version, "rules": rules}
    results = [_result(problem, codes.index(problem.code)) for problem in found]
    run = {"tool": {"driver": driver}, "columnKind": "unicodeCodePoints", "results": results}
    return {"$schema": _SARIF_SCHEMA, "version": "2.1.0", "runs": [run]}


def _result(problem: Problem, rule: int) -> dict[str, Any]:
    text = problem.message + (f". {problem.help}" if problem.help else "")
    result: dict[str, Any] = {
        "ruleId": problem.code,
        "ruleIndex": rule,
        "level": _LEVELS[problem.severity],
        "message": {"text": text},
    }
    places = [label for label in problem.labels if label.position.file]
    if places:
        result["locations"] = [_location(places[0], 0)]
    if places[1:]:
        result["relatedLocations"] = [_location(label, number) for number, label in enumerate(places[1:], start=1)]
    return result


_LEVELS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "note"}


def _location(label: Label, number: int) -> dict[str, Any]:
    position = label.position
    physical: dict[str, Any] = {"artifactLocation": {"uri": _uri(position.file)}}
    region = _region(position)
    if region:
        physical["region"] = region
    location: dict[str, Any] = {"physicalLocation": physical}
    if number:
        location["id"] = number
    if label.text:
        location["message"] = {"text": label.text}
    return location


def _uri(file: str) -> str:
    from urllib.parse import quote

    shown = shown_file(file).replace("\\", "/")
    return ("file://" if shown.startswith("/") else "") + quote(shown)


def _region(position: Position) -> dict[str, int]:
    names = {"startLine": position.line, "startColumn": position.column}
    return {name: number for name, number in names.items() if number}
