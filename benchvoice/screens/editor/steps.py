"""Entries moved: to a step found while its name is being typed, or to another time."""

from __future__ import annotations

import re
from dataclasses import replace

from rapidfuzz import fuzz, process, utils

from benchvoice.follow.naming import step_names
from benchvoice.grammar import Outline
from benchvoice.screens.editor.acts import Amend, Outcome, entered, moved, refused, retyped
from benchvoice.screens.editor.document import Document
from benchvoice.screens.editor.panels import StepChoice, StepPick, Times
from benchvoice.screens.editor.reading import Reader
from benchvoice.session import Entry, correcting
from benchvoice.sheets.layout import clock

_LIKE = 60.0
_TIME = re.compile(r"([+-]?)(?:(\d+):)?(?:(\d+):)?(\d+(?:\.\d+)?)")


def open_steps(document: Document) -> Document:
    """Choose another step for the chosen entries."""
    outline = document.facts.outline
    entries = tuple(entry for entry in document.chosen if not entry.struck)
    if outline is None:
        return document.told("the outline of this session is not found: no steps", bad=True)
    if not entries:
        return document.told("there is nothing here to move", bad=True)
    choices = step_choices(outline, "")
    at = next((row for row, one in enumerate(choices) if one.id == entries[0].step), 0)
    return document.opened(StepPick(entries=entries, choices=choices, at=at))


def open_times(document: Document, entry: Entry) -> Document:
    """Change when an entry was said."""
    return document.opened(Times(text=clock(entry.t), entry=entry))


@retyped.register
def _(panel: StepPick, document: Document, reader: Reader) -> Document:
    outline = document.facts.outline
    choices = step_choices(outline, panel.text) if outline else ()
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
    many = f"entry {seqs[0]}" if len(seqs) == 1 else f"{len(seqs)} entries"
    return Amend(
        lambda session: correcting.move(session, seqs, choice.id),
        f"{many} moved to {choice.title}",
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


def step_choices(outline: Outline, text: str) -> tuple[StepChoice, ...]:
    """Give the steps in the order of the outline, or those like `text`, the likest first.

    Likeness is rapidfuzz's WRatio over all the names of a step.
    """
    choices = {
        step.id: StepChoice(step.id, step.title, stage.title)
        for stage in outline.stage
        for step in stage.step
    }
    if not text.strip():
        return tuple(choices.values())
    names = [(name, step.id) for step in outline.steps() for name in step_names(step)]
    found = process.extract(
        text,
        [name for name, _ in names],
        scorer=fuzz.WRatio,
        processor=utils.default_process,
        score_cutoff=_LIKE,
        limit=None,
    )
    return tuple(choices[step] for step in dict.fromkeys(names[at][1] for _, _, at in found))


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
