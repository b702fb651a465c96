"""The codes of trouble with netlists and their text form, with their titles."""

CODES = {
    "M201": "a netlist that contradicts itself",
    "M202": "a part that contradicts itself",
    "M210": "not a saved netlist",
    "M211": "a line of a saved netlist that says nothing known",
    "M212": "a line of a saved netlist with the wrong words",
}
