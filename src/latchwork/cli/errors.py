"""Codes of the command line."""

TITLES = {
    "C101": "the call is not one that Latchwork knows",
    "C102": "a file that Latchwork did not write stands in the way",
    "C103": "a file that Latchwork wrote was changed since",
    "C104": "a file can't be read or written",
    "C105": "no problem has this code",
    "C106": "a new machine needs a place of its own",
    "C107": "a name is not fit for a machine",
    "C120": "no part has this name",
    "C121": "a part that test vectors don't suit",
    "C900": "a mistake in Latchwork itself",
}
