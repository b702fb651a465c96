"""How fast a machine may be clocked."""
