"""Words back into text that gives the same words when it is assembled."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from latchwork.languages.assembly import grammar
from latchwork.languages.assembly.encode import coded
from latchwork.languages.assembly.errors import Refusal
from latchwork.languages.assembly.forms import Form, forms_of, matched, reserved_words
from latchwork.languages.assembly.program import Program
from latchwork.languages.assembly.target import Place, Target
from latchwork.model import OperandKind


class Disassembled(NamedTuple):
    """An instruction, or words that are none (``form`` None). ``label``: the name of its address."""

    address: int
    words: tuple[int, ...]
    text: str
    form: Form | None = None
    label: str = ""


class _Decoded(NamedTuple):
    form: Form
    values: list[int]


@dataclass
class Disassembler:
    """Knows the instruction codes of a machine."""

    target: Target
    _known: dict[int, list[Form]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.reserved = reserved_words(self.target.instructions)
        self.by_mnemonic = forms_of(self.target.instructions)
        forms = [form for same in self.by_mnemonic.values() for form in same]
        self.forms = sorted(forms, key=lambda form: -_fixed_bits(form))

    def decoded(self, words: Mapping[int, int], address: int) -> _Decoded | None:
        """The instruction that begins at the address: the one with the most fixed bits of those that fit."""
        first = words.get(address)
        if first is None:
            return None
        if first not in self._known:
            self._known[first] = [form for form in self.forms if form.code and _fits(form, 0, first)]
        for form in self._known[first]:
            values = _values(form, [words.get(address + offset) for offset in range(len(form.code))])
            if values is not None:
                return _Decoded(form, values)
        return None

    def run(
        self,
        words: Mapping[int, int],
        place: Place,
        labels: Mapping[int, str] | None = None,
        taken: Collection[str] = (),
    ) -> list[Disassembled]:
        """All words of a section, in the order of addresses. ``labels``: known names of addresses; ``taken``: names
        that stand for something else."""
        found = list(self._sweep({a: w for a, w in words.items() if place.start <= a < place.end}))
        starts = {address for address, _, _ in found}
        names = {a: n for a, n in (labels or {}).items() if a in starts and self._usable(n)}
        for address, _, decoded in found:
            for target in _targets(decoded, address, place):
                made = f"{place.name}_{target:04x}"
                if target in starts and made not in taken:
                    names.setdefault(target, made)
        names = _unique(names)
        shown = (self._shown(address, piece, decoded, names, place) for address, piece, decoded in found)
        return [one for group in shown for one in group]

    def _shown(
        self,
        address: int,
        words: tuple[int, ...],
        decoded: _Decoded | None,
        names: Mapping[int, str],
        place: Place,
    ) -> list[Disassembled]:
        """The instruction, or its words as data where the text would be read as another one."""
        label = names.get(address, "")
        text = _instruction(decoded, address, names, place) if decoded else ""
        if decoded and self._read_alike(decoded.form, text):
            return [Disassembled(address, words, text, decoded.form, label)]
        return [
            Disassembled(address + offset, (word,), f".byte   {_hex(word)}", None, "" if offset else label)
            for offset, word in enumerate(words)
        ]

    def _read_alike(self, form: Form, text: str) -> bool:
        mnemonic, _, rest = text.partition(" ")
        try:
            return matched(self.by_mnemonic[mnemonic.lower()], rest.strip(), 1, self.reserved)[0] is form
        except Refusal:
            return False

    def _usable(self, name: str) -> bool:
        full = grammar.name.fullmatch(name)
        return bool(full) and name[0] != "." and name.lower() not in (*self.reserved, *grammar.FUNCTIONS, grammar.HERE)

    def _sweep(self, words: Mapping[int, int]) -> Iterator[tuple[int, tuple[int, ...], _Decoded | None]]:
        after = -1
        for address in sorted(words):
            if address < after:
                continue
            decoded = self.decoded(words, address)
            length = len(decoded.form.code) if decoded else 1
            after = address + length
            yield address, tuple(words[address + offset] for offset in range(length)), decoded


def _unique(names: Mapping[int, str]) -> dict[int, str]:
    taken: dict[str, int] = {}
    for address, name in names.items():
        taken.setdefault(name, address)
    return {address: name for address, name in names.items() if taken[name] == address}


def _fixed_bits(form: Form) -> int:
    """How many code bits the form fixes; bits of words that an operand may be count half."""
    total = 0
    for run in (run for word in form.instruction.code for run in word):
        total += 2 * run.width if not run.operand else 0
        total += sum(run.width for o in form.instruction.operands if o.name == run.operand and o.kind.choices)
    return total


def _fits(form: Form, index: int, word: int) -> bool:
    base, pieces = form.code[index]
    free = sum(piece.mask << piece.shift for piece in pieces)
    return word & ~free == base


def _values(form: Form, words: list[int | None]) -> list[int] | None:
    """The values of the operands, where the words are those of the form."""
    bits = [0] * len(form.kinds)
    whole: list[int] = []
    for index, word in enumerate(words):
        if word is None or not _fits(form, index, word):
            return None
        whole.append(word)
        for operand, low, mask, shift in form.code[index][1]:
            bits[operand] |= (word >> shift & mask) << low
    values = [_value(kind, code) for kind, code in zip(form.kinds, bits, strict=True)]
    known = [value for value in values if value is not None]
    return known if len(known) == len(values) and list(coded(form, known)) == whole else None


def _value(kind: OperandKind, bits: int) -> int | None:
    """The value in the operand's range with these bits; for a word, that there is one."""
    if kind.choices:
        return bits if any(code == bits for _, code in kind.choices) else None
    for value in (bits, bits - (1 << kind.bits)):
        if kind.low <= value <= kind.high:
            return value
    return None


