"""What is said back to a question."""

from __future__ import annotations

from collections.abc import Sequence

from benchvoice.follow.counts import Count
from benchvoice.follow.events import LogEntry
from benchvoice.follow.heeds import cautions_before
from benchvoice.follow.job import Job
from benchvoice.follow.ledger_values import LedgerLine
from benchvoice.follow.reassembly import back_text
from benchvoice.follow.wording import finding_text, parts_text
from benchvoice.grammar.outline import Outline


def coming(job: Job) -> str:
    """Say what is still to come off (or go in) here, and the next step with its cautions."""
    here = " ".join(here_texts(job))
    step = job.following
    if step is None and not job.outline.stage and not job.state.assembling:
        return "There is no outline: nothing is known to come."
    if step is None:
        return f"{here} Next: nothing, that was the last step.".lstrip()
    cautions = cautions_before(step, job.outline, {*job.state.started, job.state.current or ""})
    return " ".join([*([here] if here else []), f"Next: {step.title}.", *cautions])


def how_many(job: Job) -> str:
    """Say what the current step is expected to yield or take, and what was said so far."""
    step = job.step
    if step is None:
        return "No step is under way: say start and the step's name."
    back = job.back_step(step.id)
    if back is not None and back.items:
        return f"{step.title}: {', '.join(_gone_in(item.line) for item in back.items)}."
    counts = [count for count in job.counts_of(step.id) if count.expected]
    if not counts:
        return f"{step.title}: the outline lists no parts here."
    return f"{step.title}: {', '.join(_so_far(count) for count in counts)}."


def read_back(entries: Sequence[LogEntry], outline: Outline | None) -> str:
    """Say the last entry as it was understood."""
    if not entries:
        return "Nothing is recorded yet."
    last = entries[-1]
    step = outline.by_id.get(last.step or "") if outline else None
    title = step.title if step else last.step or "no step"
    if last.kind == "finding":
        return f"{title}: {'; '.join(finding_text(finding) for finding in last.findings)}."
    text = f": {last.heard}" if last.kind == "noted" and last.heard else ""
    return f"{title}, {last.kind}{text}."


def here_texts(job: Job) -> list[str]:
    """Say what is still to be found, or to go in and be measured, in the step under way."""
    back = job.back_step(job.state.current)
    if back is not None:
        return [f"{text.removesuffix('.')}." for text in back_text(back)]
    counts = job.counts_of(job.state.current)
    open_ = [count for count in counts if count.expected and not count.mentioned]
    sure = [_expected(count) for count in open_ if count.build is None]
    builds: dict[str, list[str]] = {}
    for count in open_:
        if count.build is not None:
            builds.setdefault(count.build, []).append(_expected(count))
    named = [*sure, *(" or ".join(options) for options in builds.values())]
    return [f"Here: {', '.join(named)}."] if named else []


def _gone_in(line: LedgerLine) -> str:
    return f"{line.text} ({line.back or 0} gone in)" if line.came is not None else line.text


def _expected(count: Count) -> str:
    place = f", {count.place}" if count.place else ""
    return f"{parts_text(count.part, count.expected)}{place}"


def _so_far(count: Count) -> str:
    if not count.mentioned:
        return _expected(count)
    said = "no number said" if count.said is None else f"{count.said} said"
    return f"{_expected(count)} ({said})"
