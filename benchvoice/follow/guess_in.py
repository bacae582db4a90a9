"""The step of a remark where a job stands, taken apart or put together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from benchvoice.follow.asked_for import back_instead
from benchvoice.follow.events import State
from benchvoice.follow.guess import guess_step
from benchvoice.follow.job import Job
from benchvoice.grammar.pack import Pack
from benchvoice.remark import Finding, Remark, StepGuess


def guess_in(
    state: State, pack: Pack, remark: Remark, others: Sequence[str] = ()
) -> StepGuess | None:
    """Guess the step of a remark where a job stands; None for a command or without an outline."""
    if pack.outline is None or remark.kind == "command":
        return None
    return guessed(Job(state, pack).at_work, remark, others)


def guessed(job: Job, remark: Remark, others: Sequence[str]) -> StepGuess | None:
    """Guess the step of a remark; `others` are further texts that an engine had."""
    state = job.state
    guess = guess_step(
        remark, job.outline, state.current,
        done=state.done, log=state.log, pack=job.pack, others=others,
    )  # fmt: skip
    return _putting_back(job, remark.findings, guess)


def _putting_back(
    job: Job, findings: Iterable[Finding], guess: StepGuess | None
) -> StepGuess | None:
    """Put what is of a strip step with the step that puts it back, while that goes on."""
    if guess is None:
        return None
    back = back_instead(findings, job.begun, job.outline)
    if not back:
        return guess
    own = back.get(guess.id, guess.id)
    each = tuple(back.get(one, one) for one in guess.each)
    others = tuple(other for one in guess.others if (other := back.get(one, one)) != own)
    margin = guess.margin if others else None
    return replace(guess, id=own, each=each, others=others, margin=margin)
