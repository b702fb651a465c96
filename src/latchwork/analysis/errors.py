"""Codes of what the analysis of the wiring can't settle."""

SPACES = {
    "M401": "an address space that is too large",
    "M402": "a chip of a space that is no memory",
    "M403": "an address pin whose level is not known",
    "M404": "a memory that answers nowhere",
    "M405": "a memory that is not on the data nets of its space",
    "M406": "a data pin that reaches two data nets",
    "M407": "two memories at one address",
    "M408": "one cell at two addresses",
    "M409": "chips of one image that need different bytes",
    "M410": "a ROM that is to hold two things at one address",
}
