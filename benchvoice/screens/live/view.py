"""What the live screen shows, as one immutable value."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from benchvoice.bench.desk import Recorded
from benchvoice.follow import Count, Job, State
from benchvoice.follow.heeds import cautions_before
from benchvoice.follow.job import step_of
from benchvoice.follow.reassembly import BackItem
from benchvoice.grammar import Outline, Pack, Step

LOUD_DBFS = -6.0
"""An RMS level above which peaks are cut off: those of a vowel are some 6 to 10 dB above it (from
memory, no source)."""
_KEPT = 8
_LOUD_SECONDS = 3.0
"""How long too loud a sound is told of; one loud word would be missed else."""


@dataclass(frozen=True, kw_only=True)
class Ear:
    """The microphone: `level` in dBFS, None without one, and in words whether what is said counts.

    `deaf` tells that it was told not to listen.
    """

    level: float | None = None
    state: str = "LISTENING"
    deaf: bool = False


def _gone_in(item: BackItem) -> Count:
    """Give what goes in as a count: so many gone in of so many that came out."""
    line = item.line
    whole = line.went_back and line.back is None
    return Count(
        step=line.step,
        part=line.part,
        place=line.place,
        expected=line.goes_in,
        said=line.goes_in if whole else line.back,
        mentioned=line.went_back,
    )


@dataclass(frozen=True, kw_only=True)
class View:
    """The job `job` at this moment, kept in `folder`.

    `said` are the last entries, newest last; `notices` what the program has to
    tell (a lost microphone).  `counts` are what the step is expected to yield
    and what was said of it, or what goes in and what is in.  `open` are
    warnings and notices not yet seen: they stay until the next remark, or
    until they are acknowledged.  `elapsed` is in seconds of the sitting, and
    `loud_until` too.
    """

    outline: Outline
    state: State
    job: str = ""
    folder: str = ""
    counts: tuple[Count, ...] = ()
    said: tuple[Recorded, ...] = ()
    open: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()
    ear: Ear = field(default_factory=Ear)
    elapsed: float = 0.0
    loud_until: float = 0.0

    @property
    def last(self) -> Recorded | None:
        """The last entry."""
        return self.said[-1] if self.said else None

    @property
    def step(self) -> Step | None:
        """The step under way, which "done" is of: after an aside the one that was worked on."""
        return step_of(self.at_hand, self.outline)

    @property
    def at_hand(self) -> str | None:
        """The same, as it is called."""
        return Job(self.state, Pack(outline=self.outline)).at_hand.state.current

    @property
    def cautions(self) -> tuple[str, ...]:
        """What is to be heeded in the step under way and in the one aside, what can hurt first."""
        aside = self.outline.by_id.get(self.state.current or "")
        steps = dict.fromkeys([aside, self.outline.by_id.get(self.at_hand or "")])
        each = (cautions_before(step, self.outline) for step in steps if step is not None)
        return tuple(dict.fromkeys(caution for cautions in each for caution in cautions))

    @property
    def question(self) -> str | None:
        """What was asked back after the last entry."""
        return self.last.question if self.last else None

    @property
    def loud(self) -> bool:
        """Whether it was too loud just now."""
        return self.elapsed < self.loud_until

    def recorded(self, item: Recorded, state: State) -> View:
        """Take in an entry, and the state that it left."""
        return replace(
            self.standing(state),
            said=(*self.said, item)[-_KEPT:],
            open=tuple(item.event.warnings),
        )

    def standing(self, state: State) -> View:
        """Take in how the job stands."""
        job = Job(state, Pack(outline=self.outline)).at_hand
        here = job.state.current
        back = job.back_step(here)
        counts = job.counts_of(here) if back is None else tuple(map(_gone_in, back.items))
        return replace(self, state=state, counts=counts)

    def told(self, text: str) -> View:
        """Take in something that is no entry; it stays until it is acknowledged."""
        return replace(self, notices=(*self.notices, text))

    def acknowledged(self) -> View:
        """Take away the warnings and notices: they were seen."""
        return replace(self, open=(), notices=())

    def at(self, elapsed: float, ear: Ear) -> View:
        """Let time go by: the clock and the microphone."""
        until = self.loud_until
        if ear.level is not None and ear.level > LOUD_DBFS:
            until = elapsed + _LOUD_SECONDS
        return replace(self, elapsed=elapsed, ear=ear, loud_until=until)
