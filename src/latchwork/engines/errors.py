"""The codes of machines that no engine can put under power, with their titles."""

CODES = {
    "R201": "a timer without a usable time",
    "R202": "contents that do not fit their memory",
    "R203": "a device failed",
    "R204": "devices that answer each other without end",
}
