import io
from pathlib import Path

from rich.console import Console

from latchwork.base.position import Position
from latchwork.problems import Label, Problem, Severity
from latchwork.problems.terminal import plain, plain_all, print_problems

TWO_PLACES = Problem(
    "W204",
    "two outputs drive data[3] in the same step",
    (Label(Position("machine.py", 41), "74HCT245 U7 pin 15 (B3)"), Label(Position("dunlin.micro", 12), "both are on")),
    help="show one of them in that step",
)


def test_places_stand_in_a_column() -> None:
    assert plain(TWO_PLACES) == (
        "W204 two outputs drive data[3] in the same step\n"
        "  machine.py:41     74HCT245 U7 pin 15 (B3)\n"
        "  dunlin.micro:12   both are on\n"
        "help: show one of them in that step"
    )


def test_what_is_less_than_an_error_says_so() -> None:
    assert plain(Problem("W301", "a gate is not used", severity=Severity.NOTE)) == "W301 note: a gate is not used"


def test_the_line_is_quoted_where_a_column_is_known(tmp_path: Path, monkeypatch) -> None:
    (tmp_path / "first.micro").write_text("x\n\tpc_show, acc_tak, ir_take\n")
    monkeypatch.chdir(tmp_path)
    problem = Problem("U101", "no such line", (Label(Position(str(tmp_path / "first.micro"), 2, 11), "here"),))
    assert plain(problem) == (
        "U101 no such line\n  first.micro:2:11   here\n      pc_show, acc_tak, ir_take\n               ^"
    )


def test_a_console_without_colours_prints_the_plain_text() -> None:
    out = io.StringIO()
    print_problems(Console(file=out, width=20), [TWO_PLACES, TWO_PLACES])
    assert out.getvalue() == plain_all([TWO_PLACES, TWO_PLACES]) + "\n"


def test_a_console_with_colours_sets_the_code_apart() -> None:
    out = io.StringIO()
    print_problems(Console(file=out, force_terminal=True, color_system="standard"), [TWO_PLACES])
    assert "\x1b[1;31mW204\x1b[0m" in out.getvalue()
