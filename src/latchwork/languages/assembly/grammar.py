r"""The grammar of assembly text: tokens, lines, blocks, expressions. All of it stands here; the rest of the package
reads text only with these patterns.

Lines, one statement each; white space separates, a semicolon outside of quotes starts a comment::

    line        = { name ":" } [ statement ] [ ";" comment ]
    statement   = name "=" expression              a constant
                | name ".equ" expression           the same
                | mnemonic operands                the forms are the machine's, from its instruction records
                | directive arguments              a word that begins with a point
                | macro arguments                  separated by commas

Blocks, by the first word of their lines; ``.end`` closes any of them::

    .if expression / .ifdef name / .ifndef name  { .elif expression } [ .else ]  .endif
    .macro name parameters                                                       .endmacro
    .repeat expression [, name]                                                  .endrepeat

Names. ``start`` is a label or constant, ``.next`` a local label of the last label before it, ``start.next`` the same
one from anywhere.

Expressions, as in C: unary ``- + ~ ! < >`` (the last two: low and high byte) bind strongest, then the operators of
``PRECEDENCE``; ``( )`` group. Values::

    10  1_000  $ff  0xff  %1010  0b1010  'a'  '\n'     numbers and characters
    name  .local  label.local                          what a label or constant stands for
    here                                               address of the statement's first word
    low(x) high(x)                                     bits 0 to 7, bits 8 to 15
    defined(name)                                      1 where the name is defined so far, else 0

``%`` is a binary number where a value should stand, and the remainder after a value. Numbers have at most 64 bits.

Marks below the space never stand in a file. ``OPEN`` and ``CLOSE`` stand around an argument that was put into a
macro, so that ``value*2`` with the argument ``a+b`` is twice the sum; ``USE`` tells the uses of a macro apart.
"""

from __future__ import annotations

import re

OPEN, CLOSE, USE = "\x01", "\x02", "\x03"

NAME = r"(?:[A-Za-z_][\w\x03]*(?:\.[A-Za-z_]\w*)*|\.[A-Za-z_]\w*)"
QUOTED = r'"(?:\\.|[^"\\])*"|' + r"'(?:\\.|[^'\\])*'"

name = re.compile(NAME, re.ASCII)
plain_name = re.compile(r"[A-Za-z_]\w*", re.ASCII)
code = re.compile(rf"(?:[^;\"']|{QUOTED}|[\"'])*", re.ASCII)
line = re.compile(rf"\s*(?:({NAME})\s*:)?\s*(?:(\.?[A-Za-z_][\w.\x03]*)\s*)?(.*)", re.ASCII | re.DOTALL)
strange = re.compile(r"[^\t\x20-\x7e\x01-\x03]")
quoted = re.compile(QUOTED)
control = re.compile(r"[\x00-\x08\x0a-\x1f\x7f]")

gap = re.compile(rf"[\s{OPEN}{CLOSE}]*")
value = re.compile(
    rf"[ \t]*(?:(?P<name>{NAME})"
    r"|(?P<number>0[xX][0-9A-Fa-f_]+|0[bB][01_]+|\d[\d_]*|\$[0-9A-Fa-f_]+|%[01_]+)(?P<junk>\w*)"
    rf"|(?P<character>'(?:\\.[^']*|[^'\\])')|(?P<open>[({OPEN}])|(?P<unary>[-+~!<>]))",
    re.ASCII,
)
operator = re.compile(r"[ \t]*(\|\||&&|<<|>>|<=|>=|==|!=|[-+*/%<>&|^])")
simple = re.compile(
    rf"[ \t]*(?:(?P<name>{NAME})|(?P<number>\d+)|\$(?P<hex>[0-9A-Fa-f]+))[ \t]*(?=[,\])\[{CLOSE}]|$)", re.ASCII
)
word = re.compile(r"\w+|\S", re.ASCII)
argument = re.compile(rf"{QUOTED}|[()\[\]]|,|[^\"'()\[\],]+|[\"']", re.ASCII)
escape = re.compile(r"\\(?:x([0-9A-Fa-f]{2})|(.))|([^\\])", re.DOTALL)
ESCAPES = {"n": 10, "r": 13, "t": 9, "0": 0, "e": 27, "\\": 92, '"': 34, "'": 39}

PRECEDENCE = {
    "||": 1,
    "&&": 2,
    "|": 3,
    "^": 4,
    "&": 5,
    "==": 6,
    "!=": 6,
    "<": 7,
    "<=": 7,
    ">": 7,
    ">=": 7,
    "<<": 8,
    ">>": 8,
    "+": 9,
    "-": 9,
    "*": 10,
    "/": 10,
    "%": 10,
}
FUNCTIONS = ("low", "high", "defined")
HERE = "here"

CONDITIONS = (".if", ".ifdef", ".ifndef")
CLOSERS = {".if": ".endif", ".ifdef": ".endif", ".ifndef": ".endif", ".macro": ".endmacro", ".repeat": ".endrepeat"}
END = ".end"
ALTERNATIVES = (".elif", ".else")
STRUCTURE = frozenset({*CLOSERS, *CLOSERS.values(), END, *ALTERNATIVES})
LONGEST_LINE = 2000