# ---- writing


def _targets(decoded: _Decoded | None, address: int, place: Place) -> Iterator[int]:
    """Addresses of which an instruction speaks."""
    if decoded:
        for kind, value in zip(decoded.form.kinds, decoded.values, strict=True):
            if kind.relative:
                yield address + len(decoded.form.code) + value
            elif _is_address(kind, place):
                yield value


def _is_address(kind: OperandKind, place: Place) -> bool:
    """Whether a number is as wide as an address of the space; a guess, and harmless where it is wrong."""
    return not kind.choices and kind.low >= 0 and kind.bits >= place.address_bits


def _instruction(decoded: _Decoded, address: int, names: Mapping[int, str], place: Place) -> str:
    form = decoded.form
    operands = {
        operand.name: _operand(operand.kind, value, address + len(form.code), names, place)
        for operand, value in zip(form.instruction.operands, decoded.values, strict=True)
    }
    return _written(form, operands)


def _operand(kind: OperandKind, value: int, after: int, names: Mapping[int, str], place: Place) -> str:
    if kind.choices:
        return next(name for name, code in kind.choices if code == value)
    if kind.relative:
        return names.get(after + value) or _hex(after + value)
    if _is_address(kind, place) and value in names:
        return names[value]
    return str(value) if -10 < value < 10 else _hex(value)


def _hex(value: int) -> str:
    return f"${value:02x}" if value >= 0 else f"-${-value:02x}"


def _written(form: Form, operands: Mapping[str, str]) -> str:
    pieces = [operands[item.text] if item.operand else item.text for item in form.instruction.syntax]
    text = " ".join(pieces)
    for tight in (" ,", " ]", " )"):
        text = text.replace(tight, tight[1])
    for tight in ("# ", "[ ", "( "):
        text = text.replace(tight, tight[0])
    return f"{form.instruction.mnemonic:<7} {text}".rstrip()


def disassembled(program: Program, target: Target) -> str:
    """A program as text that assembles to the same words, section by section, with its own labels."""
    parts = Disassembler(target)
    names = [symbol.name for symbol in program.symbols]
    lines: list[str] = []
    left = {space: dict(words) for space, words in program.words.items()}
    for place in target.places:
        labels = {symbol.value: symbol.name for symbol in program.symbols if symbol.space == place.space}
        found = parts.run(left.get(place.space, {}), place, labels, names)
        for one in found:
            for offset in range(len(one.words)):
                del left[place.space][one.address + offset]
        lines += as_source(found, place)
    return "\n".join(lines) + "\n"


def as_source(found: list[Disassembled], place: Place) -> list[str]:
    """Lines of text for the assembler."""
    if not found:
        return []
    lines, after = [f"        .section {place.name}"], -1
    for one in found:
        if one.address != after:
            lines.append(f"        .org    ${one.address:04x}")
        if one.label:
            lines.append(f"{one.label}:")
        lines.append(f"        {one.text}")
        after = one.address + len(one.words)
    return lines
