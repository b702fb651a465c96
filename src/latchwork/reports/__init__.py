"""Frozen result types of all tools."""
