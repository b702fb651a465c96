"""Codes of what stops ``latchwork timing``."""

TIMING = {
    "R601": "a machine without a main clock",
}
