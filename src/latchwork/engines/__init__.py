"""Engines: what makes a netlist run."""
