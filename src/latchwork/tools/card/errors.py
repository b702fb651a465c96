"""Codes of reference cards."""

TITLES = {"R401": "a machine without instructions has no reference card"}
