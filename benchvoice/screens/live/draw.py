"""The live screen drawn: few and short lines, the most important one in big letters."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from benchvoice.bench.desk import Recorded
from benchvoice.follow import Count, finding_text
from benchvoice.follow.counts import without_twice
from benchvoice.grammar.pack import plural_of
from benchvoice.remark import doubt
from benchvoice.screens.big import big_lines
from benchvoice.screens.cells import Line, cell, cut, filled, fitted, line, meter, paragraph, rule
from benchvoice.screens.live.view import Ear, View
from benchvoice.sheets.event_lines import event_lines
from benchvoice.sheets.layout import clock, plain, wrapped

_COUNT = re.compile(r"(.*: )?(\d+) (.+) (?:expected|came out), (\d+) (?:said|gone in)")
_UNWRAPPED = 1000
_MOST_COUNTS, _MOST_WARNINGS = 5, 4
_ROOMY = 20
"""From so many lines on the head may take two rows of big letters."""
_LEAST_LAST = 2
"""So many lines of what was just said are shown beside whatever cautions."""


class Screen(NamedTuple):
    """Lines above the typed one, and the line of help below it."""

    above: tuple[Line, ...]
    below: Line


def draw(view: View, width: int, height: int, *, blocks: bool = True) -> Screen:
    """Draw a view on `width` columns and `height` lines; without `blocks` no big letters."""
    room = height - 2
    last = list(last_lines(view, width))
    cautions = list(caution_lines(view, width))
    top = _top(view, width, len(cautions), len(last) + 1, room, blocks=blocks)
    least = min(len(last), _LEAST_LAST) + 1 if len(top) > 1 else 0
    cautions = _cut_short(cautions, room - len(top) - least, " CAUTION")
    left = room - len(top) - len(cautions)
    ruled = [rule("last", width)] if left > 1 else []
    last = _cut_short(last, left - len(ruled)) if left else []
    counts = list(step_lines(view, width))
    spare = left - len(ruled) - len(last)
    body = [*top, *cautions, *counts[: max(0, spare)], *ruled, *last]
    before = list(before_lines(view, width))
    spare = room - len(body) - 1
    if spare > 0 and before:
        body += [rule("before", width), *before[:spare]]
    help_text = " Say it or type it.   Enter alone: seen   quit: leave, all is kept"
    return Screen(filled(body, room, width), fitted(line(("class:dim", help_text)), width))


def _top(
    view: View, width: int, cautions: int, last: int, room: int, *, blocks: bool
) -> list[Line]:
    """The status and the head in the biggest letters that leave room for the rest, else small.

    No letters are so big that a caution, or what was just said, has no room.  Where there is none
    for the small ones and all of the caution, the caution has it.
    """
    bar = status_line(view, width)
    sizes = [2, 1] if room >= _ROOMY else [1]
    tops = [
        *([bar, *head_lines(view, width, rows, blocks=blocks)] for rows in sizes),
        small := [bar, *head_lines(view, width, 1, blocks=False)],
    ]
    close = [one for one in small if one != line()]
    fits = (top for top in tops if len(top) + cautions + last <= room)
    least = (
        top
        for top in (small, close, [bar])
        if len(top) + cautions + min(last, _LEAST_LAST + 1) <= room
    )
    return next(fits, None) or next(least, [] if cautions >= room else [bar])


def _cut_short(lines: list[Line], most: int, of_what: str = "") -> list[Line]:
    """Give so many of the lines; that some have no room, and of what, is told in the last one."""
    if len(lines) <= max(1, most):
        return lines
    kept = lines[: max(0, most - 1)]
    left_out = f"{of_what} ... {len(lines) - len(kept)} lines more than fit here"
    return [*kept, line(("class:alarm", left_out))]


def status_line(view: View, width: int) -> Line:
    """The clock, the job and how it is heard; what is amiss stands out."""
    running = view.state.running
    time = clock(view.elapsed)
    left = f" {time} " if running else f" {time} CLOCK STOPPED "
    right, alarm = ear_text(view.ear, loud=view.loud)
    middle = cut(plain(view.job), max(0, width - len(left) - len(right) - 2))
    fill = " " * max(1, width - len(left) - len(middle) - len(right))
    return line(
        ("class:title" if running else "class:alarm", left),
        ("class:title", middle + fill),
        ("class:alarm" if alarm else "class:title", right),
    )


def ear_text(ear: Ear, *, loud: bool) -> tuple[str, bool]:
    """Say how it is heard, and whether something is amiss.

    >>> ear_text(Ear(level=-30.0), loud=False)
    (' LISTENING [#####-----] ', False)
    >>> ear_text(Ear(), loud=False)
    (' keyboard only ', False)
    """
    if ear.level is None:
        return " keyboard only ", False
    if ear.deaf:
        return ' NOT LISTENING: say "listen again" ', True
    bar = meter(ear.level)
    return (f" TOO LOUD [{bar}] ", True) if loud else (f" {ear.state} [{bar}] ", False)


def head_lines(view: View, width: int, rows: int, *, blocks: bool) -> Iterator[Line]:
    """One thing in big letters: a count that does not add up, else the step under way."""
    title = view.step.title if view.step else view.at_hand or "No step yet"
    alarm = next(filter(None, map(headline, view.open)), None)
    yield line()
    if alarm is None:
        big = big_lines(title, width, rows) if blocks else None
        yield from big or [line(("class:strong", f" {plain(title).upper()}"))]
        yield from [] if big else [line()]
        return
    yield line(("class:strong", f" {plain(title).upper()}"))
    yield line()
    big = big_lines(alarm, width, rows, "class:warn") if blocks else None
    yield from big or [line(("class:alarm", f" {alarm} ")), line()]


def headline(warning: str) -> str | None:
    """Give a warning of a count in a few words; None for any other.

    >>> headline("end cover: 10 bolts expected, 9 said")
    'end cover: 9 of 10 bolts'
    >>> headline("pump: 6 bolts expected, 12 said, 6 before and 6 now: said twice?")
    'pump: 12 of 6 bolts'
    >>> headline("end cover: 10 bolts came out, 9 gone in")
    'end cover: 9 of 10 bolts'
    """
    found = _COUNT.fullmatch(without_twice(warning))
    return f"{found[1] or ''}{found[4]} of {found[2]} {found[3]}" if found else None


def caution_lines(view: View, width: int) -> Iterator[Line]:
    """All cautions of the step."""
    for text in view.cautions:
        yield from paragraph(" CAUTION ", text, width, "class:strong")


def step_lines(view: View, width: int) -> Iterator[Line]:
    """The step's parts: so many said of so many expected."""
    counts = [count for count in view.counts if count.expected is not None]
    counts.sort(key=lambda count: (not count.differs, count.mentioned and not count.differs))
    if counts:
        yield line()
    for count in counts[:_MOST_COUNTS]:
        yield _count_line(count)
    if len(counts) > _MOST_COUNTS:
        yield line(f"           and {len(counts) - _MOST_COUNTS} more")


