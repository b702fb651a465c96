"""The single truth: chips, pins and nets, frozen, with dense numbers."""

from latchwork.netlist.netlist import Assumption, Board, Bus, Chip, ChipId, Line, Net, NetId, Netlist, PinRef

__all__ = ["Assumption", "Board", "Bus", "Chip", "ChipId", "Line", "Net", "NetId", "Netlist", "PinRef"]
