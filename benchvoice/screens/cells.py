"""Lines of styled text, cut and filled to the columns of a terminal.

A line is what prompt_toolkit draws: (style, text) fragments.  All text that
comes from outside passes `plain`, so that one character is one column.
"""

from __future__ import annotations

from collections.abc import Iterable

from prompt_toolkit.formatted_text import StyleAndTextTuples

from benchvoice.sheets.layout import plain, wrapped

Fragment = tuple[str, str]
Line = tuple[Fragment, ...]

_METER, _QUIETEST = 10, -60.0
"""Columns of a meter, and the level in dBFS at which it is empty."""
MORE = "~"
"""Stands at the end of a text that was cut."""


def line(*pieces: Fragment | str) -> Line:
    """Make a line of fragments; bare text has no style."""
    return tuple(("", piece) if isinstance(piece, str) else piece for piece in pieces)


def text_of(one: Line) -> str:
    """Give a line without its styles."""
    return "".join(text for _, text in one)


def cut(text: str, width: int) -> str:
    """Cut a text to `width` columns, marked where it was.

    >>> cut("front cover", 6), cut("front", 6)
    ('front~', 'front')
    """
    if len(text) <= width:
        return text
    return text[: width - 1] + MORE if width > 0 else ""


def cell(text: str, width: int) -> str:
    """Cut a text to `width` columns and fill it up with blanks."""
    return cut(text, width).ljust(width)


def fitted(one: Line, width: int, fill: str | None = None) -> Line:
    """Cut a line to `width` columns; with the style `fill`, fill it up in that."""
    done: list[Fragment] = []
    left = width
    for style, text in one:
        if len(text) > left:
            done.append((style, cut(text, left)))
            left = 0
            break
        done.append((style, text))
        left -= len(text)
    if fill is not None and left > 0:
        done.append((fill, " " * left))
    return tuple(done)


def paragraph(first: str, text: str, width: int, style: str = "") -> list[Line]:
    """Give wrapped text behind `first`, further lines indented as far."""
    return [line((style, one)) for one in wrapped(first, text, max(width, len(first) + 8))]


def filled(lines: Iterable[Line], height: int, width: int) -> tuple[Line, ...]:
    """Cut lines to a block of exactly `height` lines, none wider than `width`."""
    taken = [fitted(one, width) for one in lines][:height]
    return (*taken, *(line() for _ in range(height - len(taken))))


def meter(level: float) -> str:
    """Draw a level in dBFS as a bar, from -60 to 0.

    >>> meter(-30.0), meter(-96.0)
    ('#####-----', '----------')
    """
    share = (level - _QUIETEST) / -_QUIETEST
    full = max(0, min(_METER, round(_METER * share)))
    return "#" * full + "-" * (_METER - full)


def rule(title: str, width: int, right: str = "") -> Line:
    """Give a line of dashes with a title in it, and a text at its right end."""
    head = f"-- {plain(title)} " if title else ""
    tail = f" {right} --" if right else ""
    head = cut(head, width - len(tail))
    return line(
        ("class:rule", head + "-" * max(0, width - len(head) - len(tail))), ("class:rule", tail)
    )


def fragments(lines: Iterable[Line]) -> StyleAndTextTuples:
    """Give lines as one text of prompt_toolkit."""
    done: StyleAndTextTuples = []
    for number, one in enumerate(lines):
        done += [("", "\n")] if number else []
        done += one
    return done
