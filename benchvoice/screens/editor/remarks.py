"""Remarks typed at the desk: retyped, put in, cut in pieces, chosen from what was heard."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from benchvoice.follow import StepEvent
from benchvoice.language import Parser
from benchvoice.screens.editor.acts import Amend, Outcome, entered, moved, refused, retyped
from benchvoice.screens.editor.document import Document
from benchvoice.screens.editor.panels import Insert, Retype, Split, TextPick
from benchvoice.screens.editor.reading import Reader, state_after, state_before
from benchvoice.session import Entry, correcting

_NOT_UNDERSTOOD = 'not understood, so not saved; "note ..." keeps words as they are'


def open_retype(document: Document, entry: Entry, reader: Reader) -> Document:
    """Type the words of an entry anew."""
    state = state_before(document.listing.session, entry)
    text = entry.remark.heard
    event = reader.read(text, state, _kept(entry), entry.t)
    return document.opened(Retype(text=text, entry=entry, state=state, event=event))


def open_insert(document: Document, entry: Entry, reader: Reader) -> Document:
    """Type a remark that was forgotten, to stand after `entry`."""
    state = state_after(document.listing.session, entry)
    return document.opened(Insert(entry=entry, state=state, at=entry.t))


def open_split(document: Document, entry: Entry, reader: Reader) -> Document:
    """Cut an entry; the text has a "/" already where its findings part."""
    state = state_before(document.listing.session, entry)
    text = " / ".join(pieces(entry, reader.parser))
    panel = Split(text=text, entry=entry, state=state)
    return retyped(panel, document.opened(panel), reader)


def open_texts(document: Document, entry: Entry, reader: Reader) -> Document:
    """Choose among what the engine heard."""
    texts = document.facts.alternatives(entry)
    if not texts:
        return document.told("nothing else was heard here; Enter retypes it", bad=True)
    state = state_before(document.listing.session, entry)
    events = [reader.read(text, state, _kept(entry), entry.t) for text in texts]
    return document.opened(TextPick(entry=entry, events=_told_apart(events)))


def _told_apart(events: Sequence[StepEvent]) -> tuple[StepEvent, ...]:
    """Leave out what means the same as a likelier one, and put what means nothing last."""
    kept: dict[object, StepEvent] = {}
    for event in events:
        remark = event.remark
        means = (remark.kind, remark.command, remark.number, remark.words, remark.findings)
        kept.setdefault(means if event.kind != "unclear" else remark.heard, event)
    return tuple(sorted(kept.values(), key=lambda event: event.kind == "unclear"))


@retyped.register
def _(panel: Retype, document: Document, reader: Reader) -> Document:
    event = reader.read(panel.text, panel.state, _kept(panel.entry), panel.entry.t)
    return replace(document, panel=replace(panel, event=event))


@retyped.register
def _(panel: Insert, document: Document, reader: Reader) -> Document:
    event = reader.read(panel.text, panel.state, None, panel.at) if panel.text.strip() else None
    return replace(document, panel=replace(panel, event=event))


@retyped.register
def _(panel: Split, document: Document, reader: Reader) -> Document:
    entry = panel.entry
    texts = [text for piece in panel.text.split("/") if (text := piece.strip())]
    events = tuple(reader.read(text, panel.state, _kept(entry), entry.t) for text in texts)
    return replace(document, panel=replace(panel, events=events))


@entered.register
def _(panel: Retype, document: Document, reader: Reader) -> Outcome:
    if panel.text.strip() == panel.entry.remark.heard:
        return document.opened(None).told("nothing was changed; y says that it is right")
    return _replaced(panel.entry, [panel.event], document)


@entered.register
def _(panel: TextPick, document: Document, reader: Reader) -> Outcome:
    return _replaced(panel.entry, [panel.events[panel.at]], document)


@entered.register
def _(panel: Split, document: Document, reader: Reader) -> Outcome:
    if len(panel.events) < 2:
        return refused(document, "put a / where it is to be cut")
    return _replaced(panel.entry, panel.events, document)


@entered.register
def _(panel: Insert, document: Document, reader: Reader) -> Outcome:
    event, entry = panel.event, panel.entry
    if event is None:
        return document.opened(None)
    if event.kind == "unclear":
        return refused(document, _NOT_UNDERSTOOD)
    return Amend(
        lambda session: correcting.insert(session, event, sitting=entry.sitting, wall=entry.wall),
        "put in",
        focus=-1,
    )


@moved.register
def _(panel: TextPick, document: Document, reader: Reader, by: int) -> Outcome:
    at = max(0, min(panel.at + by, len(panel.events) - 1))
    return replace(document, panel=replace(panel, at=at))


def pieces(entry: Entry, parser: Parser) -> list[str]:
    """Cut the words of an entry so that each piece means one of its findings, if that can be.

    Where it cannot, the rest stays in one piece.
    """
    words = entry.remark.heard.split()
    cuts = [0]
    for count in range(1, len(entry.findings)):
        for at in range(cuts[-1] + 1, len(words)):
            left = parser.parse(" ".join(words[cuts[-1] : at])).findings
            right = parser.parse(" ".join(words[at:])).findings
            if left == entry.findings[count - 1 : count] and right == entry.findings[count:]:
                cuts.append(at)
                break
    return [" ".join(words[one:other]) for one, other in pairwise([*cuts, len(words)])]


def _replaced(entry: Entry, events: Sequence[StepEvent], document: Document) -> Outcome:
    if any(event.kind == "unclear" for event in events):
        return refused(document, _NOT_UNDERSTOOD)
    said = "as typed" if len(events) == 1 else f"cut in {len(events)}"
    return Amend(
        lambda session: correcting.retype(session, entry.seq, events),
        f"entry {entry.seq} {said}",
        focus=entry.seq,
    )


def _kept(entry: Entry) -> str | None:
    """The step that a retyped entry stays on; what was no finding is placed anew."""
    return entry.step if entry.kind == "finding" else None
