"""The panels drawn: what would come of what is typed, forms and lists to choose from."""

from __future__ import annotations

from collections.abc import Iterator

from benchvoice.follow import StepEvent
from benchvoice.follow.wording import finding_text
from benchvoice.screens.cells import Line, cell, line, paragraph, rule
from benchvoice.screens.editor.document import Document
from benchvoice.screens.editor.fields import FIELDS, field_text
from benchvoice.screens.editor.panels import (
    Bulk,
    Form,
    Insert,
    Panel,
    Retype,
    Search,
    Split,
    StepPick,
    TextPick,
    Times,
    which,
)
from benchvoice.screens.editor.rows import detail_lines, head_line
from benchvoice.session import Entry
from benchvoice.sheets.layout import clock, plain


def small_lines(panel: Panel, document: Document, width: int) -> Iterator[Line]:
    """Give the lines of a panel that leaves the list to be seen."""
    if isinstance(panel, Retype):
        yield head_line(document, panel.entry, width)
        yield from paragraph("  was    ", _meaning(panel.entry), width)
        yield from event_lines(panel.event, document, width)
    elif isinstance(panel, Insert):
        yield rule(f"new, after {panel.entry.seq} at {clock(panel.at)}", width)
        if panel.event is not None:
            yield from event_lines(panel.event, document, width)
    elif isinstance(panel, Split):
        yield head_line(document, panel.entry, width)
        for event in panel.events:
            yield from event_lines(event, document, width)
    elif isinstance(panel, Times):
        yield head_line(document, panel.entry, width)
        yield line("  The time in the sitting; work before it is counted for its step.")
        yield line("  +1:30 makes it a minute and a half later, -0:30 earlier.")
    elif isinstance(panel, Search):
        yield from detail_lines(document, width)


def large_lines(panel: Panel, document: Document, width: int, height: int) -> Iterator[Line]:
    """Give the lines of a panel that takes the place of the list."""
    if isinstance(panel, Form):
        return form_lines(panel, document, width)
    if isinstance(panel, StepPick):
        return _step_lines(panel, width, height)
    if isinstance(panel, TextPick):
        return _text_lines(panel, document, width, height)
    assert isinstance(panel, Bulk)
    return _bulk_lines(panel, width, height)


def event_lines(event: StepEvent, document: Document, width: int) -> Iterator[Line]:
    """What typed text would become: its step, findings, words left over, and warnings."""
    remark = event.remark
    if event.kind == "unclear":
        yield line(("class:doubt", "  ? not understood so far"))
    else:
        title = document.facts.title(event.step) or "no step"
        kind = "" if event.kind == "finding" else f"{event.kind}: "
        yield from paragraph("  on     ", kind + title, width)
    for finding in remark.findings:
        yield from paragraph("  means  ", finding_text(finding), width, "class:strong")
    if remark.unparsed:
        yield from paragraph("  left over: ", "; ".join(remark.unparsed), width, "class:doubt")
    for choice in remark.ambiguous:
        text = f'"{choice.text}": {" or ".join(choice.readings)}?'
        yield from paragraph("  ? ", text, width, "class:doubt")
    for text in event.warnings:
        yield from paragraph("  ! ", text, width, "class:warn")


def form_lines(panel: Form, document: Document, width: int) -> Iterator[Line]:
    """The fields of one finding, the one being typed marked."""
    yield head_line(document, panel.entry, width)
    yield from paragraph("  said   ", f'"{panel.entry.remark.heard}"', width)
    count = len(panel.findings)
    which = f"finding {panel.which + 1} of {count}" if count > 1 else "finding"
    yield from paragraph(f"  {which}  ", finding_text(panel.finding), width, "class:strong")
    yield line()
    for at, field in enumerate(FIELDS):
        here = at == panel.at
        value = panel.text if here else field_text(panel.finding, field.name)
        text = f" {'>' if here else ' '} {field.name:<12} {value}"
        if here and not value:
            text += f"({field.hint})"
        yield line(("class:cursor" if here else "", cell(plain_keep(text), width)))


def plain_keep(text: str) -> str:
    """Make text ASCII as `plain` does, but keep its blanks."""
    return "".join(char if char == " " else plain(char) for char in text)


def _step_lines(panel: StepPick, width: int, height: int) -> Iterator[Line]:
    yield rule(f"move {which([one.seq for one in panel.entries])} to a step", width)
    for entry in panel.entries[:2]:
        yield from paragraph("  ", _meaning(entry), width)
    yield line()
    room = height - 5
    top = max(0, min(panel.at - room // 2, len(panel.choices) - room))
    if not panel.choices:
        yield line("  no step is called so")
    for at, choice in enumerate(panel.choices[top : top + room], start=top):
        here = at == panel.at
        text = f" {'>' if here else ' '} {cell(plain(choice.title), width // 2)} {choice.stage}"
        yield line(("class:cursor" if here else "", cell(text, width)))


def _text_lines(panel: TextPick, document: Document, width: int, height: int) -> Iterator[Line]:
    yield head_line(document, panel.entry, width)
    yield from paragraph("  is     ", _meaning(panel.entry), width)
    yield line("  What else was heard, the likeliest first; what means nothing is last:")
    yield line()
    blocks = [
        _guess_lines(event, document, width, here=at == panel.at)
        for at, event in enumerate(panel.events)
    ]
    room = height - 4
    top = panel.at
    used = len(blocks[top])
    while top > 0 and used + len(blocks[top - 1]) <= room * 2 // 3:
        top -= 1
        used += len(blocks[top])
    for block in blocks[top:]:
        yield from block


def _guess_lines(event: StepEvent, document: Document, width: int, *, here: bool) -> list[Line]:
    """One guess and what it would mean."""
    style = "class:cursor" if here else "class:strong"
    lines = [line((style, cell(f' {">" if here else " "} "{plain(event.remark.heard)}"', width)))]
    said = "; ".join(map(finding_text, event.remark.findings)) or "not understood"
    if event.kind not in ("finding", "unclear"):
        said = f"{event.kind} {document.facts.title(event.step)}"
    if event.remark.unparsed:
        said += f"   (left over: {'; '.join(event.remark.unparsed)})"
    return [*lines, *paragraph("     ", said, width)]


def _bulk_lines(panel: Bulk, width: int, height: int) -> Iterator[Line]:
    yield rule(f"change {which([one.seq for one in panel.entries])} {panel.words}", width)
    yield line("  Type what holds for all: bag 2, nuts in bag 2, seals to replace, cracked")
    if panel.note:
        yield from paragraph("  ", panel.note, width, "class:strong")
    yield line()
    if panel.changes:
        yield line(("class:strong", f"  {which([one.entry.seq for one in panel.changes])} change:"))
    for change in panel.changes:
        before = set(change.entry.findings)
        for finding in change.findings:
            if finding not in before:
                yield from paragraph(f"  {change.entry.seq:>5}  ", finding_text(finding), width)


def _meaning(entry: Entry) -> str:
    said = "; ".join(map(finding_text, entry.findings))
    return said or f'{entry.kind}: "{entry.remark.heard}"'
