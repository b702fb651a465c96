"""Every message of every rule, in full, and for each rule a machine about which it has nothing to say."""

from pathlib import Path

import pytest
from rule_cases import FOLDER, RuleCase, rule_cases

from latchwork.problems.terminal import plain_all
from latchwork.tools.rules.checking import check
from latchwork.tools.rules.errors import TITLES
from latchwork.tools.rules.registry import RULES

CASES = list(rule_cases())


@pytest.mark.parametrize("case", [pytest.param(case, id=f"{case.code}: {case.title}") for case in CASES])
def test_rule_case(case: RuleCase, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    report = check(case.model(Path()))
    said = plain_all(problem for problem in report.problems if problem.code == case.code)
    assert said == ("" if case.parts["says"].strip() == "nothing" else case.parts["says"].strip())


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.code)
def test_each_rule_has_problems_and_a_clean_case(rule) -> None:
    says = [case.parts["says"].strip() for case in CASES if case.code == rule.code]
    assert "nothing" in says
    assert [text for text in says if text != "nothing"]


def test_no_file_without_a_rule() -> None:
    assert {file.stem for file in FOLDER.glob("*.txt")} == {rule.code for rule in RULES} == set(TITLES)


def test_the_worst_severity_is_the_stated_one() -> None:
    """As the cases show it: what a rule calls an error can be one, and nothing worse comes out."""
    order = ["note: ", "warning: ", ""]
    for rule in RULES:
        firsts = [
            line.removeprefix(f"{rule.code} ")
            for case in CASES
            if case.code == rule.code
            for line in case.parts["says"].splitlines()
            if line.startswith(rule.code)
        ]
        shown = [next(kind for kind in order if line.startswith(kind)) for line in firsts]
        assert max(shown, key=order.index) == {"error": ""}.get(rule.severity.value, f"{rule.severity.value}: ")
