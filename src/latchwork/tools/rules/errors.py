"""Codes of the rules: W1xx read the wiring alone, W2xx the control words too, W3xx currents, levels and
strobes."""

TITLES = {
    "W101": "an input is left open",
    "W102": "an unused gate has open inputs",
    "W103": "nothing drives a net that inputs read",
    "W104": "nothing reads a net",
    "W105": "nothing pulls up an open-collector net",
    "W106": "a supply pin is not on its rail",
    "W107": "an output is tied to a rail",
    "W108": "an output that never lets go shares its net",
    "W109": "only a switch holds a net",
    "W201": "two outputs drive a net in the same step",
    "W202": "two outputs may drive a net in the same step",
    "W203": "a bus is read while nothing drives it",
    "W204": "an opcode is not defined",
    "W205": "a condition is looked at before a flag can have changed it",
    "W301": "an output carries more than it may",
    "W302": "a high level is too low for an input",
    "W303": "a lamp has no resistor",
    "W304": "a part is not made for this supply",
    "W305": "a strobe may glitch, and nothing blanks it",
}
