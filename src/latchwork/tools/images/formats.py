"""Images as files: raw binary, Intel HEX (object file format of 1988) and Motorola S-records. Same bytes, same file."""

from __future__ import annotations

from collections.abc import Callable

_BYTES_A_RECORD = 16


def binary(content: bytes) -> bytes:
    """The bytes themselves."""
    return content


def intel_hex(content: bytes) -> bytes:
    """Data records of 16 bytes from address 0, an end record; lines end with a line feed."""
    from bincopy import BinFile

    image = BinFile()
    image.add_binary(content)
    return str(image.as_ihex(number_of_data_bytes=_BYTES_A_RECORD)).encode("ascii")


def s_records(content: bytes) -> bytes:
    """Data records of 16 bytes with addresses of two bytes, three above 64 KiB; a count and an end record."""
    from bincopy import BinFile

    image = BinFile()
    image.add_binary(content)
    bits = 16 if len(content) <= 1 << 16 else 24
    image.execution_start_address = 0
    return str(image.as_srec(number_of_data_bytes=_BYTES_A_RECORD, address_length_bits=bits)).encode("ascii")


FORMATS: dict[str, Callable[[bytes], bytes]] = {"bin": binary, "hex": intel_hex, "s19": s_records}
"""End of the file name -> how its bytes are made."""
