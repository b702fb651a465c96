"""SARIF: the members that section 3 of OASIS SARIF 2.1.0 (errata 01) requires, from memory of the standard's text;
no validator or schema is at hand."""

from latchwork.base.position import Position
from latchwork.problems import Label, Problem, Severity
from latchwork.problems.data import as_data, as_sarif

PROBLEM = Problem(
    "W204",
    "two outputs meet",
    (Label(Position("my machine.py", 4), "first"), Label(Position("a.micro", 12, 3), "second")),
    help="show one",
    severity=Severity.WARNING,
)


def test_as_data() -> None:
    assert as_data(PROBLEM) == {
        "code": "W204",
        "severity": "warning",
        "message": "two outputs meet",
        "places": [
            {"file": "my machine.py", "line": 4, "column": 0, "text": "first"},
            {"file": "a.micro", "line": 12, "column": 3, "text": "second"},
        ],
        "help": "show one",
    }


def test_sarif_has_the_required_members() -> None:
    log = as_sarif([PROBLEM, Problem("M001", "no place")], {"W204": "drivers that meet"}, "1.2")
    assert log["version"] == "2.1.0"
    (run,) = log["runs"]
    driver = run["tool"]["driver"]
    assert driver["name"] == "Latchwork"
    assert [rule["id"] for rule in driver["rules"]] == ["M001", "W204"]
    first, second = run["results"]
    assert driver["rules"][first["ruleIndex"]]["id"] == first["ruleId"] == "W204"
    assert first["level"] == "warning"
    assert first["message"] == {"text": "two outputs meet. show one"}
    place = first["locations"][0]["physicalLocation"]
    # A uri is percent-encoded (RFC 3986); lines and columns count from 1, an unknown one is left out.
    assert place == {"artifactLocation": {"uri": "my%20machine.py"}, "region": {"startLine": 4}}
    assert first["relatedLocations"][0]["physicalLocation"]["region"] == {"startLine": 12, "startColumn": 3}
    assert second["level"] == "error"
    assert "locations" not in second
