"""The reference card of a machine's instruction set."""
