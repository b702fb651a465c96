"""The second pass: every name has its value now; values become words at their addresses."""

from __future__ import annotations

from latchwork.languages.assembly.errors import Refusal, too_deep
from latchwork.languages.assembly.expressions import Name
from latchwork.languages.assembly.forms import Form, Value
from latchwork.languages.assembly.items import Claim, Code, Data, Item, Raw
from latchwork.languages.assembly.layout import Layout
from latchwork.languages.assembly.names import Definition, View, shown
from latchwork.model import OperandKind
from latchwork.problems import Label

Words = tuple[int, ...]


class Encoder:
    """``words``: by space and address; ``made``: the words of each item."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.words: dict[str, dict[int, int]] = {place.space: {} for place in layout.target.places}
        self.made: list[Words] = []
        self.owners: dict[str, dict[int, Item]] = {place.space: {} for place in layout.target.places}

    def run(self) -> None:
        """Encodes all items; what can't be encoded is a problem."""
        self._constants()
        for item in self.layout.items:
            words: Words = ()
            try:
                words = self._encoded(item)
                self._store(item, words)
            except Refusal as refusal:
                self.layout.report(item.where, refusal)
            self.made.append(words)

    def _constants(self) -> None:
        """Works out the constants that wait for names, so that what is wrong is said once and at its place."""
        for definition in list(self.layout.names.defined.values()):
            if definition.value is None and definition.expression and not definition.broken:
                try:
                    definition.value = self._constant(definition)
                except Refusal as refusal:
                    definition.broken = True
                    self.layout.report(definition.where, refusal)

    def _constant(self, definition: Definition) -> int:
        assert definition.expression
        try:
            return definition.expression.value(View(self.layout.names, definition.where.scope, definition.here))
        except RecursionError:
            raise too_deep(definition.column) from None

    def _encoded(self, item: Item) -> Words:
        view = View(self.layout.names, item.where.scope, item.address)
        try:
            if isinstance(item, Code):
                return instruction_words(item, view)
            if isinstance(item, Data):
                return _data_words(item, view)
            if isinstance(item, Raw):
                return _raw_words(item)
            return _checked(item, view)
        except RecursionError:
            raise too_deep(item.where.line.column) from None

    def _store(self, item: Item, words: Words) -> None:
        space, address = item.place.space, item.address
        memory, owners = self.words[space], self.owners[space]
        for offset, word in enumerate(words):
            if address + offset in memory:
                raise _overlap(item, owners, address + offset)
            memory[address + offset] = word
        if words:
            owners[address] = item


def _overlap(item: Item, owners: dict[int, Item], address: int) -> Refusal:
    line = item.where.line
    first = owners[max(start for start in owners if start <= address)]
    label = Label(first.where.position(first.where.line.word_column), "first filled here")
    return Refusal("A152", f"address ${address:x} is filled twice", line.word_column, "look at `.org`", [label])


def instruction_words(item: Code, view: View) -> Words:
    """The code of an instruction. Raises Refusal."""
    form = item.form
    values = [
        operand if isinstance(operand, int) else _operand(item, kind, operand, view)
        for kind, operand in zip(form.kinds, item.operands, strict=True)
    ]
    return coded(form, values)


def coded(form: Form, values: list[int]) -> Words:
    """The words of a form with these operand values."""
    words = []
    for base, pieces in form.code:
        word = base
        for operand, low, mask, shift in pieces:
            word |= (values[operand] >> low & mask) << shift
        words.append(word)
    return tuple(words)


def _operand(item: Code, kind: OperandKind, operand: Value, view: View) -> int:
    assert not isinstance(operand, int)
    value = operand.expression.value(view)
    if kind.relative:
        distance = value - item.address - len(item.form.code)
        if not kind.low <= distance <= kind.high:
            raise _too_far(kind, distance, operand, value)
        return distance
    if not kind.low <= value <= kind.high:
        message = f"{_valued(operand, value)} does not fit: `{kind.name}` goes from {kind.low} to {kind.high}"
        raise Refusal("A131", message, operand.column)
    return value


def _valued(operand: Value, value: int) -> str:
    """The value, with the name that stands for it."""
    name = None if isinstance(operand, int) else operand.expression
    return f"`{shown(name.name)}` is {value}, which" if isinstance(name, Name) else f"{value}"


def _too_far(kind: OperandKind, distance: int, operand: Value, value: int) -> Refusal:
    assert not isinstance(operand, int)
    over = distance - kind.high if distance > kind.high else kind.low - distance
    target = f"`{shown(operand.expression.name)}`" if isinstance(operand.expression, Name) else f"${value:x}"
    message = f"{target} is {distance:+d} from the next instruction; the reach is {kind.low:+d} to {kind.high:+d}"
    return Refusal("A132", message, operand.column, f"bring it nearer by {over}, or jump there in two steps")


def _data_words(item: Data, view: View) -> Words:
    words: list[int] = []
    mask = (1 << item.place.bits) - 1
    least, most = -(1 << item.bits - 1), (1 << item.bits) - 1
    shifts = [unit * item.place.bits for unit in range(item.units)]
    for expression, column in item.values:
        value = expression.value(view)
        if not least <= value <= most:
            raise Refusal("A155", f"{value} does not fit into {item.bits} bits", column, f"{least} to {most} do")
        words += [value >> shift & mask for shift in (reversed(shifts) if item.big else shifts)]
    return tuple(words)


def _raw_words(item: Raw) -> Words:
    bits = item.place.bits
    too_large = [byte for byte in item.words if byte >> bits] if bits < 8 else []
    if too_large:
        message = f"the file has the byte ${too_large[0]:x}, which does not fit into {bits} bits"
        help = f"a word of `{item.place.name}` has {bits} bits: 0 to {(1 << bits) - 1}"
        raise Refusal("A155", message, item.where.line.column, help)
    return tuple(item.words)


def _checked(item: Claim, view: View) -> Words:
    if not item.expression.value(view):
        line = item.where.line
        raise Refusal("A160", item.message or f"this does not hold: `{line.rest}`", line.column)
    return ()
