"""Codes of ROM images."""

TITLES = {
    "I101": "a line of an image file is no record",
    "I102": "a record is shorter or longer than it says",
    "I103": "the checksum of a record is wrong",
    "I104": "a record is of a type that does not exist",
    "I105": "two records hold the same addresses",
    "I106": "an image file breaks off before its end record",
    "I107": "an address lies beyond every ROM",
    "I108": "an image file holds nothing",
    "I109": "the count record does not count the data records",
    "I110": "an image file can't be read",
    "I111": "something stands behind the end record",
    "I120": "an image does not have the size of the chip",
    "I121": "no ROM of the machine has contents",
    "I122": "the machine has no such ROM",
    "I123": "an image belongs to no chip of the control store",
    "I124": "the machine has no microprogram",
    "I125": "an image that is to be run is not there",
    "I126": "files of one chip that differ",
    "I127": "nothing says what a ROM is to hold",
}
