"""The debugger's words: each line of text is one order to a session, and is answered in lines of text."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import get_close_matches

from latchwork.problems import LatchworkError, Problem
from latchwork.tools.debug import words
from latchwork.tools.debug.probes import Access, Changed, value_of
from latchwork.tools.debug.session import UNITS, Pause, Session, Stop

HELP = """\
go [N clocks]              run until something stops it; past a halt at which it stands
forward [N] [UNIT]         UNIT is instruction (if left out), step, clock or tick
until CONDITION            run until it comes to hold: until carry and not irq_n
until LABEL                run until an instruction begins there
until changed WHAT         also: until read CELL, until written CELL [= N]
back [N] [UNIT]            go back to where so many of them began
back until CONDITION       go back to the last tick at which it held
back until changed WHAT    also: back until read CELL, back until written CELL [= N], back until at LABEL
back until stop            go back to the last tick at which a stop would have stopped it
stop at LABEL              or an address: where an instruction begins
stop at micro ADDRESS      where a word of the control store comes to work
stop at step N of BLOCK    where a step of an instruction comes to work: stop at step 2 of add #n
stop when CONDITION        when it comes to hold
stop when changed WHAT     also: stop when read CELL, stop when written CELL [= N], stop when trouble
stops                      list them
forget N, forget all       take stops away
where                      time, source line, microstep, registers, lamps
show WHAT, ...             nets, buses, registers, cells (ram[16]), conditions; all without WHAT
look SPACE FIRST..LAST     cells of a memory: look ram 16..31, look ram factor..low
lines                      the program around the line at work
trouble                    what a bench would show as trouble so far
set NAME = N               switches and buttons
put CELL = N               overwrite a cell of a memory
send DEVICE TEXT           something from outside: send panel keys=5, send serial "hello\\n"
horizon [N clocks|megabytes]   how far back one can go; set it
again                      what an empty line does: the last order of moving once more
leave                      end the session"""

VERBS = {line.split()[0].rstrip(",") for line in HELP.splitlines()} | {"help"}
MOVING = ("go", "forward", "back", "until")


class Commands:
    """``say`` answers one line; it is () where there is nothing to say. ``left`` after ``leave``."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.left = False
        self._last = ""

    def say(self, line: str) -> list[str]:
        """Raises LatchworkError for a line that can't be followed; nothing has changed then."""
        text = line.partition(" # ")[0].strip()
        if text in ("", "again"):
            text = self._last
        if not text or text.startswith("#"):
            return []
        verb, _, rest = text.partition(" ")
        if verb in MOVING:
            self._last = text
        order = getattr(self, f"_{verb}", None) if verb in VERBS else None
        if order is None:
            near = get_close_matches(verb, VERBS, n=2)
            hint = f"near it are {', '.join(near)}" if near else "help lists all words"
            raise LatchworkError(Problem("R505", f'"{verb}" is no word of the debugger', help=hint))
        return list(order(rest.strip()))

    # Moving

    def _stands(self, pause: Pause) -> list[str]:
        named = f"stop {pause.stop}, {pause.reason}" if pause.kind == "stop" else pause.reason
        return [*([named] if named else []), *words.where(self.session)]

    def _go(self, rest: str) -> Iterable[str]:
        if not rest:
            return self._stands(self.session.go())
        return self._stands(self.session.go(_count(rest, ("clocks", "clock"))))

    def _forward(self, rest: str) -> Iterable[str]:
        return self._stands(self.session.forward(*self._far(rest)))

    def _far(self, rest: str) -> tuple[int, str]:
        """``3 steps``, ``clock``, ``2``."""
        found = re.fullmatch(r"(\d*)\s*([a-z]*)", rest)
        usual = "clock" if self.session.machine.instructions is None else UNITS[-1]
        unit = (found[2].removesuffix("s") or usual) if found else ""
        if found is None or unit not in UNITS or found[1] == "0":
            raise _unknown(f'"{rest}" is no distance', "write a number and tick, clock, step or instruction")
        return int(found[1] or 1), unit

    def _until(self, rest: str) -> Iterable[str]:
        kind, what, value = _event(rest)
        if not kind:
            return self._stands(self.session.until(_given(rest)))
        machine = self.session.machine
        if kind == "changed":
            return self._stands(self.session.until_probe(rest, Changed(value_of(machine, what))))
        probe = Access(machine, what, written=kind == "written", value=value)
        return self._stands(self.session.until_probe(rest, probe))

    def _back(self, rest: str) -> Iterable[str]:
        until, _, wanted = rest.partition(" ")
        if until != "until":
            return self._stands(self.session.back(*self._far(rest)))
        return self._stands(self._back_until(_given(wanted.strip())))

    def _back_until(self, wanted: str) -> Pause:
        session = self.session
        kind, what, value = _event(wanted)
        if wanted == "stop":
            return session.back_to_stop()
        if wanted.startswith("at "):
            return session.back_until_at(wanted[3:].strip())
        if kind == "changed":
            return session.back_until_changed(what)
        if kind == "read":
            return session.back_until_read(what)
        if kind == "written":
            return session.back_until_written(what, value)
        return session.back_until(wanted)

    # Stops

    def _stop(self, rest: str) -> Iterable[str]:
        kind, _, what = rest.partition(" ")
        if kind not in ("at", "when"):
            raise _unknown(f'"stop {rest}" is no stop', "write stop at LABEL or stop when CONDITION")
        stop = self._stop_at(_given(what.strip())) if kind == "at" else self._stop_when(_given(what.strip()))
        yield f"  {stop.number}  {stop.text}"

    def _stop_at(self, what: str) -> Stop:
        step = re.fullmatch(r"step\s+(\d+)\s+of\s+(.+)", what)
        if step:
            return self.session.stop_at_step(step[2], int(step[1]))
        if what.startswith("micro "):
            return self.session.stop_at_micro(_number(what[6:]))
        return self.session.stop_at(what)

    def _stop_when(self, what: str) -> Stop:
        kind, place, value = _event(what)
        if what == "trouble":
            return self.session.stop_when_trouble()
        if kind == "changed":
            return self.session.stop_when_changed(place)
        if kind == "read":
            return self.session.stop_when_read(place)
        if kind == "written":
            return self.session.stop_when_written(place, value)
        return self.session.stop_when(what)

    def _stops(self, rest: str) -> Iterable[str]:
        stops = self.session.stops.values()
        return [f"  {stop.number}  {stop.text}" for stop in stops] or ["  no stops"]

    def _forget(self, rest: str) -> Iterable[str]:
        self.session.forget(None if rest == "all" else _number(rest))
        return ()

    # Looking

    def _where(self, rest: str) -> Iterable[str]:
        return words.where(self.session)

    def _show(self, rest: str) -> Iterable[str]:
        names = [name.strip() for name in rest.split(",") if name.strip()]
        if not names:
            names = [name for name, _ in self.session.machine.model.statements.registers]
        return words.shown(self.session, names)

    def _look(self, rest: str) -> Iterable[str]:
        found = re.fullmatch(r"(\S+)\s+(.+?)(?:\s*\.\.\s*(.+))?", rest)
        if not found:
            raise _unknown(f'"look {rest}" names no cells', "write look ram 16..31")
        first = self._address(found[1], found[2])
        last = self._address(found[1], found[3]) if found[3] else first
        if first > last:
            raise _unknown(f"{found[2]}..{found[3]} runs backwards", "write the lower address first")
        return words.cells(self.session, found[1], first, last)

    def _address(self, space: str, text: str) -> int:
        size = len(self.session.machine.memory[space])
        value = self.session[text]
        if value is None or not 0 <= value < size:
            raise LatchworkError(Problem("R504", f'"{text}" lies outside {space}, whose addresses are 0 to {size - 1}'))
        return value

    def _lines(self, rest: str) -> Iterable[str]:
        return words.source(self.session)

    def _trouble(self, rest: str) -> Iterable[str]:
        return words.troubles(self.session)

    def _help(self, rest: str) -> Iterable[str]:
        return HELP.splitlines()

    # Doing

    def _set(self, rest: str) -> Iterable[str]:
        name, value = _setting(rest)
        self.session.set(name, value)
        return ()

    def _put(self, rest: str) -> Iterable[str]:
        name, value = _setting(rest)
        self.session.put(name, value)
        return ()

    def _send(self, rest: str) -> Iterable[str]:
        device, _, text = rest.partition(" ")
        self.session.send(device, _unquoted(text))
        return ()

    def _horizon(self, rest: str) -> Iterable[str]:
        if rest:
            clocks = rest.endswith("clocks")
            count = _count(rest, ("clocks", "megabytes"))
            self.session.limit(clocks=count) if clocks else self.session.limit(megabytes=count)
        return words.horizon(self.session)

    def _leave(self, rest: str) -> Iterable[str]:
        self.left = True
        return ()

    def completions(self, line: str) -> list[str]:
        """What the last word of a line may become."""
        before, _, start = line.rpartition(" ")
        machine = self.session.machine
        known: set[str] = set(VERBS)
        if before:
            netlist = machine.model.netlist
            known = {"at", "when", "until", "changed", "read", "written", "step", "micro", "all", *machine.labels}
            known |= {unit + "s" for unit in UNITS} | {*machine.devices} | {bus.name for bus in netlist.buses}
            known |= {net.name for net in netlist.nets if net.declared} | {line.name for line in netlist.lines}
            known |= {name for name, _ in machine.model.statements.registers}
            known |= {space.name for space in machine.model.statements.spaces}
        return sorted(word for word in known if word.startswith(start))


