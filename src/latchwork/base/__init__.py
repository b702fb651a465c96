"""Ground floor: source positions, quantities with units, safe files. Imports nothing of Latchwork."""
