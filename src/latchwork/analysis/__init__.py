"""Facts worked out from the netlist and shared by tools."""
