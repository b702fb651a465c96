"""The pipeline: machine.py, *.micro, *.asm to a Model."""
