"""Two small machines that find the next control word each in its own way, and multiply as Dunlin does.

Outside check: plain multiplication.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from latchwork.engines.oracle import Oracle
from latchwork.load.model import load_model
from latchwork.load.program import assemble_program
from latchwork.model import Model

HERE = Path(__file__).parent
FORMS = {"redshank": "start", "whimbrel": "next"}


@pytest.fixture(scope="module", params=FORMS)
def model(request: pytest.FixtureRequest) -> Model:
    return load_model(HERE / request.param)


def shown(model: Model, program: Path, clocks: int = 2000) -> list[int | None]:
    """What the lamps show one after the other until the machine halts."""
    oracle = Oracle(model.netlist, model.with_contents(assemble_program(model, program).contents).contents)
    port = next(port for port in model.statements.ports if port.name == "lamps")
    halt = model.statements.halts[0]
    seen: list[int | None] = []
    for clock in range(clocks):
        taking = oracle.value(port.take) == 0
        oracle.run(1)
        if taking and clock > 10:
            seen.append(oracle.read(port.nets))
        if clock > 10 and oracle.value(halt.net) == halt.level:
            assert not oracle.incidents
            return seen
    raise AssertionError("the program does not come to its end")


def test_the_form_is_found_from_the_wiring(model: Model) -> None:
    assert model.control is not None
    assert model.control.form == FORMS[model.netlist.name]
    assert 25 <= sum(chip.reference.startswith("U") for chip in model.netlist.chips) <= 40


@pytest.mark.parametrize(("a", "b"), [(200, 123), (255, 255), (1, 0), (13, 19)])
def test_multiply(model: Model, a: int, b: int, tmp_path: Path) -> None:
    text = (model.folder / "multiply.asm").read_text()
    program = tmp_path / "multiply.asm"
    program.write_text(text.replace("= 200", f"= {a}").replace("= 123", f"= {b}"))
    assert shown(model, program) == [a * b >> 8, a * b & 0xFF]


def test_a_halted_machine_stays_halted(model: Model, tmp_path: Path) -> None:
    program = tmp_path / "halt.asm"
    program.write_text(
        "        .section rom\n        load #5\n        output\n        halt\n        load #9\n        output\n"
    )
    oracle = Oracle(model.netlist, model.with_contents(assemble_program(model, program).contents).contents)
    oracle.run(200)
    halt = model.statements.halts[0]
    assert oracle.value(halt.net) == halt.level
    assert oracle.read(next(port for port in model.statements.ports if port.name == "lamps").nets) == 5
