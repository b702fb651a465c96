"""Codes of traces."""

TITLES = {
    "R301": "a file is not a value change dump",
    "R302": "a file is not a table of a trace",
}
