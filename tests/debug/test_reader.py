"""Conditions: what they are worth, unknown values, and every mistake with its column."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from latchwork.problems import LatchworkError, Problem
from latchwork.tools.debug.reader import condition

VALUES = {"a": 1, "b": 0, "acc": 0x80, "unknown": None, "data[3]": 1}


class Memory(dict[str, list[int]]):
    def __missing__(self, name: str) -> list[int]:
        raise LatchworkError(Problem("R106", f'the machine has no memory "{name}"'))


def machine() -> SimpleNamespace:
    """Names with fixed values; the nets of a name are the name itself."""

    def nets(name: str) -> str:
        if name not in VALUES:
            raise LatchworkError(Problem("R101", f'the machine has nothing called "{name}"'))
        return name

    labels = {"start.next": ("rom", 14), "a": ("rom", 99)}
    memory = Memory({"ram": [7, -1, 9]})
    return SimpleNamespace(nets=nets, labels=labels, memory=memory, simulation=SimpleNamespace(read=VALUES.get))


@pytest.mark.parametrize(
    ("text", "worth"),
    [
        ("a", 1),
        ("not b", 1),
        ("not not a", 1),
        ("acc", 0x80),
        ("acc = 0x80", 1),
        ("acc == 128", 1),
        ("acc != 0b10000000", 0),
        ("acc > 127 and acc < 129", 1),
        ("acc >= 129 or acc <= 3", 0),
        ("b or a and b", 0),
        ("(b or a) and a", 1),
        ("acc + 2 = 130", 1),
        ("acc - 1 - 1 = 126", 1),
        ("data[3]", 1),
        ("ram[0] = 7", 1),
        ("ram[a + 1] = 9", 1),
        ("ram[1]", None),
        ("ram[77]", None),
        ("start.next", 14),
        ("unknown", None),
        ("not unknown", None),
        ("unknown and b", 0),
        ("unknown or a", 1),
        ("unknown or b", None),
        ("unknown = 3", None),
        ("a=1", 1),
    ],
)
def test_worth(text: str, worth: int | None) -> None:
    assert condition(machine(), text).value() == worth  # type: ignore[arg-type]


SUCH_AS = 'such as "carry and not irq_n", "acc >= 0x80" or "ram[16] = 5"'
UNREADABLE = [
    f'R501 "" is no condition, column 1: a name or a number is expected, not the end ({SUCH_AS})',
    f'R501 "a and" is no condition, column 6: a name or a number is expected, not the end ({SUCH_AS})',
    f'R501 "a b" is no condition, column 3: "b" is too much ({SUCH_AS})',
    f'R501 "(a" is no condition, column 3: ")" is expected, not the end ({SUCH_AS})',
    f'R501 "a & b" is no condition, column 3: "&" has no meaning here ({SUCH_AS})',
    f'R501 "12x" is no condition, column 1: "12x" has no meaning here ({SUCH_AS})',
    f'R501 "and" is no condition, column 1: a name or a number is expected, not "and" ({SUCH_AS})',
    f'R501 "{"(" * 99}" is no condition, column 51: it is too deep ({SUCH_AS})',
]


@pytest.mark.parametrize("message", UNREADABLE)
def test_what_can_not_be_read(message: str) -> None:
    with pytest.raises(LatchworkError) as raised:
        condition(machine(), message.split('"')[1])  # type: ignore[arg-type]
    assert str(raised.value) == message


def test_an_unknown_name() -> None:
    with pytest.raises(LatchworkError) as raised:
        condition(machine(), "nobody = 1")  # type: ignore[arg-type]
    assert 'nothing called "nobody"' in str(raised.value)


pieces = st.sampled_from(["a", "b", "acc", "3", "128"])
compared = st.builds(
    lambda x, s, y: f"{x} {s} {y}", pieces, st.sampled_from(["==", "!=", "<", "<=", ">", ">="]), pieces
)
conditions = st.recursive(
    compared,
    lambda inner: st.one_of(
        st.builds("not ({})".format, inner),
        st.builds("{} and {}".format, inner, inner),
        st.builds("{} or {}".format, inner, inner),
        st.builds("({})".format, inner),
    ),
    max_leaves=8,
)


@given(conditions)
def test_python_reads_them_the_same(text: str) -> None:
    """Outside reference: Python's own grammar has these operators with the same strengths."""
    assert condition(machine(), text).holds() == bool(eval(text, {}, dict(VALUES)))  # type: ignore[arg-type]


@given(st.text(alphabet="ab and or not()[]=<>!+-0x1 \t&'é.", max_size=30))
def test_any_text_is_read_or_refused(text: str) -> None:
    code = ""
    try:
        condition(machine(), text).value()  # type: ignore[arg-type]
    except LatchworkError as error:
        code = error.problems[0].code
    assert code in ("", "R501", "R101", "R106")
