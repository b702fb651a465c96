"""The numbering of fuses against the published one.

Sources: row starts and architecture fuses in the logic diagrams of the data sheets GAL16V8 (SYN 2192, AC0 2193, XOR
2048 to 2055, AC1 2120 to 2127, signature 2056 to 2119, term enables 2128 to 2191), GAL20V8 (SYN 2704, AC0 2705, XOR
2560 to 2567, AC1 2632 to 2639) and GAL22V10 (asynchronous reset 0000, synchronous preset 5764, S0 5808 and S1 5809 of
the first macrocell, signature 5828 to 5891), Lattice Semiconductor; from memory.
"""

import pytest

from latchwork.fuses.device import DEVICES, V16, V20, V22, Device, Mode, cells, columns, mode_fuses, mode_of

MODES = [(V16, mode) for mode in (Mode.SIMPLE, Mode.COMPLEX, Mode.REGISTERED)]
MODES += [(V20, mode) for _, mode in MODES] + [(V22, Mode.ONLY)]


def test_array_sizes() -> None:
    assert [device.array for device in (V16, V20, V22)] == [2048, 2560, 5808]
    assert [device.sizes for device in (V16, V20, V22)] == [(2194,), (2706,), (5892, 5828)]


def test_architecture_fuses_of_the_16v8_and_20v8() -> None:
    assert (V16.syn, V16.ac0, V16.term_enables, V16.signature) == (2192, 2193, 2128, range(2056, 2120))
    assert (V20.syn, V20.ac0, V20.term_enables, V20.signature) == (2704, 2705, 2640, range(2568, 2632))
    for device, polarity, kind in ((V16, 2048, 2120), (V20, 2560, 2632)):
        found = cells(device, Mode.SIMPLE)
        assert [cell.polarity for cell in found] == list(range(polarity, polarity + 8))
        assert [cell.kind for cell in found] == list(range(kind, kind + 8))
        assert [cell.rows.start * device.columns for cell in found] == [8 * device.columns * n for n in range(8)]


def test_macrocells_of_the_22v10() -> None:
    found = cells(V22, Mode.ONLY)
    assert [cell.pin for cell in found] == [23, 22, 21, 20, 19, 18, 17, 16, 15, 14]
    assert [len(cell.rows) for cell in found] == [8, 10, 12, 14, 16, 16, 14, 12, 10, 8]
    starts = [V22.row(cell.enable_row).start for cell in found]
    assert starts == [44, 440, 924, 1496, 2156, 2904, 3652, 4312, 4884, 5368]
    assert (V22.row(V22.reset_row).start, V22.row(V22.preset_row).start) == (0, 5764)
    assert [(cell.polarity, cell.kind) for cell in found] == [(5808 + 2 * n, 5809 + 2 * n) for n in range(10)]
    assert V22.signature == range(5828, 5892)


def test_columns_of_the_22v10() -> None:
    published = [1, 23, 2, 22, 3, 21, 4, 20, 5, 19, 6, 18, 7, 17, 8, 16, 9, 15, 10, 14, 11, 13]
    assert columns(V22, Mode.ONLY) == {pin: 2 * index for index, pin in enumerate(published)}


@pytest.mark.parametrize(
    ("device", "mode", "published"),
    [
        (V16, Mode.SIMPLE, [2, 1, 3, 19, 4, 18, 5, 17, 6, 14, 7, 13, 8, 12, 9, 11]),
        (V16, Mode.COMPLEX, [2, 1, 3, 18, 4, 17, 5, 16, 6, 15, 7, 14, 8, 13, 9, 11]),
        (V16, Mode.REGISTERED, [2, 19, 3, 18, 4, 17, 5, 16, 6, 15, 7, 14, 8, 13, 9, 12]),
        (V20, Mode.SIMPLE, [2, 1, 3, 23, 4, 22, 5, 21, 6, 20, 7, 17, 8, 16, 9, 15, 10, 14, 11, 13]),
        (V20, Mode.COMPLEX, [2, 1, 3, 23, 4, 21, 5, 20, 6, 19, 7, 18, 8, 17, 9, 16, 10, 14, 11, 13]),
        (V20, Mode.REGISTERED, [2, 23, 3, 22, 4, 21, 5, 20, 6, 19, 7, 18, 8, 17, 9, 16, 10, 15, 11, 14]),
    ],
)
def test_columns_of_the_devices_with_modes(device: Device, mode: Mode, published: list[int]) -> None:
    assert columns(device, mode) == {pin: 2 * index for index, pin in enumerate(published)}


@pytest.mark.parametrize(("device", "mode"), MODES)
def test_every_row_has_one_use_and_every_column_a_pin(device: Device, mode: Mode) -> None:
    registered = frozenset(device.outputs) if mode is Mode.REGISTERED else frozenset[int]()
    rows = [device.reset_row, device.preset_row] if device is V22 else []
    for cell in cells(device, mode, registered):
        rows += [*cell.rows, *([cell.enable_row] if cell.enable_row >= 0 else [])]
    assert sorted(rows) == list(range(device.rows))
    assert sorted(columns(device, mode).values()) == list(range(0, device.columns, 2))


def test_modes_are_set_by_two_fuses() -> None:
    for device, mode in MODES[:6]:
        fuses = ["0"] * device.sizes[0]
        for fuse, level in mode_fuses(device, mode).items():
            fuses[fuse] = str(level)
        assert mode_of(device, "".join(fuses)) is mode
    assert mode_of(V16, "0" * 2194) is None
    assert set(DEVICES) == {"16V8", "20V8", "22V10"}
