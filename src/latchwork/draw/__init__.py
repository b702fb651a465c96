"""Drawings, as SVG and for the terminal."""
