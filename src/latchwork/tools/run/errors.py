"""Codes of runs."""

TITLES = {
    "R101": "the machine has nothing of this name",
    "R102": "nothing sets this net by hand",
    "R103": "a value does not fit",
    "R104": "a run is to stop at something that does not exist",
    "R105": "the machine says nowhere when it has halted",
    "R106": "the machine has no such memory or address",
    "R107": "the machine can't be run by compiled code",
    "R108": "the images were burned with another program",
}
