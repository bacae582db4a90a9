"""What each command does to the state of the job."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.follow import answers
from benchvoice.follow.counts import count_warnings, missing_warnings
from benchvoice.follow.events import EventKind, LogEntry, State, recounted
from benchvoice.follow.naming import find_step
from benchvoice.follow.wording import finding_text
from benchvoice.grammar.outline import Outline, Step
from benchvoice.remark import Remark


class Change(NamedTuple):
    """What one remark changes; the fields are those of StepEvent and State.

    `log` is the log without what was struck or recounted, None when untouched.
    """

    kind: EventKind
    step: str | None = None
    warnings: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    answer: str | None = None
    amends: int | None = None
    finishes: str | None = None
    log: tuple[LogEntry, ...] | None = None
    running: bool | None = None
    noting: bool = False


def act(state: State, remark: Remark, outline: Outline) -> Change:
    """Say what a command changes; one that cannot be done is "unclear" with the reason."""
    command = _COMMANDS.get(remark.command or "")
    if command is None:
        return unclear(state, f"There is no command {remark.command}.")
    return command(state, remark, outline)


def unclear(state: State, answer: str) -> Change:
    """Nothing changes, and `answer` says why."""
    return Change("unclear", state.current, answer=answer)


def recount(state: State, number: int, outline: Outline) -> Change:
    """Put `number` in the place of the count last said."""
    last = next((entry for entry in reversed(state.log) if entry.kind == "finding"), None)
    if last is None:
        return unclear(state, "There is no count to change.")
    changed = replace(last, findings=recounted(last.findings, number))
    log = tuple(changed if entry.seq == last.seq else entry for entry in state.log)
    now = replace(state, log=log)
    new = [finding for finding in changed.findings if finding not in last.findings]
    warnings = count_warnings(
        (count for count in answers.counts_of(now, outline, last.step) if count.mentioned), outline
    )
    answer = f"Now {finding_text(new[0])}." if new else f"It is {number} already."
    return Change("recounted", last.step, warnings, (), answer, amends=last.seq, log=log)


def leaving(state: State, outline: Outline, to: str | None) -> tuple[str, ...]:
    """Say what does not add up in the step that is left by saying so."""
    step = state.current
    if step is None or step == to or step in state.done or step not in state.started:
        return ()
    return _open_counts(state, outline, step)


def _open_counts(state: State, outline: Outline, step: str) -> tuple[str, ...]:
    counts = answers.counts_of(state, outline, step)
    return (*count_warnings(counts, outline), *missing_warnings(counts, outline))


def _here(state: State, outline: Outline) -> Step | None:
    """Give the step under way; where there is no outline it is what it was called."""
    if not outline.stage and state.current:
        return Step(id=state.current, title=state.current)
    return outline.by_id.get(state.current or "")


def _named(state: State, remark: Remark, outline: Outline) -> Step | Change:
    if not outline.stage and remark.words:
        return Step(id=remark.words, title=remark.words)
    found = [outline.by_id[guess.id] for guess in find_step(remark.words or "", outline)]
    if not found:
        return unclear(state, f"No step is called {remark.words}.")
    if len(found) > 1:
        may_come = [step for step in found if _may_come(state, step)]
        if len(may_come) == 1:
            return may_come[0]
        choice = " or ".join(step.title for step in found)
        return unclear(state, f"Which step: {choice}?")
    return found[0]


def _may_come(state: State, step: Step) -> bool:
    return step.id not in state.done and state.started.issuperset(step.after)


def _untouched_before(state: State, step: Step, outline: Outline) -> tuple[str, ...]:
    return tuple(
        f"{step.title}: comes after {outline.by_id[before].title}, of which nothing is recorded"
        for before in step.after
        if before not in state.started
    )


def _enter(state: State, step: Step, outline: Outline, *, passing: bool) -> Change:
    warnings = (
        *leaving(state, outline, step.id),
        *_untouched_before(state, step, outline),
    )
    done = state.current if passing and state.current not in (None, *state.done) else None
    answer = f"{step.title}."
    return Change("started", step.id, warnings, step.cautions, answer, finishes=done)


def _start(state: State, remark: Remark, outline: Outline) -> Change:
    if remark.words:
        named = _named(state, remark, outline)
        return named if isinstance(named, Change) else _enter(state, named, outline, passing=False)
    here = _here(state, outline)
    step = here if here and here.id not in state.done else answers.following(state, outline)
    if step is None:
        return unclear(state, "There is no step to start: say its name.")
    return _enter(state, step, outline, passing=False)


def _next(state: State, remark: Remark, outline: Outline) -> Change:
    step = answers.following(state, outline)
    if step is not None:
        return _enter(state, step, outline, passing=True)
    if state.current is None or state.current in state.done:
        return unclear(state, "There is no next step.")
    warnings = leaving(state, outline, None)
    here = state.current
    return Change("finished", here, warnings, answer="That was the last step.", finishes=here)


def _move(state: State, step: Step, outline: Outline) -> Change:
    warnings = leaving(state, outline, step.id)
    return Change("moved", step.id, warnings, step.cautions, f"{step.title}.")


def _back(state: State, remark: Remark, outline: Outline) -> Change:
    steps = list(outline.steps())
    at = next((index for index, step in enumerate(steps) if step.id == state.current), 0)
    if at == 0:
        return unclear(state, "There is no step before this one.")
    return _move(state, steps[at - 1], outline)


def _go(state: State, remark: Remark, outline: Outline) -> Change:
    named = _named(state, remark, outline)
    return named if isinstance(named, Change) else _move(state, named, outline)


def _finish(state: State, remark: Remark, outline: Outline) -> Change:
    step = _here(state, outline)
    if remark.words:
        named = _named(state, remark, outline)
        if isinstance(named, Change):
            return named
        step = named
    if step is None:
        return unclear(state, "No step is under way.")
    warnings = _open_counts(state, outline, step.id)
    return Change("finished", step.id, warnings, (), f"{step.title}: finished.", finishes=step.id)


def _pause(state: State, remark: Remark, outline: Outline) -> Change:
    answer = "The clock is stopped." if state.running else "The clock is stopped already."
    return Change("paused", state.current, answer=answer, running=False)


def _resume(state: State, remark: Remark, outline: Outline) -> Change:
    answer = "The clock is running already." if state.running else "The clock is running."
    return Change("resumed", state.current, answer=answer, running=True)


def _strike(state: State, remark: Remark, outline: Outline) -> Change:
    if not state.log:
        return unclear(state, "There is nothing to strike.")
    last = state.log[-1]
    answer = f"Struck: {answers.read_back([last], outline)}"
    return Change("struck", last.step, answer=answer, amends=last.seq, log=state.log[:-1])


def _recount(state: State, remark: Remark, outline: Outline) -> Change:
    if remark.number is None:
        return unclear(state, "Say the number too: make that nine.")
    return recount(state, remark.number, outline)


def _ask(say: Callable[[State, Outline], str]) -> Callable[[State, Remark, Outline], Change]:
    return lambda state, remark, outline: Change("asked", state.current, answer=say(state, outline))


def _plain(kind: EventKind) -> Callable[[State, Remark, Outline], Change]:
    return lambda state, remark, outline: Change(kind, state.current)


def _yes(state: State, remark: Remark, outline: Outline) -> Change:
    entry = _asked_about(state)
    if entry is None:
        return Change("answered", state.current)
    answer = f"Confirmed: {answers.read_back([entry], outline)}"
    return Change("answered", entry.step, answer=answer, amends=entry.seq)


def _no(state: State, remark: Remark, outline: Outline) -> Change:
    entry = _asked_about(state)
    if entry is None:
        return Change("answered", state.current)
    log = tuple(one for one in state.log if one.seq != entry.seq)
    answer = f"Struck: {answers.read_back([entry], outline)} Say it again."
    return Change("struck", entry.step, answer=answer, amends=entry.seq, log=log)


def _later(state: State, remark: Remark, outline: Outline) -> Change:
    return Change("answered", state.current, answer="It stays doubtful." if state.asking else None)


def _asked_about(state: State) -> LogEntry | None:
    return next((entry for entry in state.log if entry.seq == state.asking), None)


def _note(state: State, remark: Remark, outline: Outline) -> Change:
    return Change("asked", state.current, answer="Say the note.", noting=True)


_COMMANDS: dict[str, Callable[[State, Remark, Outline], Change]] = {
    "next": _next,
    "back": _back,
    "go": _go,
    "start": _start,
    "finish": _finish,
    "pause": _pause,
    "resume": _resume,
    "strike": _strike,
    "recount": _recount,
    "read back": _ask(lambda state, outline: answers.read_back(state.log, outline)),
    "coming": _ask(answers.coming),
    "how many": _ask(answers.how_many),
    "remaining": _ask(answers.remaining),
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
