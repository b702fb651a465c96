"""How fast a machine may be clocked, and what says so. Times in nanoseconds, clocks in MHz."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class WayPart:
    """One arc of a way: ``chip`` and ``part``, from pin to pin ("CLK", "Q1" with their numbers), the ``net`` at its
    end and the ``edge`` there. ``adds`` and ``sum``: what it takes, and when its end has arrived. ``load``: the part of
    ``adds`` that the net costs. ``origin``: read, computed, memory, estimate, assumed."""

    chip: str
    part: str
    label: str
    start: str
    start_pin: int
    end: str
    end_pin: int
    net: str
    edge: str
    adds: float
    load: float
    sum: float
    source: str
    origin: str


@dataclass(frozen=True)
class Limit:
    """What a pin asks for, as a limit on the period of the main clock.

    ``kind``: setup, recovery, write address, write data, gate, pulse width, write width, maximum clock. ``chip``,
    ``pin``: where. ``reference``: the edge that counts ("rise of CLK"). ``begins``: edge of the main clock with which
    the way begins, ``share``: what of the period is there for it. ``arrival`` + ``needed`` - ``clock`` has to fit into
    ``share`` * ``period``: ``clock`` is how long the edge takes from the main clock to the reference. Where the way
    begins at a register that held, ``earlier`` clocks ago at the latest, so many periods are there besides.
    """

    period: float
    kind: str
    chip: str
    part: str
    pin: str
    reference: str
    begins: str
    share: float
    arrival: float
    needed: float
    clock: float
    source: str
    origin: str
    earlier: int = 0
    way: tuple[WayPart, ...] = ()
    clock_way: tuple[WayPart, ...] = ()


@dataclass(frozen=True)
class Fastest:
    """The shortest safe ``period``, as ``megahertz``, and the limit that sets it; ``step`` where it is known."""

    period: float
    megahertz: float
    limit: Limit | None
    step: str = ""


@dataclass(frozen=True)
class StepTime:
    """A row of the microprogram: the period its word needs, and the ``slack`` it has at the clock asked about.
    ``kind``, ``chip``, ``pin``: of its tightest limit, "" where nothing moves that is waited for."""

    block: str
    step: int
    conditions: tuple[tuple[str, int], ...]
    period: float
    slack: float
    kind: str
    chip: str
    pin: str


@dataclass(frozen=True)
class Group:
    """Rows that need the same period: ``megahertz`` is what the clock could be if only these and easier ones ran."""

    period: float
    megahertz: float
    rows: tuple[str, ...]
    limit: Limit | None


@dataclass(frozen=True)
class HoldTime:
    """How much longer than it must a pin stands still after an edge, in each corner. ``origin``: of the hold time."""

    kind: str
    chip: str
    part: str
    pin: str
    reference: str
    origin: str
    minimum: float
    typical: float
    maximum: float


@dataclass(frozen=True)
class CornerClock:
    """The fastest clock in a corner: by the plain analysis, and by microstep (0 without a microprogram)."""

    corner: str
    plain: float
    by_step: float


@dataclass(frozen=True)
class Swap:
    """Another part for one chip: the clock with it, in MHz. ``note``: what to look at before doing it."""

    chip: str
    label: str
    part: str
    other: str
    megahertz: float
    gain: float
    note: str = ""


@dataclass(frozen=True)
class Overlap:
    """Bus turn-around: how long two drivers of a bus may be on together when ``after`` follows on ``before``."""

    bus: str
    outgoing: str
    incoming: str
    nanoseconds: float
    before: str
    after: str


@dataclass(frozen=True)
class Origins:
    """How many arcs' times come from where, and the same for the way that sets the clock."""

    read: int
    computed: int
    estimate: int
    memory: int
    assumed: int


@dataclass(frozen=True)
class Trial:
    """A program run with delays for ``clocks`` clocks at ``megahertz``: ``well`` where all registers were right at each
    clock. ``fails``: the slowest clock found at which it goes wrong, 0 where none was found or looked for. ``trouble``:
    what went wrong first there. ``only``: no other clock was tried."""

    program: str
    clocks: int
    megahertz: float
    well: bool
    fails: float
    trouble: str
    only: bool = False


@dataclass(frozen=True)
class TimingReport:
    """``asked``: the clock that slacks refer to, in MHz: the one of the machine's oscillator, or the fastest safe one.
    ``plain`` takes every way that wiring allows, ``by_step`` only those that some control word opens (None without a
    microprogram). ``cut``: ways that run in a circle and were cut, as nets. ``unclocked``: chips that take data at an
    edge which does not come from the main clock through gates."""

    machine: str
    corner: str
    high: float
    asked: float
    stated: float
    plain: Fastest
    by_step: Fastest | None
    corners: tuple[CornerClock, ...]
    groups: tuple[Group, ...]
    steps: tuple[StepTime, ...]
    holds: tuple[HoldTime, ...]
    widths: tuple[Limit, ...]
    origins: Origins
    limiting: Origins
    cut: tuple[str, ...]
    unclocked: tuple[str, ...]
    swaps: tuple[Swap, ...] = ()
    overlaps: tuple[Overlap, ...] = ()
    trial: Trial | None = None
