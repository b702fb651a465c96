"""One part by itself, in many cases at once: its behaviour as operations on bits, its rounds, its stuck-at faults."""
