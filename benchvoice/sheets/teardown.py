"""The teardown record: what was taken apart, found, counted and measured, step by step."""

from __future__ import annotations

from collections.abc import Container

from benchvoice.follow.counts import Count, tally
from benchvoice.grammar.outline import Outline
from benchvoice.remark import Frozen
from benchvoice.session.timing import labour
from benchvoice.session.values import Damage, Entry, Session, Sitting
from benchvoice.sheets.book import Book
from benchvoice.sheets.containers import Kept, containers_of
from benchvoice.sheets.head import SheetHead, head_of
from benchvoice.sheets.measures import Measured, measures_of
from benchvoice.sheets.said import (
    Titles,
    entry_texts,
    open_count_texts,
    standing_warnings,
    title_of,
    titles_of,
    unsure_texts,
    with_title,
)

_SHOWN = frozenset({"finding", "noted", "photo", "started", "finished", "moved", "assembling"})


class Line(Frozen, frozen=True, kw_only=True):
    """One entry: when (`wall` ISO 8601, `t` seconds of the sitting), what, and what to look at.

    `texts` are its facts, `warnings` those that still stand, `unsure` why it
    should be heard again.  `recorded` is what was heard or typed at the bench
    of an entry that was corrected by hand since.  `clip` is relative to the
    session folder.
    """

    seq: int
    sitting: int
    t: float
    wall: str
    kind: str
    texts: tuple[str, ...]
    warnings: tuple[str, ...] = ()
    unsure: tuple[str, ...] = ()
    recorded: tuple[str, ...] = ()
    clip: str | None = None


class Counted(Frozen, frozen=True, kw_only=True):
    """A part counted in a step; `expected` is None for what the outline does not list.

    `mentioned` and `spoken_of` are as in `follow.counts.Count`.
    `open` tells that it does not add up: another number was said, or, in a
    step said to be finished, none.
    """

    part: str
    place: str | None = None
    expected: int | None = None
    said: int | None = None
    mentioned: bool = False
    spoken_of: bool = False
    open: bool = False


class TeardownStep(Frozen, frozen=True, kw_only=True):
    """One step: `minutes` worked, its entries in the order said, and its counts.

    `id` is None for what belongs to no step; `finished` tells that it was said
    to be done.
    """

    id: str | None
    title: str
    minutes: float = 0.0
    finished: bool = False
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    lines: tuple[Line, ...] = ()
    counts: tuple[Counted, ...] = ()


class TeardownSheet(Frozen, frozen=True, kw_only=True):
    """The record of a teardown; `minutes` are all that were worked."""

    head: SheetHead
    sittings: tuple[Sitting, ...]
    minutes: float
    steps: tuple[TeardownStep, ...]
    containers: tuple[Kept, ...]
    measures: tuple[Measured, ...]
    open: tuple[str, ...]
    not_understood: tuple[Line, ...]
    damage: tuple[Damage, ...]

    @property
    def off(self) -> tuple[tuple[str, Counted], ...]:
        """Counts that do not add up, each with the title of its step."""
        return tuple(
            (step.title, count) for step in self.steps for count in step.counts if count.open
        )

    @property
    def doubtful(self) -> tuple[Line, ...]:
        """Entries to be heard again."""
        return tuple(line for step in self.steps for line in step.lines if line.unsure)


_TOLD_ELSEWHERE = frozenset({"count", "out of limit", "out"})
"""Kinds of open questions that the counts and measures of the record tell of already, or that
belong to putting together."""


def teardown_sheet(book: Book) -> TeardownSheet:
    """Give the record of a teardown."""
    session = book.session
    still_open = open_count_texts(session, book.outline)
    return TeardownSheet(
        head=head_of("teardown", session, book.outline),
        sittings=session.sittings,
        minutes=round(labour(session).worked, 1),
        steps=_steps(session, book.outline),
        containers=containers_of(book),
        measures=tuple(measures_of(session, book.outline, book.pack.unit_by_name, book.readings)),
        open=tuple(
            with_title(one.step, one.text, book.titles)
            for one in book.questions
            if one.kind not in _TOLD_ELSEWHERE
        ),
        not_understood=tuple(
            line_of(entry, session, still_open)
            for entry in session.standing
            if entry.kind == "unclear"
        ),
        damage=session.damage,
    )


def line_of(
    entry: Entry,
    session: Session,
    still_open: Container[str] | None,
    titles: Titles | None = None,
) -> Line:
    """Give an entry as a line; `still_open` are the count warnings that still stand."""
    before = session.originals(entry.seq) if entry.corrected else ()
    return Line(
        seq=entry.seq,
        sitting=entry.sitting,
        t=entry.t,
        wall=entry.wall,
        kind=entry.kind,
        texts=tuple(entry_texts(entry, titles)),
        warnings=tuple(standing_warnings(entry, still_open)),
        unsure=tuple(unsure_texts(entry)),
        recorded=tuple(one.remark.heard for one in before),
        clip=entry.clip or next((one.clip for one in before if one.clip), None),
    )


def _steps(session: Session, outline: Outline | None) -> tuple[TeardownStep, ...]:
    """Give the steps touched: in the outline's order, then others in the order said."""
    still_open = open_count_texts(session, outline)
    titles = titles_of(outline)
    lines: dict[str | None, list[Line]] = {}
    for entry in session.standing:
        if entry.kind in _SHOWN or (entry.warnings and entry.kind != "unclear"):
            lines.setdefault(entry.step, []).append(line_of(entry, session, still_open, titles))
    minutes = labour(session).steps
    finished = {entry.finishes for entry in session.standing}
    counts = tally(session.findings, outline) if outline else ()
    known = [step_id for step_id in titles if step_id in lines or minutes.get(step_id)]
    others = [step_id for step_id in lines if step_id is not None and step_id not in titles]
    loose = [None] if None in lines else []
    steps = outline.by_id if outline else {}
    return tuple(
        TeardownStep(
            id=step_id,
            title=title_of(step_id, titles),
            minutes=round(minutes.get(step_id or "", 0.0), 1),
            finished=step_id in finished and step_id is not None,
            cautions=steps[step_id].cautions if step_id in steps else (),
            notes=steps[step_id].note if step_id in steps else (),
            lines=tuple(lines.get(step_id, ())),
            counts=tuple(
                _counted(count, step_id in finished)
                for count in counts
                if count.step == step_id and (count.expected, count.said) != (None, None)
            ),
        )
        for step_id in (*known, *others, *loose)
    )


def _counted(count: Count, finished: bool) -> Counted:
    return Counted(
        part=count.part,
        place=count.place,
        expected=count.expected,
        said=count.said,
        mentioned=count.mentioned,
        spoken_of=count.spoken_of,
        open=count.differs or (finished and count.expected is not None and count.said is None),
    )
