"""What following gives: step events, and the state they are made from."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from typing import Literal

from msgspec.structs import replace

from benchvoice.remark import Finding, Frozen, Remark

EventKind = Literal[
    "finding",
    "noted",
    "photo",
    "started",
    "finished",
    "moved",
    "assembling",
    "held",
    "paused",
    "resumed",
    "struck",
    "recounted",
    "asked",
    "answered",
    "voice",
    "unclear",
]
"""What happened.  "started" is start and next, "moved" is go and back, "asked" is any question,
"assembling" begins to put together in the step that came apart last, where the outline has no
steps for it, "held" is a step that was not finished because of a limit or a check, "answered" is
yes, no and later, "voice" is how the bench listens and speaks, "unclear" changed nothing."""

STRIKABLE: frozenset[str] = frozenset(
    {"finding", "noted", "photo", "started", "finished", "moved", "assembling"}
)
"""Kinds that "strike that" takes back."""

COMMANDED: frozenset[str] = frozenset({"started", "moved", "finished", "assembling"})
"""Kinds that a command made, at a step that is known."""


class StepEvent(Frozen, frozen=True, kw_only=True):
    """One remark put in its place on the outline.

    `seq` counts the events of a job from 1; `step` is a step id; `at` is in
    seconds on the clock of the sitting.  `warnings` are shown at once,
    `cautions` before work on a step begins, `answer` is said back.
    `finishes` is the step that this event declares done; `amends` is the
    `seq` of the event struck, recounted or, when "answered", confirmed.
    """

    seq: int
    kind: EventKind
    at: float
    remark: Remark
    step: str | None = None
    warnings: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    answer: str | None = None
    amends: int | None = None
    finishes: str | None = None


class LogEntry(Frozen, frozen=True, kw_only=True):
    """An event that stands (struck ones are gone, recounts are in `findings`).

    `sure` is the confidence in what was heard (1 when typed), `others` are the engine's further
    texts.
    """

    seq: int
    kind: EventKind
    step: str | None
    findings: tuple[Finding, ...] = ()
    finishes: str | None = None
    heard: str = ""
    sure: float = 1.0
    others: tuple[str, ...] = ()


class State(Frozen, frozen=True, kw_only=True):
    """Where the job stands; `advance` makes the next one.

    `current` is the step under way, `started` those begun or touched, `done`
    those declared finished.  `running` is the clock; `noting` means that the
    next thing said is a note, whatever it is.  `assembling` tells that putting
    together was begun where the outline has no steps for it; `put_back` are the
    steps finished since.  `held` is a step that was not finished because
    something is out of its limit: said again, it is.  `seq` is that of the last
    event, `asking` that of the entry about which a yes or no is waited for, `unit_of` what was
    just said of which the unit was asked, `unsure_of` what was just heard too badly to be done:
    heard again, it is.  `untold` are the lines of the answer to the question `told_of` that were
    not said yet.
    """

    log: tuple[LogEntry, ...] = ()
    current: str | None = None
    started: frozenset[str] = frozenset()
    done: frozenset[str] = frozenset()
    running: bool = True
    noting: bool = False
    assembling: bool = False
    put_back: frozenset[str] = frozenset()
    held: str | None = None
    seq: int = 0
    asking: int | None = None
    unit_of: str = ""
    unsure_of: str = ""
    told_of: str = ""
    untold: tuple[str, ...] = ()


def sure_of(remark: Remark) -> float:
    """Give the confidence in what was heard, 1 when it was typed or settled by hand."""
    return 1.0 if remark.confidence is None else remark.confidence


def standing(log: Iterable[LogEntry]) -> tuple[tuple[str | None, tuple[Finding, ...]], ...]:
    """Give what stands of what was found, as (step id, findings) in the order said."""
    return tuple(
        group
        for entry in log
        if entry.kind == "finding"
        for group in by_step(entry.step, entry.findings)
    )


def by_step(
    step: str | None, findings: Iterable[Finding]
) -> tuple[tuple[str | None, tuple[Finding, ...]], ...]:
    """Group the findings of a remark at `step` by the steps that they are of, in the order said."""
    groups = groupby(findings, key=lambda finding: finding.own_step or step)
    return tuple((own, tuple(group)) for own, group in groups)


def with_log(state: State, log: Iterable[LogEntry]) -> State:
    """Give `state` with `log`, and with the place on the outline that follows from it."""
    start = State()
    nowhere = replace(
        state,
        log=(),
        current=start.current,
        started=start.started,
        done=start.done,
        assembling=start.assembling,
        put_back=start.put_back,
    )
    return with_entries(nowhere, log)


def with_entries(state: State, entries: Iterable[LogEntry]) -> State:
    """Give `state` with more entries, and with the place on the outline that they lead to."""
    more = tuple(entries)
    current, assembling = state.current, state.assembling
    started, done, put_back = set(state.started), set(state.done), set(state.put_back)
    for entry in more:
        assembling |= entry.kind == "assembling"
        if entry.finishes is not None:
            if assembling:
                put_back.add(entry.finishes)
            done.add(entry.finishes)
            started.add(entry.finishes)
        if entry.step is not None:
            current = entry.step
            if entry.kind != "moved":
                started.add(entry.step)
            started.update(finding.own_step for finding in entry.findings if finding.own_step)
            if entry.kind == "started":
                done.discard(entry.step)
    return replace(
        state,
        log=(*state.log, *more) if more else state.log,
        current=current,
        started=frozenset(started),
        done=frozenset(done),
        assembling=assembling,
        put_back=frozenset(put_back),
    )


def recounted(
    findings: tuple[Finding, ...], number: int, part: str | None = None
) -> tuple[Finding, ...]:
    """Put `number` in the last counted finding, or in the last one when none is counted.

    With `part`, in the last counted one of that part when there is one.  Gives `findings` back
    when there are none.
    """
    if not findings:
        return findings
    counted = [index for index, finding in enumerate(findings) if finding.count is not None]
    counted = [index for index in counted if findings[index].part == part] or counted
    at = counted[-1] if counted else len(findings) - 1
    return (*findings[:at], replace(findings[at], count=number), *findings[at + 1 :])
