"""A table ROM holds its function whatever order its pins are wired in."""

from hypothesis import given
from hypothesis import strategies as st

from latchwork import HIGH, LOW, Machine


def looked_up(contents, address_nets, data_nets, levels):
    """What the chip shows, from its bytes and the level of each net: read pin by pin, as a bench would."""
    address = sum(levels[net] << pin for pin, net in enumerate(address_nets))
    return {net: contents[address] >> pin & 1 for pin, net in enumerate(data_nets)}


@given(st.permutations(range(11)), st.permutations(range(8)), st.integers(0, 15), st.integers(0, 15))
def test_any_order_of_pins(address_order, data_order, a, b):
    m = Machine("wren")
    left, right, product = m.bus("left", 4), m.bus("right", 4), m.bus("product", 8)
    unused = m.net("unused")
    ends = [*left, *right, unused, LOW, HIGH]
    rom = m.chip("28C16", A=[ends[i] for i in address_order], D=[product[i] for i in data_order])
    m.table(rom, lambda a, b: a * b, inputs={"a": left, "b": right}, outputs={"y": product}, any_level=unused)
    netlist, contents = m.netlist(), m.contents()[0]
    levels = {net.index: a >> bit & 1 for bit, net in enumerate(left)}
    levels |= {net.index: b >> bit & 1 for bit, net in enumerate(right)}
    levels |= {netlist.low: 0, netlist.high: 1}
    for either in (0, 1):
        shown = looked_up(contents, netlist.nets_of(0, "A"), netlist.nets_of(0, "D"), levels | {unused.index: either})
        assert sum(shown[net.index] << bit for bit, net in enumerate(product)) == a * b


def test_several_outputs_and_pins_that_nobody_looks_at():
    m = Machine("wren")
    a, low, high = m.bus("a", 4), m.bus("low", 2), m.bus("high", 2)
    rom = m.chip("28C16", A=[*a, *[LOW] * 7], D0=low[0], D1=low[1], D2=high[1], D3=high[0])
    m.table(rom, lambda a: {"high": a >> 2, "low": a & 3}, inputs={"a": a}, outputs={"low": low, "high": high})
    contents = m.contents()[0]
    assert [contents[address] for address in (0b0001, 0b0110, 0b1000)] == [0xF1, 0xFA, 0xF4]
    assert set(contents[16:]) == {0xFF}
    assert m.statements().tables[0].outputs[0][0] == "low"
