"""Signals over time, simulated or captured alike."""
