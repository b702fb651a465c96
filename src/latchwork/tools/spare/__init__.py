"""What is still free on the boards and in the microprogram."""
