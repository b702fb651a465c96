"""The assembly language. It reads instruction records of the model, never the microprogram's syntax."""
