"""Small sums that a builder keeps needing: times of resistors and capacitors, lamps, pulls, dividers."""
