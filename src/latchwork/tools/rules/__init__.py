"""The rules of latchwork check, one file each."""
