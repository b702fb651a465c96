"""``latchwork save [MACHINE]``"""

from __future__ import annotations

from pathlib import Path

import click

from latchwork.cli.options import force_option, json_option, machine_argument, model_of, named, program_option, unusable
from latchwork.cli.show import show


@click.command()
@machine_argument
@program_option
@click.option("--out", metavar="FILE", type=named, help="The file; NAME.latchwork in this folder if left out.")
@force_option
@json_option
def command(machine: str, program: str | None, out: str | None, force: bool, as_json: bool) -> int:
    """Save the model in one file, which every command opens without running machine.py."""
    from latchwork.cli.write import write
    from latchwork.load.burned import SAVED
    from latchwork.load.saved import saved
    from latchwork.reports.started import Saved

    if out is not None and not out.endswith(SAVED):
        raise unusable(f'--out: the name of a saved model ends in "{SAVED}"')
    model = model_of(machine, program)
    path = Path(out or f"{model.netlist.name}{SAVED}")
    content = saved(model)
    write(path.parent, {path.name: content}, force)
    report = Saved(model.netlist.name, str(path), len(content))
    text = f"{report.machine} is saved in {report.file}, {report.size} bytes"
    return show(report, as_json=as_json, command="save", ok=True, lines=lambda console: console.print(text))
