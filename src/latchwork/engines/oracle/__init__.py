"""The oracle: plain, four values, the definition of what a netlist does."""
