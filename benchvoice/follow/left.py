"""What is left of a job, the nearest first: here, of this stage, after it, and what is open."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from benchvoice.follow.answers import here_texts
from benchvoice.follow.counts import PUTTING, count_warnings
from benchvoice.follow.job import Job
from benchvoice.follow.ledger_answers import UNDECIDED, UNMEASURED, out_text, out_texts
from benchvoice.follow.reassembly import BackStep
from benchvoice.follow.wording import listed
from benchvoice.grammar.outline import Step

MAX_STEPS_NAMED = 5
"""More step titles than this are not listened to."""


def remaining(job: Job) -> list[str]:
    """Say what is left, a line each: the nearest first, and what does not add up last."""
    if not job.outline.stage:
        return out_texts(job) if job.book.stripped else ["Nothing is out, and there is no outline."]
    said = [*_here(job), *_steps(job), *_open(job)]
    counts = [f"{text}." for text in count_warnings(job.counts, job.outline)]
    return [*said, *counts] or ["All steps are done." if _all_done(job) else "Nothing is left."]


def _all_done(job: Job) -> bool:
    return all(step.id in job.state.done for step in job.outline.steps())


def _here(job: Job) -> Iterator[str]:
    """What the step under way still lacks; its notes and orders were told when it was begun."""
    here = job.state.current
    if here is None or job.is_done(here):
        return
    back = job.back_step(here)
    if back is None:
        yield from here_texts(job)
    elif back.left:
        yield f"To go in here: {'; '.join(out_text(item.line) for item in back.left)}."
    unread = [one.name for one in job.readings if one.step == here and one.measured is None]
    if unread:
        yield f"To measure here: {', '.join(unread)}."
    unsaid = [one.text for one in job.checks if one.step == here and one.said is None]
    if unsaid:
        yield f"To check here: {', '.join(unsaid)}."


def _steps(job: Job) -> Iterator[str]:
    """The steps that were not begun: of this stage by name, those passed over, those to come."""
    if job.puts_strip(job.state.current):
        yield from _backwards(job)
        return
    stages = [
        (one, [step for step in one.step if _is_left(job, step)]) for one in job.outline.stage
    ]
    ids = [{step.id for step in stage.step} for stage, _ in stages]
    at = next((at for at, known in enumerate(ids) if job.state.current in known), 0)
    here, left = stages[at]
    if left:
        yield f"{here.title}, {len(left)} of {len(here.step)} steps to begin: {_titles(left)}."
    passed = [step for _, before in stages[:at] for step in before]
    if passed:
        yield f"Passed over: {_titles(passed)}."
    later = [f"{stage.title} {len(after)}" for stage, after in stages[at + 1 :] if after]
    if later:
        yield f"Steps after that: {', '.join(later)}."


def _titles(steps: Sequence[Step | BackStep]) -> str:
    return listed([step.title for step in steps], MAX_STEPS_NAMED)


def _is_left(job: Job, step: Step) -> bool:
    """Whether a step is still to be begun; what came off not at all needs no putting back."""
    if step.id in job.state.started or step.id in job.state.done or step.id == job.state.current:
        return False
    putting = job.puts(job.state.current) and job.outline.kind_of[step.id] in PUTTING
    return not putting or any(one.id == step.id for one in job.back)


def _backwards(job: Job) -> Iterator[str]:
    """The steps that are put back one after another where the outline has no others for it."""
    left = [
        step
        for step in job.back
        if step.id != job.state.current
        and not job.is_done_back(step.id)
        and not any(item.line.went_back for item in step.items)
    ]
    if left:
        yield f"To put back: {_titles(left)}."


def _open(job: Job) -> Iterator[str]:
    """How much is open, by the question that tells which."""
    kinds = [one.kind for one in job.open]
    numbers = [
        (kinds.count("out"), "still out"),
        (sum(kind in UNDECIDED for kind in kinds), "undecided"),
        (sum(kind in UNMEASURED for kind in kinds), "unmeasured or unchecked"),
    ]
    told = [f"{number} {what}" for number, what in numbers if number]
    if told:
        yield f"Open: {', '.join(told)}."
