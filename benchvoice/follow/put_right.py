"""A count put right by a "no" and the part."""

from __future__ import annotations

from benchvoice.follow.events import LogEntry, State
from benchvoice.follow.likeness import place_likeness
from benchvoice.grammar.pack import Pack
from benchvoice.remark import Finding, Remark

_SOON = 3
"""So many entries back a count is still put right by a "no" and the part."""

ONLY_NUMBER = "Only the number was put right: for the rest strike that, and say all of it again."


def told_before(entry: LogEntry, said: Finding) -> bool:
    """Whether all but the number that "no, two short ones" tells was said so before."""
    told = (said.size, said.condition, said.orientation, said.container, said.disposition)
    return any(
        all(new in (None, old) for new, old in zip(told, was, strict=True))
        for one in entry.findings
        if _counts_same(said, one)
        for was in [(one.size, one.condition, one.orientation, one.container, one.disposition)]
    )


def put_right(state: State, remark: Remark, pack: Pack) -> LogEntry | None:
    """Find the entry whose count "no twelve bolts off the front cover" puts right.

    It is one of the last of its step, and counted the same part.
    """
    openings = (say for filler in pack.correction for say in filler.say)
    if not any(remark.heard.startswith((f"{opening} ", f"{opening},")) for opening in openings):
        return None
    if len(remark.findings) != 1 or remark.findings[0].count is None:
        return None
    said = remark.findings[0]
    for entry in reversed(state.log[-_SOON:]):
        if entry.kind != "finding" or entry.step != state.current:
            return None
        if any(_counts_same(said, before) for before in entry.findings):
            return entry
    return None


def _counts_same(said: Finding, before: Finding) -> bool:
    same = said.part == before.part and place_likeness(said.place, before.place) > 0
    return same and before.count is not None
