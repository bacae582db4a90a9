"""What is known of the job while one remark is taken in."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from benchvoice.follow.counts import PUTTING, Count, tally
from benchvoice.follow.events import State, standing
from benchvoice.follow.ledger import ledger
from benchvoice.follow.ledger_values import Ledger
from benchvoice.follow.open_questions import OpenQuestion, open_questions
from benchvoice.follow.readings import Checked, Reading, checks, readings
from benchvoice.follow.reassembly import BackStep, reassembly
from benchvoice.grammar.outline import Outline, Step
from benchvoice.grammar.pack import Pack
from benchvoice.remark import Finding

_NO_OUTLINE = Outline(name="", title="", unit="", stage=())


@dataclass(frozen=True)
class Job:
    """A state and the pack that it is followed with; what is made of them is made once."""

    state: State
    pack: Pack

    @property
    def outline(self) -> Outline:
        """The outline; one without steps when there is none."""
        return self.pack.outline or _NO_OUTLINE

    @property
    def step(self) -> Step | None:
        """The step under way."""
        return self.outline.by_id.get(self.state.current or "")

    @cached_property
    def said(self) -> tuple[tuple[str | None, tuple[Finding, ...]], ...]:
        """What stands, as (step id, findings)."""
        return standing(self.state.log)

    @cached_property
    def counts(self) -> tuple[Count, ...]:
        """What was counted against what the outline expects."""
        return tally(self.said, self.outline)

    @cached_property
    def book(self) -> Ledger:
        """The hardware ledger."""
        return ledger(self.said, self.outline)

    @cached_property
    def back(self) -> tuple[BackStep, ...]:
        """The steps of putting together."""
        return reassembly(self.book, self.outline)

    @cached_property
    def readings(self) -> tuple[Reading, ...]:
        """The limits and what was measured."""
        return readings(self.said, self.outline, {unit.name: unit for unit in self.pack.unit})

    @cached_property
    def checks(self) -> tuple[Checked, ...]:
        """The checks and what was said to them."""
        return checks(self.said, self.outline)

    @cached_property
    def open(self) -> tuple[OpenQuestion, ...]:
        """What is open."""
        return open_questions(
            self.said, self.pack, started=self.state.started, done=self.state.done
        )

    def counts_of(self, step: str | None) -> tuple[Count, ...]:
        """Give the counts of one step."""
        return tuple(count for count in self.counts if count.step == step)

    def puts(self, step: str | None) -> bool:
        """Whether work on a step puts parts back."""
        kind = self.outline.kind_of.get(step or "")
        return kind in PUTTING or (self.state.assembling and kind == "strip")

    def back_step(self, step: str | None) -> BackStep | None:
        """Give a step as it is put together; None for one that is not, or not any more."""
        if not self.puts(step):
            return None
        return next((one for one in self.back if one.id == step), None)
