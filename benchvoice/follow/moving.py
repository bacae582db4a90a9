"""Along the outline and, when it is put together, backwards along what was taken apart."""

from __future__ import annotations

from benchvoice.follow.asked_for import put_back_at
from benchvoice.follow.change import Change, unclear
from benchvoice.follow.events import State
from benchvoice.follow.heeds import cautions_before
from benchvoice.follow.job import Job
from benchvoice.follow.leaving import held_by, leaving, left_open, to_decide
from benchvoice.follow.naming import find_step
from benchvoice.follow.reassembly import back_text
from benchvoice.follow.wording import parts_text
from benchvoice.grammar.outline import Step
from benchvoice.remark import Remark


def start(job: Job, remark: Remark) -> Change:
    """Begin the step named, the one under way again, or the one that comes."""
    if remark.words:
        named = _named(job, remark)
        if isinstance(named, Change):
            return named
        return _enter(job, _that_puts_back(job, named), passing=False)
    here = job.step_of(job.state.current)
    step = here if here and here.id not in job.state.done else job.following
    if step is None:
        return unclear(job.state, "There is no step to start: say its name.")
    return _enter(job, _that_puts_back(job, step), passing=False)


def next_step(job: Job, remark: Remark) -> Change:
    """Finish the step under way and begin the one that comes."""
    state, here = job.state, job.state.current
    held = _hold(job, here) if here is not None and not job.is_done(here) else None
    if held is not None:
        return held
    step = job.following
    if step is not None:
        return _enter(job, step, passing=True)
    if here is None or job.is_done(here):
        return unclear(state, "There is no next step.")
    warnings = leaving(job, None)
    return Change("finished", here, warnings, answer="That was the last step.", finishes=here)


def back(job: Job, remark: Remark) -> Change:
    """Go to the step before on the outline."""
    steps = list(job.outline.steps())
    here = job.state.current
    at = next((index for index, step in enumerate(steps) if step.id == here), 0)
    if at == 0:
        return unclear(job.state, "There is no step before this one.")
    return _move(job, steps[at - 1])


def go(job: Job, remark: Remark) -> Change:
    """Go to the step named, without its being begun."""
    named = _named(job, remark)
    return named if isinstance(named, Change) else _move(job, named)


def finish(job: Job, remark: Remark) -> Change:
    """Declare the step named, or the one under way, done."""
    step = job.step_of(job.state.current)
    if remark.words:
        named = _named(job, remark)
        if isinstance(named, Change):
            return named
        step = named
    if step is None:
        return unclear(job.state, "No step is under way.")
    held = _hold(job, step.id)
    if held is not None:
        return held
    warnings = left_open(job, step.id)
    return Change("finished", step.id, warnings, (), f"{step.title}: finished.", finishes=step.id)


def put_together(job: Job, remark: Remark) -> Change:
    """Begin to put together: the first step of it, and what is still open of the rest."""
    if not job.book.stripped:
        return unclear(job.state, "Nothing is recorded as taken apart.")
    step = job.step_of(job.next_back(None))
    if step is None:
        return unclear(job.state, "There is no step left to put together.")
    begun = _enter(job, step, passing=False, together=True)
    left = sum(not job.is_done_back(one.id) for one in job.back)
    warnings = [*begun.warnings, *to_decide(job)]
    answer = f"Putting together, {parts_text('step', left)}. First: {begun.answer}"
    return begun._replace(warnings=tuple(dict.fromkeys(warnings)), answer=answer)


def _assembling(state: State) -> State:
    return State(log=state.log, current=state.current, assembling=True)


def _named(job: Job, remark: Remark) -> Step | Change:
    outline, state = job.outline, job.state
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


def _that_puts_back(job: Job, named: Step) -> Step:
    """Give, while the unit is put together, the step that puts back what the one named took off.

    What has gone back in, all of it, may be meant to come off again.
    """
    if not (job.together and any(line.is_out for line in job.book.of_step(named.id))):
        return named
    return job.outline.by_id.get(put_back_at(job.outline).get(named.id, ""), named)


def _may_come(state: State, step: Step) -> bool:
    return step.id not in state.done and state.started.issuperset(step.after)


def _untouched_before(job: Job, step: Step) -> tuple[str, ...]:
    """Say which steps come first and were not begun; what came not apart is not put together.

    What is tested is the unit, whatever came apart: it is not run before it is filled with oil.
    """
    outline = job.outline
    back = {one.id for one in job.back} if job.book.stripped else {*outline.by_id}
    return tuple(
        f"{step.title}: comes after {outline.by_id[before].title}, of which nothing is recorded"
        for before in step.after
        if before not in job.state.started
        and (before in back or outline.kind_of[before] != "assemble")
    )


def _enter(job: Job, step: Step, *, passing: bool, together: bool = False) -> Change:
    """Begin a step; one of taking apart that no other puts back is gone through backwards when the
    unit goes together."""
    state, then = job.state, job
    own = any(one.id == step.id and one.left for one in job.back)
    if own and (together or job.together):
        then = Job(_assembling(state), job.pack)
    backwards = then.puts_strip(step.id)
    before = () if backwards else _untouched_before(job, step)
    here = state.current
    return Change(
        "assembling" if backwards and not state.assembling else "started",
        step.id,
        (*leaving(job, step.id), *before),
        _cautions(job, step),
        _entering_text(then, step),
        finishes=here if passing and here is not None and not job.is_done(here) else None,
    )


def _move(job: Job, step: Step) -> Change:
    return Change(
        "moved", step.id, leaving(job, step.id), _cautions(job, step), _entering_text(job, step)
    )


def _cautions(job: Job, step: Step) -> tuple[str, ...]:
    if step.id not in job.outline.by_id:
        return step.cautions
    return cautions_before(step, job.outline, job.state.started)


def _entering_text(job: Job, step: Step) -> str:
    """Name the step; one that puts parts back with what goes in, a line each."""
    known = job.back_step(step.id)
    title = f"Back: {step.title}." if job.puts_strip(step.id) else f"{step.title}."
    return "\n".join([title, *(back_text(known) if known else ())])


def _hold(job: Job, step_id: str) -> Change | None:
    """Do not finish a step that puts together out of a limit, unless that is said again."""
    wrong = held_by(job, step_id)
    if not wrong or job.state.held == step_id:
        return None
    step = job.outline.by_id[step_id]
    limits = any(one.complaint for one in job.readings if one.step == step_id)
    why = "out of limit" if limits else "a check failed"
    answer = f"{step.title} is not finished: {why}. Say it again to finish it all the same."
    return Change("held", job.state.current, wrong, (), answer, held=step_id)
