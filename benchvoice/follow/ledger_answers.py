"""What is said back about the hardware: where it is, what is out, what is open."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from msgspec.structs import replace

from benchvoice.follow.job import Job
from benchvoice.follow.keeping import title_of
from benchvoice.follow.ledger_values import LedgerLine
from benchvoice.follow.open_questions import OpenKind
from benchvoice.follow.wording import finding_text, listed
from benchvoice.remark import Finding

UNDECIDED: tuple[OpenKind, ...] = (
    "undecided", "out of limit", "check failed", "build", "mark", "order",
)  # fmt: skip
UNMEASURED: tuple[OpenKind, ...] = ("unmeasured", "unchecked")

MAX_LINES = 8
"""More answers than this are not listened to at a time."""


def first_of(texts: Sequence[str]) -> tuple[str, tuple[str, ...]]:
    """Give what is said of an answer, a line each, and what is left of it to be asked for again."""
    rest = tuple(texts[MAX_LINES:])
    more = [f"And {len(rest)} more: ask the same again."] if rest else []
    return "\n".join([*texts[:MAX_LINES], *more]), rest


def contents(job: Job, asked: Finding) -> list[str]:
    """Say what is in a container."""
    label = asked.container
    containers = {one.label: one for one in job.book.containers}
    if label is None:
        return ["Say which: what is in tray four."]
    if label not in containers:
        used = f" In use: {listed(sorted(containers), MAX_LINES)}." if containers else ""
        return [f"Nothing is recorded in {label}.{used}"]
    items = [item.text for item in containers[label].items]
    return [f"{label[0].upper()}{label[1:]}: {'; '.join(items)}."]


def where_is(job: Job, asked: Finding) -> list[str]:
    """Say where a part was put."""
    told = [line for line in job.lines.find(asked) if line.came_off or line.containers]
    if not told:
        return [f"{finding_text(asked)}: nothing is recorded of it."]
    return [_kept(_of_step(job, line)) for line in told]


def out_texts(job: Job) -> list[str]:
    """Say what came off and is not back in, what goes in at the step under way first.

    So is what went in short of what the outline has, though nobody said that it came off.
    """
    out = [line for line in job.book.lines if line.is_out or _short(line)]
    if not out:
        return ["Nothing is out." if job.book.stripped else "Nothing is recorded as taken apart."]
    back = job.back_step(job.state.current)
    here = back.sources if back else ()
    nearest = sorted(out, key=lambda line: line.step not in here)
    return [f"Still out: {len(out)}.", *(f"{_out_of(job, line)}." for line in nearest)]


def _out_of(job: Job, line: LedgerLine) -> str:
    """Say what is out, and of which step where the like came off in several."""
    text = out_text(_of_step(job, line))
    if not job.outline.stage:
        return text
    alike = [one for one in job.book.lines if one.came_off and one.key[1:] == line.key[1:]]
    return f"{text} ({title_of(line, job.outline)})" if len(alike) >= _SEVERAL else text


def _of_step(job: Job, line: LedgerLine) -> LedgerLine:
    """Give a line that tells its step as its place where no outline has one for it."""
    return line if job.outline.stage or line.place else replace(line, place=line.step or None)


def _short(line: LedgerLine) -> bool:
    return line.off is None and line.differs and (line.back or 0) < (line.goes_in or 0)


def out_text(line: LedgerLine) -> str:
    """Say what is out, how many of it are in, and where it lies."""
    kept = f" ({' and '.join(line.containers)})" if line.containers else ""
    gone = f", {line.back} gone in" if line.went_back and line.back else ""
    gone = ", to be renewed once more" if line.again else gone
    return f"{line.text}{gone}{kept}"


def undecided(job: Job) -> list[str]:
    """Say what nobody has decided on."""
    return _open(job, UNDECIDED, "undecided")


def unmeasured(job: Job) -> list[str]:
    """Say what was not measured or checked, of the stages that were reached."""
    return _open(job, UNMEASURED, "unmeasured or unchecked")


def of_which(before: Job, now: Job) -> str | None:
    """Ask of which of several alike it was just said what shall happen to it."""
    known = {line.key for line in before.book.lines if line.not_which}
    new = [line for line in now.book.lines if line.not_which and line.key not in known]
    steps = dict.fromkeys(line.step for line in new)
    titles = [step.title for one in steps if (step := now.outline.by_id.get(one))]
    if len(titles) < len(new) or len(new) < _SEVERAL:
        return None
    return f"Of which: {' or '.join(titles)}? Say it again with its name."


_SEVERAL = 2


def _open(job: Job, kinds: Collection[OpenKind], name: str) -> list[str]:
    texts = [f"{one.text}." for one in job.open if one.kind in kinds]
    return texts or [f"Nothing is {name}."]


def _kept(line: LedgerLine) -> str:
    if not line.is_out and line.went_back:
        return f"{line.text}: gone back in."
    places = " and ".join(line.containers) or "no container was said"
    notes = "; ".join([*line.orientation[-1:], *line.marks])
    return f"{line.text}: {places}{f' ({notes})' if notes else ''}."
