"""What a machine draws, and whether it arrives."""
