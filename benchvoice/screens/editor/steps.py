"""Entries moved: to a step found while its name is being typed, or to another time."""

from __future__ import annotations

import re
from dataclasses import replace

from rapidfuzz import fuzz, process, utils

from benchvoice.follow.naming import step_names
from benchvoice.screens.editor.acts import Amend, Outcome, entered, moved, refused, retyped
from benchvoice.screens.editor.document import Document
from benchvoice.screens.editor.panels import StepChoice, StepPick, Times, which
from benchvoice.screens.editor.reading import Reader
from benchvoice.session import Entry, correcting
from benchvoice.sheets.layout import clock

_LIKE = 60.0
_TIME = re.compile(r"([+-]?)(?:(\d+):)?(?:(\d+):)?(\d+(?:\.\d+)?)")


def open_steps(document: Document) -> Document:
    """Choose another step for the chosen entries."""
    entries = tuple(entry for entry in document.chosen if not entry.struck)
    choices = step_choices(document, "")
    if not entries or not choices:
        return document.told("there is nothing here to move, or no step", bad=True)
    at = next((row for row, one in enumerate(choices) if one.id == entries[0].step), 0)
    return document.opened(StepPick(entries=entries, choices=choices, at=at))


def open_times(document: Document, entry: Entry) -> Document:
    """Change when an entry was said."""
    return document.opened(Times(text=clock(entry.t), entry=entry))


@retyped.register
def _(panel: StepPick, document: Document, reader: Reader) -> Document:
    choices = step_choices(document, panel.text)
    return replace(document, panel=replace(panel, choices=choices, at=0))


@moved.register
def _(panel: StepPick, document: Document, reader: Reader, by: int) -> Outcome:
    at = max(0, min(panel.at + by, len(panel.choices) - 1))
    return replace(document, panel=replace(panel, at=at))


@entered.register
def _(panel: StepPick, document: Document, reader: Reader) -> Outcome:
    choice = panel.chosen
    if choice is None:
        return refused(document, "no step is called so; type less of it")
    seqs = [entry.seq for entry in panel.entries]
    return Amend(
        lambda session: correcting.move(session, seqs, choice.id),
        f"{which(seqs)} moved to {choice.title}",
        unmark=True,
    )


@entered.register
def _(panel: Times, document: Document, reader: Reader) -> Outcome:
    seconds = seconds_of(panel.text, panel.entry.t)
    if seconds is None:
        return refused(document, "no time: write 1:02:30, 2:30, or +0:30 for later")
    seq = panel.entry.seq
    return Amend(
        lambda session: correcting.retime(session, {seq: seconds}),
        f"entry {seq} is at {clock(seconds)}",
        focus=seq,
    )


def step_choices(document: Document, text: str) -> tuple[StepChoice, ...]:
    """Give the steps in the order of the outline, or those like `text`, the likest first.

    Without an outline they are those that the session has.  Likeness is
    rapidfuzz's WRatio over all the names of a step.
    """
    names = _names(document)
    if not text.strip():
        return tuple(dict.fromkeys(choice for _, choice in names))
    found = process.extract(
        text,
        [name for name, _ in names],
        scorer=fuzz.WRatio,
        processor=utils.default_process,
        score_cutoff=_LIKE,
        limit=None,
    )
    return tuple(dict.fromkeys(names[at][1] for _, _, at in found))


def _names(document: Document) -> list[tuple[str, StepChoice]]:
    outline = document.facts.outline
    if outline is None:
        said = (entry.step for entry in document.facts.session.entries)
        return [(step, StepChoice(step, step, "")) for step in dict.fromkeys(said) if step]
    return [
        (name, StepChoice(step.id, step.title, stage.title))
        for stage in outline.stage
        for step in stage.step
        for name in step_names(step)
    ]


def seconds_of(text: str, now: float) -> float | None:
    """Read a time as h:mm:ss, m:ss or seconds; with + or - it is from `now`.

    >>> seconds_of("1:02:30", 0), seconds_of("+1:30", 60), seconds_of("soon", 0)
    (3750.0, 150.0, None)
    """
    found = _TIME.fullmatch(text.strip())
    if found is None:
        return None
    sign, one, two, last = found.groups()
    hours, minutes = (one, two) if two is not None else ("0", one or "0")
    seconds = int(hours) * 3600 + int(minutes) * 60 + float(last)
    if not sign:
        return seconds
    return now + seconds if sign == "+" else now - seconds
