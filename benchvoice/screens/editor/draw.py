"""The whole screen of the editor, drawn from its document: a pure function."""

from __future__ import annotations

import textwrap
from typing import NamedTuple

from benchvoice.screens.cells import Line, filled, fitted, line
from benchvoice.screens.editor.document import Document
from benchvoice.screens.editor.help import help_lines, key_lines
from benchvoice.screens.editor.panel_lines import large_lines, small_lines
from benchvoice.screens.editor.panels import Help
from benchvoice.screens.editor.rows import detail_lines, list_lines, title_line
from benchvoice.sheets.layout import plain

SMALLEST = (60, 16)
"""Columns and lines below which nothing useful can be shown."""

_DETAIL_SHARE = 0.38
_KEY_LINES = 2


class Screen(NamedTuple):
    """Lines above the typed one, and the help of keys below it."""

    above: tuple[Line, ...]
    below: tuple[Line, ...]


def draw(document: Document, width: int, height: int) -> Screen:
    """Draw a document on `width` columns and `height` lines."""
    below = filled(key_lines(document.panel), _KEY_LINES, width)
    room = height - 1 - _KEY_LINES
    if width < SMALLEST[0] or height < SMALLEST[1]:
        text = f"make the window larger: {SMALLEST[0]} columns and {SMALLEST[1]} lines at least"
        return Screen(filled([line(text)], max(1, room), width), below)
    message = _message_lines(document, width)
    body = _body(document, width, room - 1 - len(message))
    above = (title_line(document, width), *body, *message)
    return Screen(above, below)


def _body(document: Document, width: int, height: int) -> tuple[Line, ...]:
    panel = document.panel
    if isinstance(panel, Help):
        lines = help_lines()[panel.top :]
        if len(lines) > height:
            lines = [*lines[: height - 1], line(("class:strong", " more: Down"))]
        return filled(lines, height, width)
    if panel is not None and panel.large:
        return filled(large_lines(panel, document, width, height), height, width)
    lower = max(7, int(height * _DETAIL_SHARE))
    detail = small_lines(panel, document, width) if panel else detail_lines(document, width)
    upper = height - lower
    return (
        *filled(list_lines(document, upper, width), upper, width),
        *filled(detail, lower, width),
    )


def _message_lines(document: Document, width: int) -> tuple[Line, ...]:
    """What was refused, else the words offered while typing, else the last message."""
    panel = document.panel
    if panel is not None and panel.refused:
        return _told(panel.refused, "class:alarm", width)
    if panel is not None and panel.offered:
        return (fitted(line(("class:key", " Tab "), "  ".join(panel.offered)), width),)
    return _told(document.message, "class:alarm" if document.bad else "class:ok", width)


def _told(text: str, style: str, width: int) -> tuple[Line, ...]:
    """A message on one line or two, a blank on each side."""
    lines = textwrap.wrap(plain(text), width - 2) or [""]
    return tuple(line((style, f" {one} ")) if one else line() for one in lines[:2])
