"""What the registers with a common clock and an asynchronous clear (174, 175, 273) have in common."""

from __future__ import annotations

from latchwork.logic import constant, variable
from latchwork.parts import Behaviour, Drive, Level, Register, Update


def clearable(width: int, *, both_outputs: bool = False) -> Behaviour:
    """``width`` bits that take D at the rising edge of CLK and are cleared while CLR_n is low; with
    ``both_outputs`` the inverse stands at Q_n."""
    held = variable("held", width)
    update = Update(variable("CLK"), variable("D", width))
    level = Level(~variable("CLR_n"), constant(0, width))
    inverse = (Drive("Q_n", ~held),) if both_outputs else ()
    return Behaviour(
        registers=(Register("held", width, (update,), (level,)),),
        drives=(Drive("Q", held), *inverse),
    )
