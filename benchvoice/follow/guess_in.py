"""The step of a remark where a job stands, taken apart or put together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from benchvoice.follow.asked_for import back_instead, checks, put_back_at
from benchvoice.follow.counts import ON, PUTTING
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


def asked_by(job: Job, findings: Sequence[Finding]) -> str | None:
    """Give the step that a remark is of, whatever else it is like, while a unit goes together.

    What answers a check of the step that was said to begin is of it; what goes in, of the step
    that puts the only parts back that it is like.
    """
    begun = job.outline.by_id.get(job.begun or "")
    if not job.together or begun is None or job.outline.kind_of[begun.id] not in PUTTING:
        return None
    if all(checks(begun, one) for one in findings):
        return begun.id
    if not all(one.action in ON and one.part for one in findings):
        return None
    puts_back = put_back_at(job.outline)
    steps = {puts_back.get(line.step) for one in findings for line in job.lines.find(one)}
    return steps.pop() if len(steps) == 1 else None


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
