"""Codes of sums that cannot be done."""

VALUES = {
    "R611": "a sum that is not known",
    "R612": "a value of a sum that is missing or unknown",
    "R613": "a value of a sum that makes no sense",
}
