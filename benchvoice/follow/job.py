"""What is known of the job while one remark is taken in."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from msgspec.structs import replace

from benchvoice.follow.accounts import NO_OUTLINE, RECENT, Accounts
from benchvoice.follow.counts import PUTTING, Count
from benchvoice.follow.events import State
from benchvoice.follow.ledger_homes import Lines
from benchvoice.follow.ledger_values import Ledger
from benchvoice.follow.open_questions import OpenQuestion, open_in
from benchvoice.follow.readings import Checked, Reading
from benchvoice.follow.reassembly import BackStep
from benchvoice.grammar.outline import Outline, Step
from benchvoice.grammar.pack import Pack

_BACKWARDS = frozenset({"strip", None})
"""Kinds of steps that are gone through backwards; where there is no outline they have none."""


def step_of(step: str | None, outline: Outline) -> Step | None:
    """Give a step of the outline; where there is no outline, it is what it was called."""
    if step and not outline.stage:
        return Step(id=step, title=step)
    return outline.by_id.get(step or "")


@dataclass(frozen=True)
class Job:
    """A state and the pack that it is followed with; what is made of them is made once."""

    state: State
    pack: Pack

    @property
    def outline(self) -> Outline:
        """The outline; one without steps when there is none."""
        return self.pack.outline or NO_OUTLINE

    @property
    def step(self) -> Step | None:
        """The step under way."""
        return self.outline.by_id.get(self.state.current or "")

    @cached_property
    def accounts(self) -> Accounts:
        """What was said, summed up."""
        return RECENT.of(self.state.log, self.outline, self.pack.unit)

    @property
    def counts(self) -> tuple[Count, ...]:
        """What was counted against what the outline expects."""
        return self.accounts.counts

    @property
    def book(self) -> Ledger:
        """The hardware ledger."""
        return self.accounts.ledger

    @property
    def back(self) -> tuple[BackStep, ...]:
        """The steps of putting together."""
        return self.accounts.back

    @property
    def readings(self) -> tuple[Reading, ...]:
        """The limits and what was measured."""
        return self.accounts.due

    @property
    def checks(self) -> tuple[Checked, ...]:
        """The checks and what was said to them."""
        return self.accounts.checks

    @cached_property
    def open(self) -> tuple[OpenQuestion, ...]:
        """What is open."""
        return open_in(self.accounts, self.pack, started=self.state.started, done=self.state.done)

    def counts_of(self, step: str | None) -> tuple[Count, ...]:
        """Give the counts of one step."""
        return tuple(count for count in self.counts if count.step == step)

    @cached_property
    def lines(self) -> Lines:
        """The lines of the ledger, by what a finding is of."""
        return Lines(self.book.lines, self.outline)

    def puts(self, step: str | None) -> bool:
        """Whether work on a step puts parts back."""
        kind = self.outline.kind_of.get(step or "")
        return kind in PUTTING or (self.state.assembling and kind in _BACKWARDS)

    def puts_strip(self, step: str | None) -> bool:
        """Whether a strip step is gone through backwards."""
        return self.puts(step) and self.outline.kind_of.get(step or "") in _BACKWARDS

    @cached_property
    def begun(self) -> str | None:
        """The step last said to begin."""
        started = (entry.step for entry in reversed(self.state.log) if entry.kind == "started")
        return next(started, None)

    @cached_property
    def gone_to(self) -> bool:
        """Whether the user went to the step under way by saying so, without beginning it."""
        entered = (one for one in reversed(self.state.log) if one.kind in ("started", "moved"))
        last = next(entered, None)
        return last is not None and (last.kind, last.step) == ("moved", self.state.current)

    @property
    def together(self) -> bool:
        """Whether the unit is put together, also while something was taken off again."""
        begun = self.outline.kind_of.get(self.begun or "")
        return begun in PUTTING or self.puts(self.state.current)

    @property
    def at_work(self) -> Job:
        """The job at the step worked on: what is taken off again is no return to taking apart."""
        if not self.together or self.puts(self.state.current):
            return self
        return Job(replace(self.state, current=self.begun), self.pack)

    @property
    def at_hand(self) -> Job:
        """The job at the step that a command is of: where the user went, else the one worked on."""
        return self if self.gone_to else self.at_work

    def is_done(self, step: str) -> bool:
        """Whether a step is declared done, in the direction that it is gone through now."""
        return step in (self.state.put_back if self.puts_strip(step) else self.state.done)

    def is_done_back(self, step: str) -> bool:
        """Whether a step of putting together is declared done."""
        strips = self.outline.kind_of.get(step) in _BACKWARDS
        return step in (self.state.put_back if strips else self.state.done)

    def step_of(self, step: str | None) -> Step | None:
        """Give a step of the outline; where there is no outline, it is what it was called."""
        return step_of(step, self.outline)

    @cached_property
    def following(self) -> Step | None:
        """The first step after the current one that is not done; None at the end.

        When the unit is put together it is the next that something goes back
        in; what was not taken apart is passed over.  From a step of taking
        apart that was only gone to, it is the one that was being put together.
        """
        state, outline = self.state, self.outline
        if self.puts(state.current):
            return self.step_of(self.next_back(state.current))
        if self.together and self.begun is not None:
            done = self.is_done(self.begun)
            return self.step_of(self.next_back(self.begun) if done else self.begun)
        ids = list(outline.by_id)
        after = ids[ids.index(state.current) + 1 :] if state.current in ids else ids
        back = {step.id for step in self.back}
        return next(
            (
                outline.by_id[step]
                for step in after
                if step not in state.done
                and (not back or step in back or outline.kind_of[step] not in PUTTING)
            ),
            None,
        )

    def next_back(self, current: str | None) -> str | None:
        """Give the step of putting together that comes after `current`; None at the end."""
        ids = [step.id for step in self.back]
        if current in ids:
            ids = ids[ids.index(current) + 1 :]
        elif current is not None:  # it puts back nothing that came off: go on from there
            order = list(self.outline.by_id)
            at = order.index(current) if current in order else -1
            ids = [step for step in ids if step not in order or order.index(step) > at]
        return next((step for step in ids if not self.is_done_back(step)), None)

    def back_step(self, step: str | None) -> BackStep | None:
        """Give a step as it is put together, with what is still to be measured and checked in it.

        None for one that is not put together, or not any more.
        """
        known = next((one for one in self.back if one.id == step), None)
        if known is None or not self.puts(step):
            return None
        limits = [one.limit for one in self.readings if one.step == step and not one.is_well]
        checks = [one.check for one in self.checks if one.step == step and not one.is_well]
        return replace(
            known,
            limits=tuple(one for one in known.limits if one in limits),
            checks=tuple(one for one in known.checks if one in checks),
        )