def _count_line(count: Count) -> Line:
    """Give "  9 of 10  bolts, end cover", what differs with "!"."""
    assert count.expected is not None
    said = "-" if count.said is None else str(count.said)
    name = count.part if count.expected == 1 else plural_of(count.part)
    place = f", {count.place}" if count.place else ""
    mark = "!" if count.differs else " "
    text = f" {mark}{f'{said} of {count.expected}':>9}  {plain(name + place)}"
    style = "class:warn" if count.differs else "" if count.said is None else "class:ok"
    return line((style, text))


def last_lines(view: View, width: int) -> Iterator[Line]:
    """The last entry, doubt and answer to it, and all that is not yet seen."""
    last = view.last
    if last is None:
        for text in view.outline.caution:
            yield from paragraph(" CAUTION ", text, width, "class:strong")
        yield line(' Nothing said yet; begin with "next", or "start" and the name of a step.')
        yield from paragraph(" ", f"Kept in {view.folder}", width)
    else:
        for text in wrapped(" ", _where(last, view) + said_text(last, view), width):
            yield line(("class:strong", text))
        for text in _unsure(last):
            yield from paragraph(" ? ", text, width, "class:doubt")
    for text in view.open[:_MOST_WARNINGS]:
        for part in wrapped(" ! ", text, width):
            yield line(("class:alarm", cell(part, width)))
    if len(view.open) > _MOST_WARNINGS:
        more = len(view.open) - _MOST_WARNINGS
        yield line(("class:alarm", f" ! and {more} more: say what is left"))
    if view.question is not None:
        for part in wrapped(" ? ", f"{view.question} (F2 yes, F3 no, or say it)", width):
            yield line(("class:alarm", cell(part, width)))
    for text in (last.event.answer or "").splitlines() if last else ():
        yield from paragraph(" > ", text, width)
    for text in view.notices:
        yield from paragraph(" * ", text, width, "class:warn")


def _where(item: Recorded, view: View) -> str:
    """Name the step of what was found aside of the step that stands above."""
    step = item.event.step
    if item.event.kind != "finding" or step == view.at_hand or not step:
        return ""
    known = view.outline.by_id.get(step)
    return f"{known.title if known else step}: "


def _unsure(item: Recorded) -> Iterator[str]:
    """Yield what of an entry was not understood, and why it is doubtful."""
    for words in item.event.remark.unparsed if item.event.kind == "finding" else ():
        yield f'not understood: "{words}"'
    unsure = doubt(item.event.remark)
    if unsure is not None:
        yield unsure


def said_text(item: Recorded, view: View) -> str:
    """Say an entry in a few words; findings without their step, which stands above."""
    event = item.event
    if event.kind == "finding":
        return "; ".join(finding_text(finding) for finding in event.remark.findings)
    outline = view.outline if event.kind in ("started", "finished", "moved", "assembling") else None
    lines = event_lines(event, outline, item.clip, _UNWRAPPED)
    said = next(text for text in lines if not text.startswith("  CAUTION"))
    return said.partition("  ")[2]


def before_lines(view: View, width: int) -> Iterator[Line]:
    """The entries before the last, newest first, a line each, with what they warned of."""
    for item in reversed(view.said[:-1]):
        flag = "?" if doubt(item.event.remark) else " "
        warned = "".join(f"  ! {plain(text)}" for text in item.event.warnings)
        text = f" {flag} {clock(item.event.at)}  {plain(said_text(item, view))}{warned}"
        yield fitted(line(("class:dim", text)), width)
