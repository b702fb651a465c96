"""Codes of the debugger."""

TITLES = {
    "R301": "a condition that can't be read",
    "R302": "farther back than the horizon",
    "R303": "nothing of the kind happened within the horizon",
    "R304": "there is no such place to stop at",
    "R305": "a word that the debugger does not know",
    "R306": "no stop has this number",
}
