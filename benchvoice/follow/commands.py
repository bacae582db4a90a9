"""What each command does to the state of the job."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec.structs import replace

from benchvoice.follow import answers, ledger_answers, left, moving
from benchvoice.follow.change import Change, unclear
from benchvoice.follow.counts import count_warnings
from benchvoice.follow.events import EventKind, LogEntry, State, recounted
from benchvoice.follow.job import Job
from benchvoice.follow.keeping import recount_warnings
from benchvoice.follow.wording import finding_text
from benchvoice.remark import Finding, Remark, doubt

_Command = Callable[[Job, Remark], Change]

_CAREFUL = frozenset({"strike", "recount", "pause", "quiet", "wait for the word", "hold to talk"})
"""They take away what was recorded, or stop the clock or the listening."""
_ANSWERS = frozenset({"yes", "no"})
_OF_THE_PLACE = frozenset({"photo", "note"})
"""They are of what was just touched, also when that is aside of the work."""


def act(job: Job, remark: Remark) -> Change:
    """Say what a command changes; one that cannot be done is "unclear" with the reason."""
    command = _COMMANDS.get(remark.command or "")
    if command is None:
        return unclear(job.state, f"There is no command {remark.command}.")
    if remark.command in _CAREFUL or (remark.command in _ANSWERS and job.state.asking is not None):
        again = not_sure(job.state, remark)
        if again is not None:
            return again
    return command(job if remark.command in _OF_THE_PLACE else job.at_hand, remark)


def not_sure(state: State, remark: Remark) -> Change | None:
    """Ask to say again what was not heard clearly and would take something away.

    None when it was heard clearly, or the same was heard just before.
    """
    told = "; ".join(map(finding_text, remark.findings))
    said = f"{remark.command} {remark.number} {told}"
    if doubt(remark) is None or state.unsure_of == said:
        return None
    answer = f'Was that "{remark.heard}"? Say it again and it is done.'
    if remark.command in _ANSWERS:
        answer = "Yes or no? That was not clear."
    return unclear(state, answer)._replace(unsure_of=said)


def recount(job: Job, number: int, seq: int | None = None, part: str | None = None) -> Change:
    """Put `number` in the place of the count last said, or of that of a part in an entry."""
    state, outline = job.state, job.outline
    at = _last(state.log, lambda one: one.kind == "finding" and seq in (None, one.seq))
    if at is None:
        return unclear(state, "There is no count to change.")
    last = state.log[at]
    changed = replace(last, findings=recounted(last.findings, number, part))
    log = (*state.log[:at], changed, *state.log[at + 1 :])
    now = Job(replace(state, log=log), job.pack)
    new = [finding for finding in changed.findings if finding not in last.findings]
    off = () if now.puts_strip(last.step) else now.counts_of(last.step)
    counts = (count for count in off if count.mentioned)
    warnings = [
        *count_warnings(counts, outline),
        *recount_warnings(changed.findings, changed.step, now.book, outline),
    ]
    answer = f"Now {finding_text(new[0])}." if new else f"It is {number} already."
    return Change("recounted", last.step, tuple(warnings), (), answer, amends=last.seq, log=log)


def _pause(job: Job, remark: Remark) -> Change:
    answer = "The clock is stopped." if job.state.running else "The clock is stopped already."
    return Change("paused", job.state.current, answer=answer, running=False)


def _resume(job: Job, remark: Remark) -> Change:
    answer = "The clock is running already." if job.state.running else "The clock is running."
    return Change("resumed", job.state.current, answer=answer, running=True)


def _strike(job: Job, remark: Remark) -> Change:
    if not job.state.log:
        return unclear(job.state, "There is nothing to strike.")
    last = job.state.log[-1]
    answer = f"Struck: {answers.read_back([last], job.outline)}"
    return Change("struck", last.step, answer=answer, amends=last.seq, log=job.state.log[:-1])


def _recount(job: Job, remark: Remark) -> Change:
    if remark.number is None:
        return unclear(job.state, "Say the number too: make that nine.")
    return recount(job, remark.number)


def _ask(say: Callable[[Job], str]) -> _Command:
    return lambda job, remark: Change("asked", job.state.current, answer=say(job))


def _ask_lines(say: Callable[[Job, Finding], Sequence[str]]) -> _Command:
    """Answer a line each; asked again at once, with what was left of it."""

    def answer(job: Job, remark: Remark) -> Change:
        asked = next(iter(remark.findings), Finding())
        about = f"{remark.command} {finding_text(asked)}"
        state = job.state
        again = state.untold if state.told_of == about else ()
        text, untold = ledger_answers.first_of(again or say(job, asked))
        told = about if untold else ""
        return Change("asked", state.current, answer=text, told_of=told, untold=untold)

    return answer


def _of_job(say: Callable[[Job], Sequence[str]]) -> _Command:
    return _ask_lines(lambda job, _: say(job))


def _plain(kind: EventKind) -> _Command:
    return lambda job, remark: Change(kind, job.state.current)


def _yes(job: Job, remark: Remark) -> Change:
    at = _asked_about(job.state)
    if at is None:
        return Change("answered", job.state.current)
    entry = job.state.log[at]
    answer = f"Confirmed: {answers.read_back([entry], job.outline)}"
    return Change("answered", entry.step, answer=answer, amends=entry.seq)


def _no(job: Job, remark: Remark) -> Change:
    at = _asked_about(job.state)
    if at is None:
        return Change("answered", job.state.current)
    entry = job.state.log[at]
    log = (*job.state.log[:at], *job.state.log[at + 1 :])
    answer = f"Struck: {answers.read_back([entry], job.outline)} Say it again."
    return Change("struck", entry.step, answer=answer, amends=entry.seq, log=log)


def _later(job: Job, remark: Remark) -> Change:
    return Change(
        "answered", job.state.current, answer="It stays doubtful." if job.state.asking else None
    )


def _asked_about(state: State) -> int | None:
    if state.asking is None:
        return None
    return _last(state.log, lambda entry: entry.seq == state.asking)


def _last(log: Sequence[LogEntry], is_it: Callable[[LogEntry], bool]) -> int | None:
    """Give where the last such entry is."""
    return next((at for at in range(len(log) - 1, -1, -1) if is_it(log[at])), None)


def _note(job: Job, remark: Remark) -> Change:
    return Change("asked", job.state.current, answer="Say the note.", noting=True)


_COMMANDS: dict[str, _Command] = {
    "next": moving.next_step,
    "back": moving.back,
    "go": moving.go,
    "start": moving.start,
    "finish": moving.finish,
    "put together": moving.put_together,
    "pause": _pause,
    "resume": _resume,
    "strike": _strike,
    "recount": _recount,
    "read back": _ask(lambda job: answers.read_back(job.state.log, job.outline)),
    "coming": _ask(answers.coming),
    "how many": _ask(answers.how_many),
    "remaining": _of_job(left.remaining),
    "contents": _ask_lines(ledger_answers.contents),
    "where": _ask_lines(ledger_answers.where_is),
    "still out": _of_job(ledger_answers.out_texts),
    "undecided": _of_job(ledger_answers.undecided),
    "unmeasured": _of_job(ledger_answers.unmeasured),
    "note": _note,
    "photo": _plain("photo"),
    "quiet": _plain("voice"),
    "listen": _plain("voice"),
    "speak": _plain("voice"),
    "silent": _plain("voice"),
    "open ear": _plain("voice"),
    "wait for the word": _plain("voice"),
    "hold to talk": _plain("voice"),
    "yes": _yes,
    "no": _no,
    "later": _later,
}
