"""Saved models that are none, or were tampered with, are refused with a problem."""

from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from latchwork.load.model import load_model
from latchwork.load.saved import open_saved, saved
from latchwork.model import Model
from latchwork.problems import LatchworkError

HINT = ' (save the machine again with "latchwork save")'


def refused(path: Path) -> str:
    with pytest.raises(LatchworkError) as raised:
        open_saved(path)
    return str(raised.value)


def test_what_is_no_saved_model(tmp_path: Path) -> None:
    path = tmp_path / "a.latchwork"
    assert refused(path) == (
        f"{path}: M110 this is not a saved model: it can't be read: no such file or directory "
        "(name a file that `latchwork save` wrote)"
    )
    path.write_text("{")
    assert refused(path) == f"{path}: M110 this is not a saved model: Input data was truncated{HINT}"
    path.write_text("{}")
    assert "Object missing required field" in refused(path)


def test_another_format(tiny: Path) -> None:
    path = tiny / "a.latchwork"
    path.write_bytes(saved(load_model(tiny)).replace(b'"latchwork_model": 1', b'"latchwork_model": 9'))
    assert refused(path) == f"{path}: M110 this is not a saved model: its format is 9, this version reads 1{HINT}"


def test_another_format_that_has_other_parts(tmp_path: Path) -> None:
    path = tmp_path / "a.latchwork"
    path.write_text('{"latchwork_model": 99, "chips": []}')
    assert refused(path) == f"{path}: M110 this is not a saved model: its format is 99, this version reads 1{HINT}"


def test_a_saved_model_under_another_name_is_not_run(tiny: Path) -> None:
    path = tiny / "a.json"
    path.write_bytes(saved(load_model(tiny)))
    with pytest.raises(LatchworkError) as raised:
        load_model(path)
    assert str(raised.value) == (
        f'{path}: M101 "{path}" is no description of a machine (only these are opened: a description, which ends in '
        ".py, and a saved model, which ends in .latchwork)"
    )


def test_chips_that_are_not_there(tiny: Path) -> None:
    path = tiny / "a.latchwork"
    path.write_bytes(saved(load_model(tiny)).replace(b'"chip": 2', b'"chip": 77'))
    assert "it speaks of nets or chips that the netlist does not have" in refused(path)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_mutated_files_open_or_are_refused(tiny: Path, data: st.DataObject) -> None:
    content = bytearray(saved(load_model(tiny)))
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(content) - 1))
        content[at : at + data.draw(st.integers(0, 3))] = data.draw(st.binary(max_size=3))
    path = tiny / "a.latchwork"
    path.write_bytes(content)
    with suppress(LatchworkError):
        assert isinstance(open_saved(path), Model)
