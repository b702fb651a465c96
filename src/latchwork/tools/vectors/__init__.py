"""A short test for a chip in hand: vectors that show every stuck-at fault that can be seen at the pins."""
