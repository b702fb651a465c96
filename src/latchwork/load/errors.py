"""The codes of trouble with reading a machine, with their titles."""

CODES = {
    "M101": "no machine there",
    "M102": "machine.py makes no machine",
    "M103": "machine.py makes several machines",
    "M104": "machine.py is not Python",
    "M105": "machine.py fails",
    "M106": "machine.py stops by itself",
    "M107": "machine.py cannot be read",
    "M108": "an image file cannot be read",
    "M109": "an image file is larger than its chip",
    "M110": "this is not a saved model",
    "M111": "a control store that forgets",
    "M112": "the record of what the ROMs hold can't be read",
    "M113": "the microprogram is not there",
}
