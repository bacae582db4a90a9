"""One remark after another: the state of the job carried on."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from benchvoice.follow.align import aligner_of
from benchvoice.follow.change import Change, unclear
from benchvoice.follow.commands import act, recount
from benchvoice.follow.counts import OFF, PUTTING, Count, count_warnings, expected_for
from benchvoice.follow.events import (
    STRIKABLE,
    EventKind,
    LogEntry,
    State,
    StepEvent,
    by_step,
    with_log,
)
from benchvoice.follow.guess import guess_step
from benchvoice.follow.heeds import cautions_before
from benchvoice.follow.job import Job
from benchvoice.follow.keeping import kept_warnings
from benchvoice.follow.ledger import goes_in
from benchvoice.follow.likeness import part_likeness, place_likeness
from benchvoice.follow.limits import limit_warnings
from benchvoice.follow.sizes import hardware_warnings
from benchvoice.grammar.outline import Outline
from benchvoice.grammar.pack import Pack
from benchvoice.remark import Finding, Remark, StepGuess

_LEAVE_A_QUESTION_OPEN: frozenset[EventKind] = frozenset(
    {"asked", "voice", "unclear", "photo", "paused", "resumed"}
)
"""After anything else a "yes" might be meant for something else."""


def advance(state: State, remark: Remark, pack: Pack, at: float) -> tuple[State, StepEvent]:
    """Put a remark in its place on the outline of `pack` (which may have none).

    `at` is in seconds on the clock of the sitting.  A `remark.step` that is
    set already is taken as it is; else the step is guessed, and the event's
    remark has it.
    """
    job = Job(state, pack)
    if remark.kind == "command":
        change = act(job, remark)
    elif state.noting:
        change = Change("noted", state.current)
    elif remark.kind == "unclear" or not remark.findings:
        change = unclear(state, _ask_again(remark))
    else:
        remark = _with_step(job, _going_in(job, remark))
        number = _correction(state, remark, pack)
        if number is None:
            change = _find(job, remark)
        else:
            remark = replace(remark, number=number)
            change = recount(job, number)
    return _apply(state, change, remark, at)


def restore(log: Iterable[LogEntry], seq: int) -> State:
    """Give the state of a job taken up again: what stands of it, and the last `seq` used.

    The clock is running, as a new sitting has begun.
    """
    return with_log(State(seq=seq), tuple(log))


def _apply(state: State, change: Change, remark: Remark, at: float) -> tuple[State, StepEvent]:
    event = StepEvent(
        seq=state.seq + 1,
        kind=change.kind,
        at=at,
        remark=remark,
        step=change.step,
        warnings=(*change.warnings, *_clock_warning(state, change)),
        cautions=change.cautions,
        answer=change.answer,
        amends=change.amends,
        finishes=change.finishes,
    )
    log = state.log if change.log is None else change.log
    if change.kind in STRIKABLE:
        findings = remark.findings if change.kind == "finding" else ()
        log = (
            *log,
            LogEntry(
                seq=event.seq,
                kind=event.kind,
                step=event.step,
                findings=findings,
                finishes=event.finishes,
                heard=remark.heard,
            ),
        )
    running = state.running if change.running is None else change.running
    asking = state.asking if change.kind in _LEAVE_A_QUESTION_OPEN else None
    now = replace(
        state,
        seq=event.seq,
        running=running,
        noting=change.noting,
        asking=asking,
        held=_held(state, change),
    )
    return with_log(now, log), event


def _held(state: State, change: Change) -> str | None:
    """The step that is only finished when it is said again; questions in between change nothing."""
    if change.kind == "held":
        return change.held
    return state.held if change.kind in _LEAVE_A_QUESTION_OPEN else None


def _find(job: Job, remark: Remark) -> Change:
    state, outline = job.state, job.outline
    step_id = remark.step.id if remark.step else state.current
    step = outline.by_id.get(step_id or "")
    entry = LogEntry(seq=state.seq + 1, kind="finding", step=step_id, findings=remark.findings)
    now = Job(replace(state, log=(*state.log, entry)), job.pack)
    warnings = list(_count_warnings(now, remark, step_id))
    units = {unit.name: unit for unit in job.pack.unit}
    power = {tool.name for tool in job.pack.tool if tool.power}
    for own, findings in by_step(step_id, remark.findings):
        here = outline.by_id.get(own or "")
        for finding in findings:
            hardware = expected_for(finding, here) if here else None
            if hardware is not None:
                warnings += hardware_warnings(finding, hardware)
            warnings += limit_warnings(finding, here, outline, units)
        if here is not None:
            warnings += kept_warnings(findings, here, now.book, outline, power)
    entered = step is not None and step_id != state.current and step_id not in state.started
    cautions = cautions_before(step, outline, state.started) if step is not None and entered else ()
    unique = tuple(dict.fromkeys(warnings))
    answer = _asked_back(remark) or _asked_which(remark, outline)
    return Change("finding", step_id, unique, cautions, answer)


def _count_warnings(now: Job, remark: Remark, step_id: str | None) -> tuple[str, ...]:
    """Say the counts of what was just said; what goes back in is counted against what came out."""
    about = (
        count
        for own, findings in by_step(step_id, remark.findings)
        if not now.puts_strip(own)
        for count in now.counts_of(own)
        if any(_is_of(one, count) for one in findings)
    )
    return count_warnings(about, now.outline)


def _going_in(job: Job, remark: Remark) -> Remark:
    """While putting together, "twelve bolts in the front cover" are going in."""
    if not job.puts(job.state.current) or not any(map(goes_in, remark.findings)):
        return remark
    findings = tuple(
        replace(finding, action="installed") if goes_in(finding) else finding
        for finding in remark.findings
    )
    return replace(remark, findings=findings, step=None)


def _with_step(job: Job, remark: Remark) -> Remark:
    state, outline = job.state, job.outline
    if remark.step is None or remark.step.id not in outline.by_id:
        guess = guess_step(remark, outline, state.current, done=state.done, log=state.log)
        remark = replace(remark, step=guess)
    if _stays_here(job, remark):
        return replace(remark, step=StepGuess(id=state.current or "", score=100.0))
    return _each_to_its_own(remark)


def _each_to_its_own(remark: Remark) -> Remark:
    """Give the findings of several steps each its own."""
    guess = remark.step
    if guess is None or len(guess.each) != len(remark.findings):
        return remark
    findings = tuple(
        replace(finding, own_step=None if own == guess.id else own)
        for finding, own in zip(remark.findings, guess.each, strict=True)
    )
    return replace(remark, step=replace(guess, each=()), findings=findings)


def _stays_here(job: Job, remark: Remark) -> bool:
    """Whether a remark is of the step under way, whatever it is like.

    So is one that names nothing; a measure taken before the unit is put
    together; and a part taken out again while it is.
    """
    here = job.state.current
    if here not in job.outline.by_id:
        return False
    findings = remark.findings
    if not aligner_of(job.outline).names(findings, remark.heard):
        return True
    if job.puts(here):
        back = {line.part for line in job.book.lines if line.went_back}
        return all(finding.action in OFF and finding.part in back for finding in findings)
    guessed = job.outline.kind_of.get(remark.step.id if remark.step else "")
    return guessed in PUTTING and all(finding.action == "measured" for finding in findings)


def _is_of(finding: Finding, count: Count) -> bool:
    """A count complains only when the remark is about its parts and has a number."""
    return (
        finding.count is not None
        and part_likeness(finding.part, count.part) > 0
        and place_likeness(finding.place, count.place) > 0
    )


def _correction(state: State, remark: Remark, pack: Pack) -> int | None:
    """ "no twelve bolts off the front cover", right after "eleven bolts": the count corrected."""
    openings = (say for filler in pack.correction for say in filler.say)
    if not any(remark.heard.startswith(f"{opening} ") for opening in openings):
        return None
    last = state.log[-1] if state.log else None
    if last is None or last.kind != "finding" or len(remark.findings) != 1 or not last.findings:
        return None
    said, before = remark.findings[0], last.findings[-1]
    same = said.part == before.part and place_likeness(said.place, before.place) > 0
    return said.count if same and before.count is not None else None


def _ask_again(remark: Remark) -> str:
    return _asked_back(remark) or "That was not understood: say it another way."


def _asked_which(remark: Remark, outline: Outline) -> str | None:
    """Ask when two steps are about as likely; what is said next may tell as well."""
    if remark.step is None or not remark.step.others:
        return None
    steps = [outline.by_id[one] for one in (remark.step.id, *remark.step.others)]
    return f"Which step: {' or '.join(step.title for step in steps)}?"


def _asked_back(remark: Remark) -> str | None:
    if not remark.ambiguous:
        return None
    first = remark.ambiguous[0]
    return f"{first.text}: {' or '.join(first.readings)}?"


def _clock_warning(state: State, change: Change) -> tuple[str, ...]:
    if state.running or change.kind not in ("finding", "started", "finished"):
        return ()
    return ("the clock is stopped: resume it, or this work is not timed",)
