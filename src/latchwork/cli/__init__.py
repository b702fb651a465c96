"""The commands, one thin file each."""
