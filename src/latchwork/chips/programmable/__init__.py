"""Devices whose logic is set by fuses."""
