"""Pages of the mistakes that end the fitting of a microprogram to its wiring and that a builder is likely to meet.

They stand beside the pages of the rules: to the reader of ``latchwork explain`` both are findings.
"""
