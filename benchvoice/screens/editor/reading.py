"""What typed text would become in its place: the bench's own understanding, used at the desk."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from itertools import pairwise

from msgspec.structs import replace

from benchvoice.follow import State, StepEvent, advance, restore
from benchvoice.grammar import Pack
from benchvoice.language import Parser
from benchvoice.remark import Finding, Remark, StepGuess
from benchvoice.screens.completing import Words
from benchvoice.session import Entry, Session

_SURE = StepGuess(id="", score=100.0)


class Reader:
    """Understands typed remarks; the pack and the parser are made when first needed."""

    def __init__(self, load: Callable[[], Pack]) -> None:
        self._load = load

    @cached_property
    def pack(self) -> Pack:
        """The words."""
        return self._load()

    @cached_property
    def parser(self) -> Parser:
        """Their parser."""
        return Parser(self.pack)

    @cached_property
    def words(self) -> Words:
        """What is offered while typing."""
        return Words(self.pack)

    def read(self, text: str, state: State, step: str | None, at: float = 0.0) -> StepEvent:
        """Give the event that `text` makes in `state`; `step` is kept when it is given."""
        remark = self.parser.parse(text.strip())
        if step is not None and remark.kind == "remark":
            remark = replace(remark, step=replace(_SURE, id=step))
        return advance(state, remark, self.pack, at)[1]

    def warnings(
        self, findings: tuple[Finding, ...], state: State, step: str | None
    ) -> tuple[str, ...]:
        """Give what findings warn of that nobody said in words: counts, sizes and limits."""
        where = None if step is None else replace(_SURE, id=step)
        remark = Remark(heard="", kind="remark", findings=findings, step=where)
        return advance(state, remark, self.pack, 0.0)[1].warnings


def state_before(session: Session, entry: Entry) -> State:
    """Give the state of the job just before `entry` was said, from all that stands before it."""
    return restore(session.log_before(entry.seq), session.last_seq)


def state_after(session: Session, entry: Entry | None) -> State:
    """Give the state of the job just after `entry`, or at the end of all for None."""
    later = None if entry is None else _next_to(session, entry)
    log = session.log if later is None else session.log_before(later.seq)
    return restore(log, session.last_seq)


def _next_to(session: Session, entry: Entry) -> Entry | None:
    return next((two for one, two in pairwise(session.entries) if one.seq == entry.seq), None)
