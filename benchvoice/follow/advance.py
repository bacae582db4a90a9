"""One remark after another: the state of the job carried on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from benchvoice.follow.align import aligner_of
from benchvoice.follow.asked_for import asked_for
from benchvoice.follow.change import Change, unclear
from benchvoice.follow.commands import act, not_sure, recount
from benchvoice.follow.counts import OFF, PUTTING, Count, count_warnings, expected_for
from benchvoice.follow.events import (
    STRIKABLE,
    EventKind,
    LogEntry,
    State,
    StepEvent,
    by_step,
    standing,
    sure_of,
    with_entries,
    with_log,
)
from benchvoice.follow.going_on import gone_on
from benchvoice.follow.guess_in import asked_by, guessed
from benchvoice.follow.heeds import cautions_before
from benchvoice.follow.job import Job
from benchvoice.follow.keeping import kept_warnings, line_warnings
from benchvoice.follow.ledger import goes_in
from benchvoice.follow.ledger_answers import of_which
from benchvoice.follow.likeness import part_likeness, place_likeness
from benchvoice.follow.limits import limit_warnings
from benchvoice.follow.meant import homes_of, meant, with_lengths
from benchvoice.follow.naming import find_step
from benchvoice.follow.not_in import NOT_IN, WHICH_WAY, not_said_in, which_way
from benchvoice.follow.put_right import ONLY_NUMBER, put_right, told_before, which_length
from benchvoice.follow.sizes import hardware_warnings, length_group
from benchvoice.follow.talked_of import one_of_several, with_places
from benchvoice.follow.unit_answer import lacks_unit, with_unit, without_waiting
from benchvoice.grammar.outline import Outline
from benchvoice.grammar.pack import Pack
from benchvoice.remark import NEW, Finding, Remark, StepGuess

_LEAVE_A_QUESTION_OPEN: frozenset[EventKind] = frozenset(
    {"asked", "voice", "unclear", "photo", "paused", "resumed"}
)
"""After anything else a "yes" might be meant for something else."""


def advance(
    state: State, remark: Remark, pack: Pack, at: float, others: Sequence[str] = ()
) -> tuple[State, StepEvent]:
    """Put a remark in its place on the outline of `pack` (which may have none).

    `at` is in seconds on the clock of the sitting.  A `remark.step` that is
    set already is taken as it is; else the step is guessed, and the event's
    remark has it.  `others` are further texts that an engine had, likeliest
    first: with them the step is guessed anew.
    """
    job = Job(state, pack)
    remark = with_unit(state.unit_of, _begun_or_done(job, remark), pack)
    if remark.command == "note" and remark.words and not state.noting:
        remark = Remark(heard=remark.words, confidence=remark.confidence)
        state = replace(state, noting=True)
    if remark.kind == "remark" and not state.noting:
        remark = without_waiting(remark, pack)
    if remark.kind == "command":
        change = act(job, remark)
    elif state.noting:
        change = Change("noted", state.current)
    elif remark.kind == "unclear" or not remark.findings:
        change = unclear(state, _ask_again(remark))
    elif job.together and not_said_in(remark):
        change = unclear(state, NOT_IN)
    elif not job.together and which_way(remark):
        change = unclear(state, WHICH_WAY)
    else:
        whole = gone_on(remark, state.log[-1] if state.log else None, pack)
        known = whole.step is not remark.step
        remark = _with_step(job, _going_in(job, whole), () if known else others)
        remark, change = _found(job, remark)
    now, event = _apply(state, change, remark, at, others)
    if change.kind in ("asked", "voice"):
        return now, event
    return replace(now, unit_of=remark.heard if lacks_unit(remark, pack) else ""), event


def _found(job: Job, remark: Remark) -> tuple[Remark, Change]:
    """Take down what was found, or put right the count that it puts right."""
    wrong = put_right(job, remark)
    if wrong is None:
        return remark, _find(job, remark)
    said = remark.findings[0]
    question = which_length(job.state, said, wrong)
    if question is not None:
        return remark, unclear(job.state, question)
    again = not_sure(job.state, replace(remark, number=said.count))
    if again is not None:
        return remark, again
    change = recount(job, said.count or 0, wrong.seq, said.part)
    if not told_before(wrong, said):
        change = change._replace(answer=f"{change.answer} {ONLY_NUMBER}")
    return replace(remark, number=said.count), change


def _begun_or_done(job: Job, remark: Remark) -> Remark:
    """The name of a step alone begins it; while it is under way, that says what was done.

    So does one of taking apart while the unit is put together.
    """
    if remark.command != "start" or not remark.findings:
        return remark
    here = job.state.current
    named = [guess.id for guess in find_step(remark.words or "", job.outline)]
    apart = all(job.outline.kind_of[one] == "strip" for one in named)
    if here in named or (job.puts(here) and apart):
        return replace(remark, kind="remark", command=None, words=None)
    return remark


def restore(log: Iterable[LogEntry], seq: int) -> State:
    """Give the state of a job taken up again: what stands of it, and the last `seq` used.

    The clock is running, as a new sitting has begun.
    """
    return with_log(State(seq=seq), log)


def _apply(
    state: State, change: Change, remark: Remark, at: float, others: Sequence[str]
) -> tuple[State, StepEvent]:
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
    running = state.running if change.running is None else change.running
    asking = state.asking if change.kind in _LEAVE_A_QUESTION_OPEN else None
    now = replace(
        state,
        seq=event.seq,
        running=running,
        noting=change.noting,
        asking=asking,
        held=_held(state, change),
        unsure_of=change.unsure_of,
        told_of=change.told_of,
        untold=change.untold,
    )
    if change.log is not None:
        now = with_log(now, change.log)
    return (with_entries(now, [_entry(event, others)]) if event.kind in STRIKABLE else now), event


def _entry(event: StepEvent, others: Sequence[str]) -> LogEntry:
    return LogEntry(
        seq=event.seq,
        kind=event.kind,
        step=event.step,
        findings=event.remark.findings if event.kind == "finding" else (),
        finishes=event.finishes,
        heard=event.remark.heard,
        sure=sure_of(event.remark),
        others=tuple(others),
    )


def _held(state: State, change: Change) -> str | None:
    """The step that is only finished when it is said again; questions in between change nothing."""
    if change.kind == "held":
        return change.held
    return state.held if change.kind in _LEAVE_A_QUESTION_OPEN else None


def _find(job: Job, remark: Remark) -> Change:
    state, outline = job.state, job.outline
    step_id = remark.step.id if remark.step else state.current
    step = outline.by_id.get(step_id or "")
    entry = LogEntry(
        seq=state.seq + 1,
        kind="finding",
        step=step_id,
        findings=remark.findings,
        heard=remark.heard,
    )
    now = Job(replace(state, log=(*state.log, entry)), job.pack)
    warnings = list(_count_warnings(job, now, remark, step_id))
    power = {tool.name for tool in job.pack.tool if tool.power}
    for own, findings in by_step(step_id, remark.findings):
        here = outline.by_id.get(own or "")
        for finding in findings:
            hardware = expected_for(finding, here) if here else None
            if hardware is not None:
                warnings += hardware_warnings(finding, hardware)
            warnings += limit_warnings(finding, here, outline, job.pack.unit_by_name)
        if here is not None:
            warnings += kept_warnings(findings, here, now.book, outline, power)
        elif now.puts(own):
            for finding in findings:
                warnings += line_warnings(finding, own or "", now.lines, outline)
    warnings += _checks_failed(now, remark, step_id)
    entered = step is not None and step_id != state.current and step_id not in state.started
    cautions = cautions_before(step, outline, state.started) if step is not None and entered else ()
    unique = tuple(dict.fromkeys(warnings))
    answer = _asked_back(remark) or _asked_which(remark, outline) or of_which(job, now)
    return Change("finding", step_id, unique, cautions, answer)


def _checks_failed(now: Job, remark: Remark, step_id: str | None) -> list[str]:
    """Say what is by what was just said not as a check wants it."""
    said = by_step(step_id, remark.findings)
    return [
        one.complaint
        for one in now.checks
        if one.complaint and any(step == one.step and one.said in new for step, new in said)
    ]


def _count_warnings(job: Job, now: Job, remark: Remark, step_id: str | None) -> tuple[str, ...]:
    """Say the counts of what was just said; what goes back in is counted against what came out."""
    about, twice = [], []
    for own, findings in by_step(step_id, remark.findings):
        for count in () if now.puts_strip(own) else now.counts_of(own):
            of_it = [
                one for one in findings if _is_of(one, count) and not _some_length(one, count, now)
            ]
            about += [count] if of_it else []
            twice += [count for finding in of_it if _said_twice(job, finding, count)]
    return count_warnings(about, now.outline, twice)


def _some_length(finding: Finding, count: Count, job: Job) -> bool:
    """Whether it is all of one length, and the other lengths are still to come."""
    item = job.outline.hardware_at.get((count.step, count.part, count.place))
    group = length_group(finding, item) if item is not None and item.lengths else None
    if group is None or count.expected is None or finding.count != group.count:
        return False
    return (count.said or 0) < count.expected


def _said_twice(job: Job, finding: Finding, count: Count) -> bool:
    """Whether the number expected was said in one remark before, and is now said over again."""
    key = (count.step, count.part, count.place)
    before = next((one for one in job.counts if (one.step, one.part, one.place) == key), None)
    right = before is not None and before.said == before.expected == finding.count
    if not right or finding.count is None or count.said != 2 * finding.count:
        return False
    return any(
        step == count.step and one.count == finding.count and _is_of(one, count)
        for step, said in standing(job.state.log)
        for one in said
        if None in (one.size, finding.size) or one.size == finding.size
    )


def _going_in(job: Job, remark: Remark) -> Remark:
    """While putting together, "twelve bolts in the front cover" are going in.

    A new part named before that is one to get.
    """
    if not job.together:
        wanted = (_to_get(finding) for finding in remark.findings)
        return replace(remark, findings=tuple(wanted))
    if not any(map(goes_in, remark.findings)):
        return remark
    findings = tuple(map(_installed, remark.findings))
    return replace(remark, findings=findings, step=None)


def _installed(finding: Finding) -> Finding:
    return replace(finding, action="installed") if goes_in(finding) else finding


def _to_get(finding: Finding) -> Finding:
    said = finding.action or finding.disposition or finding.condition or finding.measure
    if NEW not in finding.notes or said:
        return finding
    return replace(finding, disposition="replace")


def _with_step(job: Job, remark: Remark, others: Sequence[str]) -> Remark:
    job = job.at_work
    state = job.state
    if others or remark.step is None or remark.step.id not in job.outline.by_id:
        remark = replace(remark, step=guessed(job, remark, others))
    known = state.current if _stays_here(job, remark) else asked_by(job, remark.findings)
    if known:
        remark = replace(remark, step=StepGuess(id=known, score=100.0))
    else:
        remark = _each_to_its_own(remark)
    return _as_meant(job, remark)


def _as_meant(job: Job, remark: Remark) -> Remark:
    """Name the outline's hardware where it is named in part."""
    found: list[Finding] = []
    for finding in remark.findings:
        own = finding.own_step or (remark.step.id if remark.step else job.state.current)
        step = job.outline.by_id.get(own or "")
        named = meant(finding, remark.heard, step, job.pack) if step else (finding,)
        putting = job.puts(own) and finding.part is None
        found += (_installed(one) if putting else one for one in named)
    whole = tuple(found)
    here = job.outline.by_id.get(remark.step.id if remark.step else "")
    if here is not None and job.outline.kind_of[here.id] in PUTTING:
        whole = with_places(job, whole, here)
    if job.together:
        at = remark.step.id if remark.step else ""
        whole = tuple(one_of_several(job, one, one.own_step or at, remark.heard) for one in whole)
    return replace(remark, findings=whole)


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

    So is one that names nothing; one that tells what the step asks for; which length is in which
    of its holes; a measure taken before the unit is put together; and a part taken out again while
    it is.
    """
    here = job.state.current
    if here is None or here not in job.outline.by_id:
        return False
    findings = remark.findings
    step = job.outline.by_id[here]
    asked = asked_for(step, job.outline, findings)
    homes = homes_of(step, job.outline)
    lengths = all(with_lengths(finding, homes) is not None for finding in findings)
    if asked or lengths or not aligner_of(job.outline).names(findings, remark.heard):
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


def _ask_again(remark: Remark) -> str:
    return _asked_back(remark) or "That was not understood: say it another way."


def _asked_which(remark: Remark, outline: Outline) -> str | None:
    """Ask when two steps are about as likely; what is said next may tell as well.

    What is decided is of its part whatever the step.
    """
    if remark.step is None or not remark.step.others:
        return None
    if outline.kind_of[remark.step.id] == "decide":
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
