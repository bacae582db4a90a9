"""Remarks of generated jobs whose step cannot be known: another one is right by the same words.

The truth of a generated job is the step that it was at.  A remark is open between that and another
step when the generator could have said it there too (the work is of its stage, what is named is of
its parts, its limits or the hand-written talk), and the course of the job does not tell: the other
step is the one before or after, and so may be all that was said from the remark to the border
between them; or it is at most NEAR places off in the outline, and so may be all of the visit.
Open too is what means another thing joined with a first half than alone ("checked the case and the
six pump bolts" checks the bolts).  This is one reading of "cannot be known", kept narrow: figures
are given with such remarks counted as they were placed, and again with the open ones as right.
"""

from __future__ import annotations

from collections.abc import Sequence

from step_sessions import Bench, Line

NEAR = 2
"""Steps that may change places: a swap, or one left out between them."""


def is_open(bench: Bench, lines: Sequence[Line], at: int, placed: Sequence[str | None]) -> bool:
    """Whether a line that was placed otherwise than it was said may as well be where it is."""
    line = lines[at]
    if len(placed) != len(line.steps):
        return False
    if len(set(line.steps)) > 1:
        return bench.is_other_joined(line)
    wrong = {step for step in placed if step != line.steps[0]}
    return all(step is not None and _may_be(bench, lines, at, step) for step in wrong)


def _may_be(bench: Bench, lines: Sequence[Line], at: int, other: str) -> bool:
    true = lines[at].steps[0]
    begin, end = _visit(lines, at)
    order = list(bench.outline.by_id)
    runs = []
    if abs(order.index(other) - order.index(true)) <= NEAR:
        runs.append(range(begin, end))
    if begin > 0 and other in lines[begin - 1].steps[:1]:
        runs.append(range(begin, at + 1))
    if end < len(lines) and other in lines[end].steps[:1]:
        runs.append(range(at, end))
    return any(all(_said_there(bench, lines[one], other) for one in run) for run in runs)


def _visit(lines: Sequence[Line], at: int) -> tuple[int, int]:
    """Give the first line of the visit to a step and the one after its last."""
    true = lines[at].steps[0]
    begin, end = at, at + 1
    while begin > 0 and lines[begin - 1].steps[:1] in ((), (true,)):
        begin -= 1
    while end < len(lines) and lines[end].steps[:1] in ((), (true,)):
        end += 1
    while not lines[begin].steps:
        begin += 1
    while not lines[end - 1].steps:
        end -= 1
    return begin, end


def _said_there(bench: Bench, line: Line, step: str) -> bool:
    if line.told:
        return line.told == step
    true = line.steps[0] if line.steps else None
    own = [
        finding for finding, of in zip(line.remark.findings, line.steps, strict=False) if of == true
    ]
    return bench.may_say(line.say, own, step)
