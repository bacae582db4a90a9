"""Words in letters three lines high, to be read from across the bench.

Each letter is five dots high and mostly three wide; two rows of dots share a
line as half blocks.
"""

from __future__ import annotations

import textwrap

from benchvoice.screens.cells import Line, line

HEIGHT = 3
"""Lines that a row of letters takes."""

_DOTS = {
    "A": ".#. #.# ### #.# #.#", "B": "##. #.# ##. #.# ##.", "C": ".## #.. #.. #.. .##",
    "D": "##. #.# #.# #.# ##.", "E": "### #.. ##. #.. ###", "F": "### #.. ##. #.. #..",
    "G": ".## #.. #.# #.# .##", "H": "#.# #.# ### #.# #.#", "I": "### .#. .#. .#. ###",
    "J": "..# ..# ..# #.# .#.", "K": "#.# #.# ##. #.# #.#", "L": "#.. #.. #.. #.. ###",
    "M": "#...# ##.## #.#.# #...# #...#", "N": "#..# ##.# #.## #..# #..#",
    "O": ".#. #.# #.# #.# .#.", "P": "##. #.# ##. #.. #..", "Q": ".#. #.# #.# .#. ..#",
    "R": "##. #.# ##. #.# #.#", "S": ".## #.. .#. ..# ##.", "T": "### .#. .#. .#. .#.",
    "U": "#.# #.# #.# #.# ###", "V": "#.# #.# #.# #.# .#.", "W": "#...# #...# #.#.# ##.## #...#",
    "X": "#.# #.# .#. #.# #.#", "Y": "#.# #.# .#. .#. .#.", "Z": "### ..# .#. #.. ###",
    "0": "### #.# #.# #.# ###", "1": ".#. ##. .#. .#. ###", "2": "### ..# ### #.. ###",
    "3": "### ..# ### ..# ###", "4": "#.# #.# ### ..# ..#", "5": "### #.. ### ..# ###",
    "6": "### #.. ### #.# ###", "7": "### ..# ..# ..# ..#", "8": "### #.# ### #.# ###",
    "9": "### #.# ### ..# ###", "-": ".. .. ## .. ..", ".": ". . . . #", ",": ".. .. .. .# #.",
    "/": "..# ..# .#. #.. #..", ":": ". # . # .", "'": "# # . . .", "?": "### ..# .#. ... .#.",
    " ": ".. .. .. .. ..",
}  # fmt: skip
_BLOCKS = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}


def big_width(text: str) -> int:
    """Give the columns that a text takes in big letters."""
    return sum(len(_rows(letter)[0]) + 1 for letter in text)


def big_lines(text: str, width: int, rows: int, style: str = "class:strong") -> list[Line] | None:
    """Give a text in big letters on at most `rows` rows of them; None when it does not fit.

    As few rows as can be; two are parted at a colon, or are of about the same length.
    """
    text = text.upper()
    head, colon, tail = text.partition(": ")
    splits = [[head + ":", tail]] if colon else []
    for narrow in range(1, len(text) + 1):
        splits.append(textwrap.wrap(text, narrow, break_long_words=False))
    fitting = [
        split
        for split in splits
        if len(split) <= rows and all(big_width(one) <= width for one in split)
    ]
    if not fitting:
        return None
    best = min(fitting, key=len)
    return [one for words in best for one in _big_row(words, style)]


def _big_row(words: str, style: str) -> list[Line]:
    letters = [_rows(letter) for letter in words]
    dots = ["".join(letter[at] + "." for letter in letters) for at in range(5)]
    dots.append("." * len(dots[0]))
    return [
        line(
            (style, "".join(_BLOCKS[up == "#", low == "#"] for up, low in zip(*pair, strict=True)))
        )
        for pair in ((dots[0], dots[1]), (dots[2], dots[3]), (dots[4], dots[5]))
    ]


def _rows(letter: str) -> list[str]:
    return _DOTS.get(letter.upper(), _DOTS["?"]).split()
