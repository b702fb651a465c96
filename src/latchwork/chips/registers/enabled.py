"""What the registers with a common clock and an enable but no clear (378, 379) have in common."""

from __future__ import annotations

from latchwork.logic import mux, variable
from latchwork.parts import Behaviour, Drive, Register, Update


def enabled(width: int, *, both_outputs: bool = False) -> Behaviour:
    """``width`` bits that take D at the rising edge of CLK while G_n is low; with ``both_outputs`` the inverse
    stands at Q_n."""
    held = variable("held", width)
    data = mux(variable("G_n"), held, variable("D", width))
    inverse = (Drive("Q_n", ~held),) if both_outputs else ()
    return Behaviour(
        registers=(Register("held", width, (Update(variable("CLK"), data),)),),
        drives=(Drive("Q", held), *inverse),
    )
