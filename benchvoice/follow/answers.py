"""What is said back to a question."""

from __future__ import annotations

from collections.abc import Iterable

from benchvoice.follow.counts import Count, count_warnings, tally
from benchvoice.follow.events import LogEntry, State, standing
from benchvoice.follow.wording import finding_text, parts_text
from benchvoice.grammar.outline import Outline, Step

MAX_STEPS_NAMED = 5
"""More step titles than this are not listened to."""


def counts_of(state: State, outline: Outline, step: str | None) -> tuple[Count, ...]:
    """Give the counts of one step as they stand."""
    return tuple(count for count in tally(standing(state.log), outline) if count.step == step)


def following(state: State, outline: Outline) -> Step | None:
    """Give the first step after the current one that is not done; None at the end."""
    ids = [step.id for step in outline.steps()]
    after = ids.index(state.current) + 1 if state.current in ids else 0
    left = (step_id for step_id in ids[after:] if step_id not in state.done)
    found = next(left, None)
    return outline.by_id[found] if found else None


def coming(state: State, outline: Outline) -> str:
    """Say what is still to come off here, and the next step with its cautions."""
    counts = counts_of(state, outline, state.current)
    open_ = [count for count in counts if count.expected and not count.mentioned]
    here = "Here: " + ", ".join(_expected(count) for count in open_) + ". " if open_ else ""
    step = following(state, outline)
    if step is None:
        return f"{here}Next: nothing, that was the last step."
    return " ".join([f"{here}Next: {step.title}.", *step.cautions])


def how_many(state: State, outline: Outline) -> str:
    """Say what the current step is expected to yield, and what was said so far."""
    step = outline.by_id.get(state.current or "")
    if step is None:
        return "No step is under way: say start and the step's name."
    counts = [count for count in counts_of(state, outline, step.id) if count.expected]
    if not counts:
        return f"{step.title}: the outline lists no parts here."
    return f"{step.title}: {', '.join(_so_far(count) for count in counts)}."


def remaining(state: State, outline: Outline) -> str:
    """Say how many steps are left, which come next, and what does not add up."""
    steps = [step for step in outline.steps() if step.id not in state.done]
    untouched = [step for step in steps if step.id not in state.started]
    if not steps:
        return "All steps are done."
    total = sum(1 for _ in outline.steps())
    named = ", ".join(step.title for step in untouched[:MAX_STEPS_NAMED])
    more = len(untouched) - MAX_STEPS_NAMED
    differing = count_warnings(tally(standing(state.log), outline), outline)
    return " ".join(
        [
            f"{len(steps)} of {total} steps are not finished.",
            *([f"Not begun: {named}{f' and {more} more' if more > 0 else ''}."] if named else []),
            *(f"{text}." for text in differing),
        ]
    )


def read_back(entries: Iterable[LogEntry], outline: Outline | None) -> str:
    """Say the last entry as it was understood."""
    last = next((entry for entry in reversed(tuple(entries))), None)
    if last is None:
        return "Nothing is recorded yet."
    step = outline.by_id.get(last.step or "") if outline else None
    title = step.title if step else last.step or "no step"
    if last.kind == "finding":
        return f"{title}: {'; '.join(finding_text(finding) for finding in last.findings)}."
    text = f": {last.heard}" if last.kind == "noted" and last.heard else ""
    return f"{title}, {last.kind}{text}."


def _expected(count: Count) -> str:
    place = f", {count.place}" if count.place else ""
    return f"{parts_text(count.part, count.expected)}{place}"


def _so_far(count: Count) -> str:
    if not count.mentioned:
        return _expected(count)
    said = "no number said" if count.said is None else f"{count.said} said"
    return f"{_expected(count)} ({said})"
