"""Codes of the debugger."""

TITLES = {
    "R501": "a condition that can't be read",
    "R502": "farther back than the horizon",
    "R503": "nothing of the kind happened within the horizon",
    "R504": "there is no such place to stop at",
    "R505": "a word that the debugger does not know",
    "R506": "no stop has this number",
}