def _event(text: str) -> tuple[str, str, int | None]:
    """``changed acc``, ``read ram[1]``, ``written ram[1] = 5``; "" where it is none of them."""
    kind, _, what = text.partition(" ")
    if kind not in ("changed", "read", "written") or not what.strip():
        return "", "", None
    place, equals, value = what.partition("=") if kind == "written" else (what, "", "")
    return kind, place.strip(), _number(value) if equals else None


def _setting(text: str) -> tuple[str, int]:
    name, equals, value = text.partition("=")
    if not equals:
        raise _unknown(f'"{text}" sets nothing', "write NAME = N")
    return name.strip(), _number(value)


def _number(text: str) -> int:
    try:
        return int(text.strip(), 0)
    except ValueError:
        raise _unknown(f'"{text.strip()}" is no number', "write 12, 0x1F or 0b101") from None


def _count(text: str, units: tuple[str, ...]) -> int:
    found = re.fullmatch(r"(\d+)\s*([a-z]+)", text)
    if not found or found[2] not in units or int(found[1]) == 0:
        raise _unknown(f'"{text}" is no amount', f"write a number and {' or '.join(units)}")
    return int(found[1])


def _given(text: str) -> str:
    if not text:
        raise _unknown("something is missing", "help lists all words with what they take")
    return text


def _unquoted(text: str) -> bytes:
    """Text as it stands, or between double quotes with \\n, \\r, \\t, \\\\ and \\xNN."""
    text = text.strip()
    if len(text) < 2 or text[0] != '"' or text[-1] != '"':
        return text.encode()
    return re.sub(r"\\(x[0-9a-fA-F]{2}|.)", _meant, text[1:-1]).encode("latin-1", "replace")


_SPECIAL = {"n": "\n", "r": "\r", "t": "\t"}


def _meant(escaped: re.Match[str]) -> str:
    """What stands for ``\\n``, ``\\x1b`` and the like."""
    text = escaped[1]
    return chr(int(text[1:], 16)) if len(text) == 3 else _SPECIAL.get(text, text)


def _unknown(message: str, hint: str) -> LatchworkError:
    return LatchworkError(Problem("R505", message, help=hint))
