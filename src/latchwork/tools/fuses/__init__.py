"""Fuse files made of logic, and logic read out of fuse files."""
