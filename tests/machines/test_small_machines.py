"""Two small machines that find the next control word each in its own way. How they multiply: test_same_multiply.py."""

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


def test_the_form_is_found_from_the_wiring(model: Model) -> None:
    assert model.control is not None
    assert model.control.form == FORMS[model.netlist.name]
    assert 25 <= sum(chip.reference.startswith("U") for chip in model.netlist.chips) <= 40


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
