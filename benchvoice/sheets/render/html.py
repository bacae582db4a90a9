"""A sheet as one self-contained page for a tablet and for paper.

The page has no script and loads nothing; what was said or typed is escaped by
Jinja2.  Clips are played by the browser.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from itertools import groupby
from typing import TYPE_CHECKING

from benchvoice.sheets.head import SheetHead
from benchvoice.sheets.kinds import Sheet
from benchvoice.sheets.layout import hours
from benchvoice.sheets.reassembly import Fit
from benchvoice.sheets.render import words
from benchvoice.sheets.render.pages import page_environment
from benchvoice.sheets.said import day_of, time_of

if TYPE_CHECKING:
    from jinja2 import Environment

ClipAddress = Callable[[str | None], str | None]
"""Gives the address (a data or relative URL) to play a clip from; None when there is none."""


def no_clips(clip: str | None) -> str | None:
    """A page without sound."""
    return None


def html_of(sheet: Sheet, clips: ClipAddress = no_clips) -> str:
    """Give the page of a sheet; `clips` says where each clip is played from."""
    head = sheet.head
    template = _environment().get_template(f"{head.sheet}.html.j2")
    return template.render(
        sheet=sheet,
        head=head,
        title=" - ".join(filter(None, [head.title, head.name, head.unit, head.serial])),
        running=css_text(_running(head)),
        clip=clips,
    )


def css_text(text: str) -> str:
    r"""Give a CSS string (CSS Syntax Level 3, escapes); all but plain letters are escaped.

    >>> print(css_text("a</style>"))
    "a\00003c\00002fstyle\00003e"
    """
    plain = "".join(
        char if char.isascii() and char.isalnum() else f"\\{ord(char):06x}" for char in text
    )
    return f'"{plain}"'


def _running(head: SheetHead) -> str:
    """What stands on every printed page, so that a loose one finds its job again."""
    fields = [("job", head.name), ("unit", head.unit), ("serial", head.serial)]
    said = [head.title, *(f"{name} {value}" for name, value in fields if value)]
    return " | ".join([*said, *(["INVENTED DEMO DATA"] if head.invented else [])])


def _by_source(fits: Iterable[Fit]) -> list[tuple[str | None, list[Fit]]]:
    """Put things in a row that come from one step together; Jinja2's own groupby would sort."""
    return [(source, list(group)) for source, group in groupby(fits, key=lambda fit: fit.source)]


@cache
def _environment() -> Environment:
    environment = page_environment("benchvoice.sheets", "templates")
    environment.filters["groupby_source"] = _by_source
    environment.globals |= {
        "words": words,
        "hours": hours,
        "time_of": time_of,
        "day_of": day_of,
    }
    return environment
