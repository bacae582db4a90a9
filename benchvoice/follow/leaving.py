"""What a step leaves open when it is left or finished: nothing is unaccounted for silently."""

from __future__ import annotations

from collections.abc import Iterator

from benchvoice.follow.counts import PUTTING, count_warnings, missing_warnings
from benchvoice.follow.job import Job
from benchvoice.follow.keeping import going_in, leaving_warnings
from benchvoice.follow.open_questions import OpenKind
from benchvoice.follow.wording import listed

MAX_NAMED = 6
"""More things than this are not listened to."""


def leaving(job: Job, to: str | None) -> tuple[str, ...]:
    """Say what does not add up in the step that is left by saying so, for step `to`."""
    state, step = job.state, job.state.current
    if step is None or step == to or step not in state.started or job.is_done(step):
        return ()
    return left_open(job, step)


def left_open(job: Job, step_id: str) -> tuple[str, ...]:
    """Say all that a step leaves open."""
    outline = job.outline
    if job.puts_strip(step_id):
        return tuple(going_in(job.book.of_step(step_id), outline))
    step = outline.by_id.get(step_id)
    if step is None:
        return ()
    counts = job.counts_of(step_id)
    texts = [
        *count_warnings(counts, outline),
        *missing_warnings(counts, outline),
        *leaving_warnings(step, job.book, outline),
        *_unread(job, step_id),
        *_undecided(job, step_id),
        *_still_out(job, step_id),
    ]
    return tuple(dict.fromkeys(texts))


def held_by(job: Job, step_id: str) -> tuple[str, ...]:
    """Say what is out of its limit, or not as its check wants it, in a step that puts together."""
    if not job.puts(step_id):
        return ()
    return (
        *(
            reading.text
            for reading in job.readings
            if reading.step == step_id and reading.complaint is not None
        ),
        *failed(job, step_id),
    )


def failed(job: Job, step_id: str) -> Iterator[str]:
    """Say what is not as the checks of a step want it."""
    yield from (one.complaint for one in job.checks if one.step == step_id and one.complaint)


def _unread(job: Job, step_id: str) -> Iterator[str]:
    yield from held_by(job, step_id) or failed(job, step_id)
    for reading in job.readings:
        if reading.step == step_id and reading.measured is None:
            yield reading.text
    for check in job.checks:
        if check.step == step_id and check.said is None:
            yield f"{check.text}: not said"


def _undecided(job: Job, step_id: str) -> Iterator[str]:
    """Nothing is decided without all of it having been looked at."""
    if job.outline.kind_of[step_id] != "decide":
        return
    yield from to_decide(job)


def to_decide(job: Job) -> Iterator[str]:
    """Say what nobody has decided on, and what is out of its limit or not as it should be."""
    for kind, name in _TO_DECIDE:
        texts = [one.text for one in job.open if one.kind == kind]
        if texts:
            yield f"{name}: {listed(texts, MAX_NAMED, '; ')}"


_TO_DECIDE: tuple[tuple[OpenKind, str], ...] = (
    ("undecided", "not decided on"),
    ("out of limit", "out of limit"),
    ("check failed", "check failed"),
)


def _still_out(job: Job, step_id: str) -> Iterator[str]:
    """At the end of a stage that puts together or tests, what is out of no later step is told."""
    stage = next(
        stage for stage in job.outline.stage if any(step.id == step_id for step in stage.step)
    )
    if stage.kind not in PUTTING or stage.step[-1].id != step_id:
        return
    ids = [step.id for step in job.back]
    after = job.back[ids.index(step_id) + 1 :] if step_id in ids else ()
    later = {source for step in after for source in step.sources}
    texts = [line.text for line in job.book.out if line.step not in later]
    if texts:
        yield f"still out: {listed(texts, MAX_NAMED, '; ')}"
