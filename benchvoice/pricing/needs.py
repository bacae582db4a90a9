"""Parts that a job needs: by what its session says, and by the outline's own rule."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

from benchvoice.grammar.outline import Outline
from benchvoice.pricing.values import Needed, Work
from benchvoice.session.values import Session
from benchvoice.sheets.said import Titles, titles_of
from benchvoice.sheets.wanted import Wanted, hardware_size, wanted

_WORK: dict[str, Work] = {work: work for work in get_args(Work)}


def needs(outline: Outline, session: Session | None = None) -> tuple[Needed, ...]:
    """Give the parts of the session, and those that the outline always replaces in every step.

    Without a session, as before the unit is opened, they are the outline's alone.
    """
    said = () if session is None else wanted(session, outline)
    begun = {one.step for one in said if one.disposition == "always"} | _touched(session)
    titles = titles_of(outline)
    return (*(_needed(one, titles) for one in said), *_of_outline(outline, begun))


def _touched(session: Session | None) -> set[str | None]:
    """The steps for which the session's own list has the outline's parts in it."""
    entries = () if session is None else session.standing
    return {entry.step for entry in entries if entry.kind in ("finding", "started")}


def _needed(one: Wanted, titles: Titles) -> Needed:
    counts = (one.count, one.counted, one.expected)
    rule = ("always replaced",) if one.disposition == "always" else ()
    reasons = (*one.conditions, *rule)
    return Needed(
        part=one.part,
        count=next((count for count in counts if count is not None), None),
        place=one.place or one.home or "",
        size=", ".join(one.size),
        work="decide" if one.said_reuse else _WORK[one.disposition],
        why=", ".join(reasons) or "no reason said",
        step=titles.get(one.step or "", one.step),
        entry=one.entry,
        clip=one.clip,
    )


def _of_outline(outline: Outline, begun: set[str | None]) -> Iterator[Needed]:
    for step in outline.steps():
        for item in step.hardware if step.id not in begun else ():
            if item.always_replace:
                yield Needed(
                    part=item.part,
                    count=item.count,
                    place=item.place or "",
                    size=", ".join(hardware_size(item)),
                    work="always",
                    why="always replaced",
                    step=step.title,
                )
