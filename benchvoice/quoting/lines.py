"""Lines for an 80-column terminal, shared by the texts of the quote."""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import wrap

WIDTH = 80


def points(texts: Iterable[str], *, whole_words: bool = False) -> list[str]:
    """Give texts as points, each wrapped behind a dash.

    With `whole_words` a name that is wider than a line stays whole.
    """
    return [
        line
        for text in texts
        for line in wrap(
            text,
            WIDTH,
            initial_indent="- ",
            subsequent_indent="  ",
            break_long_words=not whole_words,
        )
    ]


def note_lines(notes: Iterable[str]) -> list[str]:
    """Give what was left out or is worth a look; nothing when there is none."""
    lines = points(notes)
    return ["", "Left out or worth a look:", *lines] if lines else []
