"""Plain text laid out: ASCII words, wrapped to a width."""

from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Iterable, Sequence

_PLAIN = str.maketrans(
    {
        "\u2013": "-",
        "\u2014": "-",
        "\u2018": "'",
        "\u2019": "'",
        "\u201c": '"',
        "\u201d": '"',
        "\u00b0": " deg ",
        "\u00d7": "x",
        "\u00b5": "u",
        "\u2026": "...",
    }
)


def plain(text: str) -> str:
    """Make text printable ASCII on one line, so that a sheet prints anywhere.

    >>> plain("Z\u00fcrich \u2013 90\u00b0\\t\\x07"), plain("\u65e5")
    ('Zurich - 90 deg', '?')
    """
    spread = unicodedata.normalize("NFKD", text.translate(_PLAIN))
    letters = "".join(char for char in spread if not unicodedata.combining(char))
    ascii_text = letters.encode("ascii", "replace").decode("ascii")
    shown = "".join(char if char.isprintable() else " " for char in ascii_text)
    return " ".join(shown.split())


def wrapped(first: str, text: str, width: int) -> list[str]:
    """Give `text` behind `first`, further lines indented as far."""
    lines = textwrap.wrap(
        plain(text),
        width,
        initial_indent=first,
        subsequent_indent=" " * len(first),
        break_on_hyphens=False,
    )
    return lines or [first.rstrip()]


def marked(mark: str, texts: Iterable[str], width: int) -> list[str]:
    """Give texts, each behind its mark as `wrapped` does."""
    return [line for text in texts for line in wrapped(mark, text, width)]


def titled(title: str, lines: Iterable[str]) -> list[str]:
    """Give a title and its lines with an empty line before; nothing when there are no lines."""
    body = list(lines)
    return ["", title, *body] if body else []


def counted(number: int, one: str, many: str = "") -> str:
    """Say a number with its noun; `many` is the noun with an "s" when it is left out.

    >>> counted(1, "line has", "lines have"), counted(2, "session")
    ('1 line has', '2 sessions')
    """
    return f"{number} {one if number == 1 else many or f'{one}s'}"


def hours(minutes: float) -> str:
    """Say minutes as h:mm, rounded to the nearest minute.

    >>> hours(61.4), hours(0.5), hours(0.4)
    ('1:01', '0:01', '0:00')
    """
    whole = int(minutes + 0.5)
    return f"{whole // 60}:{whole % 60:02d}"


def clock(seconds: float) -> str:
    """Say seconds as h:mm:ss, cut to the second.

    >>> clock(3725.9)
    '1:02:05'
    """
    whole = int(seconds)
    return f"{whole // 3600}:{whole // 60 % 60:02d}:{whole % 60:02d}"


def columns(rows: Sequence[Sequence[str]], width: int) -> list[str]:
    """Lay rows out in columns two blanks apart; all but the first column keep their width.

    The first is cut short where the row would be wider than `width`.
    """
    if not rows:
        return []
    widths = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]
    room = width - sum(widths[1:]) - 2 * (len(widths) - 1)
    widths[0] = max(8, min(widths[0], room))
    lines = []
    for row in rows:
        first = row[0] if len(row[0]) <= widths[0] else row[0][: widths[0] - 3] + "..."
        cells = [first.ljust(widths[0])]
        cells += [cell.rjust(size) for cell, size in zip(row[1:], widths[1:], strict=True)]
        lines.append("  ".join(cells).rstrip())
    return lines
