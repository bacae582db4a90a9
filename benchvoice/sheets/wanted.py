"""Parts that something has to happen to, as they were said and as the outline has them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypedDict

from benchvoice.follow.counts import expected_for
from benchvoice.follow.wording import size_texts
from benchvoice.grammar.outline import Hardware, Outline
from benchvoice.remark import Finding, Frozen, doubt
from benchvoice.session.values import Entry, Session

WANTED = frozenset({"replace", "order", "discard", "machine", "send out", "decide"})
"""Dispositions that a parts list has; "reuse" is none."""


class Wanted(Frozen, frozen=True, kw_only=True):
    """A part and what shall happen to it; `disposition` "always" is the outline's own word.

    `count` was said with it; `counted` is what was counted of the part in that
    step, where no number was said with it; `expected` is the outline's count.
    `place` was said, `home` is the outline's place for it.
    `size` and `size_by` tell the size and whether it was "said" or is the
    "outline"'s.  `entry` is the seq of the remark, `clip` what was recorded of
    it, `doubt` why it should be heard again.  `always` tells that the outline
    always replaces it, `said_reuse` that the bench said to reuse it all the same.
    """

    disposition: str
    part: str
    step: str | None
    count: int | None = None
    counted: int | None = None
    expected: int | None = None
    place: str | None = None
    home: str | None = None
    side: str | None = None
    size: tuple[str, ...] = ()
    size_by: Literal["said", "outline"] | None = None
    conditions: tuple[str, ...] = ()
    entry: int | None = None
    clip: str | None = None
    doubt: str | None = None
    said_reuse: bool = False
    always: bool = False


def wanted(session: Session, outline: Outline | None) -> tuple[Wanted, ...]:
    """Give the parts that something has to happen to, in the order said, then the outline's own.

    The same part said again in the same step is one, and the last word on it
    counts.  Parts that the outline always replaces are added for the steps
    begun.
    """
    return (*_said(session, outline), *(_always(session, outline) if outline else ()))


def _said(session: Session, outline: Outline | None) -> Iterator[Wanted]:
    counted: dict[tuple[str | None, str], int] = {}
    last: dict[tuple[str | None, str, str | None], tuple[Entry, Finding]] = {}
    for entry, finding in _findings(session):
        if finding.count is not None:
            counted[entry.step, finding.part or ""] = finding.count
        if finding.disposition:
            key = (entry.step, finding.part or "", finding.place)
            last.pop(key, None)
            last[key] = entry, finding
    for (step, part, _), (entry, finding) in last.items():
        if finding.disposition in WANTED:
            item = _item(step, finding, outline)
            yield Wanted(
                disposition=finding.disposition,
                part=part,
                step=step,
                count=finding.count,
                counted=counted.get((step, part)) if finding.count is None else None,
                expected=item.count if item else None,
                place=finding.place,
                home=item.place if item else None,
                side=finding.side,
                conditions=finding.conditions or tuple(filter(None, [finding.condition])),
                entry=entry.seq,
                clip=entry.clip,
                doubt=doubt(entry.remark),
                always=item is not None and item.always_replace,
                **_size(finding, item),
            )


def _findings(session: Session) -> Iterator[tuple[Entry, Finding]]:
    for entry in session.standing:
        for finding in entry.findings if entry.kind == "finding" else ():
            if finding.part:
                yield entry, finding


def _item(step: str | None, finding: Finding, outline: Outline | None) -> Hardware | None:
    found = outline.by_id.get(step or "") if outline else None
    return expected_for(finding, found) if found else None


def _always(session: Session, outline: Outline) -> Iterator[Wanted]:
    begun = {entry.step for entry in session.standing if entry.kind in ("finding", "started")}
    for step in outline.steps():
        said = [
            (expected_for(finding, step), finding.disposition)
            for step_id, findings in session.findings
            for finding in findings
            if step_id == step.id
        ]
        last_word = {item: word for item, word in said if word}
        builds = {item.build: item.build_option for item, _ in said if item and item.build}
        for item in step.hardware if step.id in begun else ():
            if item.build and builds.get(item.build, item.build_option) != item.build_option:
                continue  # another build is there
            word = last_word.get(item)
            if item.always_replace and word not in WANTED:
                yield Wanted(
                    disposition="always",
                    part=item.part,
                    step=step.id,
                    expected=item.count,
                    home=item.place,
                    said_reuse=word == "reuse",
                    always=True,
                    **_size(None, item),
                )


class _Sized(TypedDict):
    size: tuple[str, ...]
    size_by: Literal["said", "outline"] | None


def _size(finding: Finding | None, item: Hardware | None) -> _Sized:
    """Give the size that was said; what was not said of it is the outline's only as a whole."""
    said = tuple(size_texts(finding.size)) if finding else ()
    if said:
        return {"size": said, "size_by": "said"}
    known = hardware_size(item) if item else ()
    return {"size": known, "size_by": "outline" if known else None}


def hardware_size(item: Hardware) -> tuple[str, ...]:
    """Say the size that the outline gives: ("3/8-16", "1 1/4 in long", "9/16 in across flats")."""
    return tuple(
        text
        for text in (
            item.thread,
            item.length and f"{item.length} long",
            item.head and f"{item.head} across flats",
        )
        if text
    )
