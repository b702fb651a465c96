"""What machine.py is written with."""
