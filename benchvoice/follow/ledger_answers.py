"""What is said back about the hardware: where it is, what is out, what is open."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from benchvoice.follow.job import Job
from benchvoice.follow.ledger_homes import Homes, Key
from benchvoice.follow.ledger_values import LedgerLine
from benchvoice.follow.open_questions import OpenKind
from benchvoice.follow.wording import finding_text, listed
from benchvoice.remark import Finding

_UNDECIDED: tuple[OpenKind, ...] = (
    "undecided", "out of limit", "check failed", "build", "mark", "order",
)  # fmt: skip

MAX_LINES = 8
"""More answers than this are not listened to."""


def contents(job: Job, asked: Finding) -> str:
    """Say what is in a container."""
    label = asked.container
    containers = {one.label: one for one in job.book.containers}
    if label is None:
        return "Say which: what is in tray four."
    if label not in containers:
        used = f" In use: {listed(sorted(containers), MAX_LINES)}." if containers else ""
        return f"Nothing is recorded in {label}.{used}"
    items = [item.text for item in containers[label].items]
    return f"{label[0].upper()}{label[1:]}: {'; '.join(items)}."


def where_is(job: Job, asked: Finding) -> str:
    """Say where a part was put."""
    lines = {Key(*line.key): line for line in job.book.lines}
    found = [lines[key] for key in Homes(job.outline, lines).find(asked)]
    told = [line for line in found if line.came_off or line.containers]
    if not told:
        return f"{finding_text(asked)}: nothing is recorded of it."
    return _lines([_kept(line) for line in told])


def still_out(job: Job) -> str:
    """Say what came off and is not back in."""
    out = job.book.out
    if not out:
        return "Nothing is out." if job.book.stripped else "Nothing is recorded as taken apart."
    return _lines([f"Still out: {len(out)}.", *(_out(line) for line in out)])


def undecided(job: Job) -> str:
    """Say what nobody has decided on."""
    return _open(job, _UNDECIDED, "undecided")


def unmeasured(job: Job) -> str:
    """Say what was not measured or checked, of the stages that were reached."""
    return _open(job, ("unmeasured", "unchecked"), "unmeasured or unchecked")


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


def _open(job: Job, kinds: Collection[OpenKind], name: str) -> str:
    texts = [f"{one.text}." for one in job.open if one.kind in kinds]
    return _lines(texts) if texts else f"Nothing is {name}."


def _kept(line: LedgerLine) -> str:
    if not line.is_out and line.went_back:
        return f"{line.text}: gone back in."
    places = " and ".join(line.containers) or "no container was said"
    notes = "; ".join([*line.orientation[-1:], *line.marks])
    return f"{line.text}: {places}{f' ({notes})' if notes else ''}."


def _out(line: LedgerLine) -> str:
    kept = f" ({' and '.join(line.containers)})" if line.containers else ""
    gone = f", {line.back} gone in" if line.went_back and line.back else ""
    return f"{line.text}{gone}{kept}."


def _lines(texts: Sequence[str]) -> str:
    """A line each; the voice reads them one after another."""
    more = len(texts) - MAX_LINES
    return "\n".join([*texts[:MAX_LINES], *([f"And {more} more."] if more > 0 else [])])
