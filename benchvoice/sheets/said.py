"""What one entry says, in words: shared by all the sheets."""

from __future__ import annotations

import re
from collections.abc import Container, Mapping
from datetime import date, datetime

from benchvoice.follow.accounts import NO_OUTLINE
from benchvoice.follow.counts import count_warnings, missing_warnings, tally, without_twice
from benchvoice.follow.keeping import not_as_it_came
from benchvoice.follow.ledger import ledger
from benchvoice.follow.wording import finding_text
from benchvoice.grammar.outline import Outline
from benchvoice.remark import doubt
from benchvoice.session.values import Entry, Session

_COUNTED = re.compile(
    r": \d+ .* expected, (\d+ said|no number said|not mentioned|not said to be (off|in))$"
)
_GONE_IN = re.compile(r" (came out|expected), (\d+|none) gone in$")

Titles = Mapping[str, str]
"""Step id to title."""


def titles_of(outline: Outline | None) -> Titles:
    """Map step ids to titles; empty without an outline."""
    return {step.id: step.title for step in outline.steps()} if outline else {}


def title_of(step: str | None, titles: Titles) -> str:
    """Name a step; one that the outline does not have is called by its id."""
    return titles.get(step or "", step or "No step")


def with_title(step: str | None, text: str, titles: Titles) -> str:
    """Say of which step a text is, where it does not begin with that."""
    title = title_of(step, titles)
    return text if text.startswith(f"{title}: ") else f"{title}: {text}"


def entry_texts(entry: Entry, titles: Titles | None = None) -> list[str]:
    """Say an entry, one text a fact; a count that was put right is told of, and a new place."""
    texts = _plain_texts(entry)
    if entry.placed_from is not None:
        before = title_of(entry.placed_from, titles or {})
        texts.append(f"(put here by what was said later; at first with: {before})")
    return texts


def _plain_texts(entry: Entry) -> list[str]:
    if entry.kind == "finding":
        texts = [finding_text(finding) for finding in entry.findings] or [entry.remark.heard]
        if entry.recounted:
            texts[-1] += " (count put right)"
        if entry.corrected:
            texts[-1] += " (corrected by hand)"
        return [*texts, *(f'not understood: "{words}"' for words in entry.remark.unparsed)]
    if entry.kind == "noted":
        return [f'note: "{entry.remark.heard}"']
    if entry.kind == "unclear":
        return [f'not understood: "{entry.remark.heard}"']
    return ["not finished: out of its limit" if entry.kind == "held" else entry.kind]


def unsure_texts(entry: Entry) -> list[str]:
    """Say what of an entry should be looked at again: two readings, or heard with doubt."""
    unsure = doubt(entry.remark)
    return [
        *(f'"{choice.text}": {" or ".join(choice.readings)}?' for choice in entry.remark.ambiguous),
        *([] if unsure is None else [unsure]),
    ]


def open_count_texts(session: Session, outline: Outline | None) -> frozenset[str] | None:
    """Give the warnings of counts, off and back in, that still stand.

    None where it cannot be told: the session has an outline, and it is not at hand.
    """
    if outline is None:
        return None if session.header.outline else _open_unlisted(session)
    counts = tally(session.findings, outline)
    off = {*count_warnings(counts, outline), *missing_warnings(counts, outline)}
    return frozenset({*off, *not_back_texts(session, outline)})


def _open_unlisted(session: Session) -> frozenset[str]:
    """What went back in is counted without an outline too; nothing else is."""
    told = (text for entry in session.standing for text in map(without_twice, entry.warnings))
    others = (text for text in told if not is_gone_in(text))
    return frozenset({*others, *not_back_texts(session, None)})


def not_back_texts(session: Session, outline: Outline | None) -> tuple[str, ...]:
    """Say what is not back in as it came; nothing before anything went back in."""
    known = outline or NO_OUTLINE
    return tuple(not_as_it_came(ledger(session.findings, known), known))


def is_gone_in(warning: str) -> bool:
    """Whether a warning is of what went back in."""
    return _GONE_IN.search(warning) is not None


def standing_warnings(entry: Entry, still_open: Container[str] | None) -> list[str]:
    """Give an entry's warnings but for those of counts that were made up or put right later."""

    def settled(warning: str) -> bool:
        text = without_twice(warning)
        right = entry.recounted if still_open is None else text not in still_open
        return right and (is_gone_in(text) or bool(_COUNTED.search(text)))

    return [text for text in entry.warnings if not settled(text)]


def day_of(wall: str) -> date | None:
    """Give the day of an ISO 8601 time; None when it is none."""
    try:
        return datetime.fromisoformat(wall).date()
    except ValueError:
        return None


def time_of(wall: str) -> str:
    """Give the time of day, "14:31"; "?" when there is none.

    >>> time_of("2026-03-02T14:31:59-05:00"), time_of("soon")
    ('14:31', '?')
    """
    try:
        return datetime.fromisoformat(wall).strftime("%H:%M")
    except ValueError:
        return "?"
