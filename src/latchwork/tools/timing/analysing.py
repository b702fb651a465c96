"""The analyses that a report is made from, each worked out once, when somebody asks for it."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from latchwork.analysis.arrival.activity import Activity, still_nets
from latchwork.analysis.arrival.clocked import Clocked, Limit
from latchwork.analysis.arrival.flow import Flow
from latchwork.analysis.arrival.loads import Boards
from latchwork.analysis.arrival.plain import plain_activity
from latchwork.analysis.arrival.step_lanes import Step, lanes_of, steps_of
from latchwork.analysis.arrival.times import Corner
from latchwork.analysis.control_words import ControlWords
from latchwork.analysis.wiring import Wiring
from latchwork.model import Model
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import TimerKind
from latchwork.problems import LatchworkError, Problem


@dataclass(frozen=True)
class Asked:
    """What is asked: the corner, the share of the period in which the clock is high, and what boards weigh."""

    corner: Corner = Corner.MAXIMUM
    high: float = 0.5
    boards: Boards = field(default_factory=Boards)


USUAL = Asked()


class Timing:
    """Raises LatchworkError (R601) where the machine has no main clock."""

    def __init__(self, model: Model, asked: Asked) -> None:
        self.model, self.asked, self.netlist = model, asked, model.netlist
        if self.netlist.clock == NO_NET:
            hint = "give it one: m.clock(1_000_000) or m.hand_clock()"
            raise LatchworkError(Problem("R601", f"{self.netlist.name} has no main clock to be timed", help=hint))
        self.wiring = Wiring(model.netlist)
        self._plain: dict[Corner, Clocked] = {}
        self._by_step: dict[Corner, Clocked] = {}

    def plain(self, corner: Corner) -> Clocked:
        """What wiring alone allows."""
        if corner not in self._plain:
            self._plain[corner] = self._with(corner, self._everything)
        return self._plain[corner]

    def by_step(self, corner: Corner) -> Clocked | None:
        """What control words allow, a lane each; None without a control program."""
        if not self.steps:
            return None
        if corner not in self._by_step:
            self._by_step[corner] = self._with(corner, self._opened, self.flow)
        return self._by_step[corner]

    @cached_property
    def words(self) -> ControlWords:
        return ControlWords(self.model, self.wiring)

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """The lanes of ``by_step``."""
        return steps_of(self.words)

    @cached_property
    def _everything(self) -> Activity:
        return plain_activity(self.wiring, self.words.contents)

    @cached_property
    def _opened(self) -> Activity:
        lanes = lanes_of(self.words, self.steps)
        return Activity(self.wiring, lanes, still_nets(self.wiring, self.words.contents), {})

    @cached_property
    def flow(self) -> Flow:
        """What can have changed before each step."""
        return Flow(self.words, self.steps, self._opened.lanes)

    def _with(self, corner: Corner, activity: Activity, flow: Flow | None = None) -> Clocked:
        asked = self.asked
        return Clocked(activity, self.netlist.clock, corner, boards=asked.boards, high=asked.high, flow=flow)

    @cached_property
    def tightest(self) -> list[Limit | None]:
        """For each step its tightest limit, in the corner asked about."""
        clocked = self.by_step(self.asked.corner)
        return clocked.worst() if clocked else []

    def stated_period(self) -> int:
        """The period of the machine's one oscillator, in picoseconds; 0 where there is none, or several."""
        found = [
            value
            for chip in range(len(self.netlist.chips))
            for timer in self.netlist.part_of(chip).behaviour.timers
            for name, value in self.netlist.chips[chip].parameters
            if timer.kind is TimerKind.OSCILLATOR and name == timer.time and isinstance(value, int)
        ]
        return found[0] if len(found) == 1 else 0


def period_of(clocked: Clocked) -> int:
    """The shortest period that all limits allow, in picoseconds."""
    first = [item.period for limits in (clocked.limits, clocked.widths, clocked.rates) for item in limits[:1]]
    return max(first, default=0)
