"""The list and the entry under the cursor, drawn: the rows that can be seen, and no others."""

from __future__ import annotations

from collections.abc import Iterator

from benchvoice.follow.wording import finding_text, parts_text
from benchvoice.remark import doubt
from benchvoice.screens.cells import Line, cell, fitted, line, paragraph, rule
from benchvoice.screens.editor.document import Document
from benchvoice.screens.editor.facts import wants_a_look
from benchvoice.session import Entry
from benchvoice.sheets.layout import clock, plain
from benchvoice.sheets.said import entry_texts, time_of

_TITLE_SHARE = 0.24
_MOST_COUNTS = 4


def title_line(document: Document, width: int) -> Line:
    """What session it is, how much there is and what of it is listed."""
    listing, sieve = document.listing, document.sieve
    header = listing.session.header
    name = header.job or header.unit or listing.session.folder.name
    said = [f"{len(document.rows)} entries", f"{document.facts.doubtful} to look at"]
    if document.marked:
        said.append(f"{len(document.marked)} marked")
    if sieve.words:
        said.append(f'search "{sieve.words}"')
    if sieve.doubtful_first:
        said.append("doubtful first")
    if sieve.everything:
        said.append("all shown")
    if header.invented:
        said.append("INVENTED")
    text = f" {plain(name)}   {', '.join(said)}"
    return fitted(line(("class:title", text)), width, fill="class:title")


def list_lines(document: Document, height: int, width: int) -> Iterator[Line]:
    """Give the rows around the cursor, which stays in the middle where it can."""
    rows = document.rows
    if not rows:
        yield line(" Nothing is listed.")
        return
    top = max(0, min(document.at - height // 2, len(rows) - height))
    before: str | None = None
    for row in range(top, min(top + height, len(rows))):
        entry = rows[row]
        title = document.facts.title(entry.step) or "no step"
        yield row_line(document, row, "" if title == before else title, width)
        before = title


def row_line(document: Document, row: int, title: str, width: int) -> Line:
    """One entry: marks, time, step, what it says, how sure it was heard."""
    entry = document.rows[row]
    here = row == document.at
    look = "x" if document.facts.is_gone(entry) else "?" if wants_a_look(entry) else " "
    warned = "!" if document.facts.warnings(entry) else " "
    marks = f"{'>' if here else ' '}{'*' if entry.seq in document.marked else ' '}{look}{warned}"
    heard = entry.remark.confidence
    sure = "" if heard is None else f"{heard:.0%}"
    room = int(width * _TITLE_SHARE)
    left = f"{marks}{clock(entry.t):>8} {cell(plain(title), room)} "
    said = plain("; ".join(entry_texts(entry)))
    text = cell(said, width - len(left) - 5) + f"{sure:>5}"
    style = _row_style(look, warned)
    one = line((style, left), (style, text))
    return line(("class:cursor", "".join(piece for _, piece in one))) if here else one


def _row_style(look: str, warned: str) -> str:
    if look == "x":
        return "class:struck"
    return "class:doubt" if look == "?" else "class:warn" if warned == "!" else ""


def detail_lines(document: Document, width: int) -> Iterator[Line]:
    """All that is known of the entry under the cursor, and of the counts of its step."""
    entry = document.current
    if entry is None:
        yield rule("", width)
        return
    yield head_line(document, entry, width)
    yield from _said_lines(document, entry, width)
    for number, finding in enumerate(entry.findings, start=1):
        first = f"  {number}. " if len(entry.findings) > 1 else "  means  "
        yield from paragraph(first, finding_text(finding), width, "class:strong")
    if entry.remark.unparsed:
        yield from paragraph("  left over: ", "; ".join(entry.remark.unparsed), width)
    for choice in entry.remark.ambiguous:
        text = f'"{choice.text}": {" or ".join(choice.readings)}?'
        yield from paragraph("  ? ", text, width, "class:doubt")
    if doubt(entry.remark) is not None:
        text = f"heard with only {entry.remark.confidence:.0%} certainty"
        yield from paragraph("  ? ", text, width, "class:doubt")
    for text in document.facts.warnings(entry):
        yield from paragraph("  ! ", text, width, "class:warn")
    yield from _more(document, entry, width)
    yield from _counts(document, entry.step, width)


def head_line(document: Document, entry: Entry, width: int) -> Line:
    """The rule over an entry's details: number, time of day, step; how it came to be."""
    listing = document.listing
    sitting = f" sitting {entry.sitting}" if len(listing.session.sittings) > 1 else ""
    title = f"{entry.seq}{sitting} at {time_of(entry.wall)}  {document.facts.title(entry.step)}"
    return rule(title, width, _source(document, entry))


def _source(document: Document, entry: Entry) -> str:
    if document.facts.is_gone(entry):
        return "DELETED (r brings it back)"
    if entry.corrected:
        return "put right by hand"
    if entry.confirmed:
        return "looked at, right"
    heard = entry.remark.confidence
    return "typed" if heard is None else f"heard {heard:.0%}"


def _said_lines(document: Document, entry: Entry, width: int) -> Iterator[Line]:
    yield from paragraph("  said   ", f'"{entry.remark.heard}"', width)
    if not entry.corrected:
        return
    first = [one.remark.heard for one in document.facts.originals(entry)]
    if first and first != [entry.remark.heard]:
        yield from paragraph("  first  ", "; ".join(f'"{text}"' for text in first), width)


def _more(document: Document, entry: Entry, width: int) -> Iterator[Line]:
    others = document.facts.alternatives(entry)
    said = [f"clip {entry.clip} (p plays it)"] if entry.clip else []
    if others:
        said.append(f"{len(others)} other {'guess' if len(others) == 1 else 'guesses'} (a)")
    if said:
        yield from paragraph("  ", ", ".join(said), width)


def _counts(document: Document, step: str | None, width: int) -> Iterator[Line]:
    """The step's parts: what was expected and what was said, those that differ first."""
    counts = [count for count in document.facts.counts(step) if count.expected is not None]
    counts.sort(key=lambda count: not count.differs)
    texts = []
    for count in counts[:_MOST_COUNTS]:
        said = "-" if count.said is None else str(count.said)
        wrong = " (!)" if count.differs else ""
        name = parts_text(count.part, count.expected)
        texts.append(f"{said} of {name}{wrong}")
    more = len(counts) - _MOST_COUNTS
    if texts:
        text = ", ".join(texts) + (f" and {more} more" if more > 0 else "")
        yield from paragraph("  step:  ", text, width)
