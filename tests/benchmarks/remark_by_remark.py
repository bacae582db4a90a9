"""Which step of the outline a remark belongs to."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import NamedTuple

from benchvoice.follow.likeness import part_likeness, place_likeness, share_said, stems
from benchvoice.follow.naming import step_names
from benchvoice.grammar.outline import Hardware, Limit, Outline, StageKind, Step
from benchvoice.remark import Finding, Remark, StepGuess

_CURRENT = 16.0
_COMING = 8.0
_NEXT = 3.0
_STAGE = 4.0
_DONE = -12.0
_NOT_YET = -4.0
"""Added to a likeness of 0 to 100: what is under way, may come now, is next on the outline, is of
the stage under way, is done, has its preconditions untouched.  Set by hand, tried in the tests."""

_LEFT = 0.6
_OTHER_WORK = 0.5
"""How much less likely the parts of a step are meant when it was left and nothing is done to them
now, or when what is done to them is not the work of its stage."""

_AKIN = 0.6
_MOST_HOMES = 2
"""What it counts that a part comes from a step of like name, and in how many steps it may be."""

_WORK: dict[str, tuple[StageKind, ...]] = {
    "removed": ("strip",),
    "pressed out": ("strip",),
    "drained": ("strip",),
    "loosened": ("strip",),
    "cleaned": ("clean",),
    "lapped": ("clean", "assemble"),
    "installed": ("assemble",),
    "pressed in": ("assemble",),
    "tightened": ("assemble",),
    "adjusted": ("assemble",),
    "filled": ("test", "assemble"),
    "tested": ("test",),
    "measured": ("inspect", "assemble", "test"),
    "inspected": ("inspect",),
    "checked": ("inspect",),
}
"""The stages an action belongs to; other actions belong anywhere."""

_IMPLIED = {
    "cleaned": ("wash", "clean"),
    "measured": ("check", "inspect"),
    "inspected": ("check", "inspect"),
    "checked": ("check", "inspect"),
    "tested": ("test", "run"),
}
"""Words of step names that are not said again when such work is reported."""


class Ahead(NamedTuple):
    """What is known of the job so far: the step under way, those touched, those done."""

    current: str | None
    started: Collection[str] = ()
    done: Collection[str] = ()


class _Place(NamedTuple):
    """A step and the nature of its stage.

    `left` tells that it was begun and left, `early` that it is an inspection
    while the unit is still being stripped.
    """

    step: Step
    kind: StageKind
    left: bool
    early: bool


def guess_step(
    remark: Remark,
    outline: Outline,
    current: str | None,
    *,
    started: Collection[str] = (),
    done: Collection[str] = (),
) -> StepGuess | None:
    """Guess the step (score 0 to 100); None when nothing is like it and nothing is under way.

    A remark that is like no step stays with the current one, at a low score.
    """
    ahead = Ahead(current, started, done)
    priors = _priors(outline, ahead)
    said = stems(remark.heard)
    homes = [_home_words(finding, outline) for finding in remark.findings]
    stripping = any(
        step.id == current
        for stage in outline.stage
        if stage.kind == "strip"
        for step in stage.step
    )
    best: tuple[float, str] | None = None
    for stage in outline.stage:
        early = stripping and stage.kind == "inspect"
        for step in stage.step:
            left = step.id != current and (step.id in started or step.id in done)
            like = _likeness(remark, said, homes, _Place(step, stage.kind, left, early))
            if like <= 0 and step.id != current:
                continue
            score = like + priors[step.id]
            if best is None or score > best[0]:
                best = score, step.id
    return best and StepGuess(id=best[1], score=round(max(0.0, min(100.0, best[0])), 1))


def _priors(outline: Outline, ahead: Ahead) -> dict[str, float]:
    touched = {*ahead.started, *ahead.done, *filter(None, [ahead.current])}
    following = _following(outline, ahead.current, touched)
    priors: dict[str, float] = {}
    for stage in outline.stage:
        here = any(step.id == ahead.current for step in stage.step)
        for step in stage.step:
            prior = _STAGE if here else 0.0
            if step.id in ahead.done:
                prior += _DONE
            elif step.id not in touched:
                prior += _COMING if all(before in touched for before in step.after) else _NOT_YET
            if step.id == ahead.current:
                prior += _CURRENT
            elif step.id == following:
                prior += _NEXT
            priors[step.id] = prior
    return priors


def _following(outline: Outline, current: str | None, touched: Collection[str]) -> str | None:
    """The first step after the current one that nobody has begun."""
    ids = [step.id for step in outline.steps()]
    after = ids[ids.index(current) + 1 :] if current in ids else ids
    return next((step_id for step_id in after if step_id not in touched), None)


def _likeness(
    remark: Remark, said: tuple[str, ...], homes: Sequence[tuple[str, ...]], place: _Place
) -> float:
    names = step_names(place.step)
    if not remark.findings:
        return max(_name_likeness(said, name) for name in names)
    each = []
    for finding, home in zip(remark.findings, homes, strict=True):
        implied = () if place.early and finding.action is None else _implied(finding)
        named = max(_name_likeness(said, name, implied) for name in names)
        if place.kind != "strip" and home:
            akin = max(_name_likeness((*said, *home), name, implied) for name in names)
            named = max(named, _AKIN * akin)
        each.append(_finding_likeness(finding, place, named))
    return sum(each) / len(each)


def _home_words(finding: Finding, outline: Outline) -> tuple[str, ...]:
    """Give the words of the steps that a part comes from, when those are few.

    So a spool has to do with the control valve when it is checked or put back.
    """
    homes = [
        step
        for step in outline.steps()
        if any(part_likeness(finding.part, item.part) > 0.8 for item in step.hardware)
    ]
    if len(homes) > _MOST_HOMES:
        return ()
    return tuple(stem for step in homes for stem in stems(step.title))


def _implied(finding: Finding) -> tuple[str, ...]:
    if finding.action is None and finding.condition is not None:
        return _IMPLIED["checked"]
    return _IMPLIED.get(finding.action or "", ())


def _name_likeness(said: Sequence[str], name: str, implied: Sequence[str] = ()) -> float:
    """Up to 60: a name within the remark; the more words of it the better."""
    words = stems(name)
    share = share_said(words, (*said, *implied))
    if share < 0.5 or (implied and share_said(words, said) == 0.0):
        return 0.0
    return share * (40.0 + 10.0 * min(len(words), 2))


def _finding_likeness(finding: Finding, place: _Place, named: float) -> float:
    step = place.step
    hardware = max((_hardware_likeness(finding, item) for item in step.hardware), default=0.0)
    limit = max((_limit_likeness(finding, item) for item in step.limit), default=0.0)
    fits = _kind_likeness(finding, place)
    stages = _WORK.get(finding.action or "", (place.kind,))
    if place.kind not in stages:
        hardware *= _OTHER_WORK
    elif place.left and finding.action is None:
        hardware *= _LEFT
    if max(hardware, limit, named) <= 0:
        return max(fits, 0.0) if finding.action in _WORK else 0.0
    return max(hardware, limit, named) + 0.2 * min(named, hardware) + fits


def _hardware_likeness(finding: Finding, hardware: Hardware) -> float:
    part = part_likeness(finding.part, hardware.part)
    place = place_likeness(finding.place, hardware.place)
    count = 3.0 if finding.count is not None and finding.count == hardware.count else 0.0
    return 85.0 * part * place + count if part * place > 0 else 0.0


def _limit_likeness(finding: Finding, limit: Limit) -> float:
    if finding.measure is None or finding.measure.quantity != limit.quantity:
        return 0.0
    if limit.part is None:
        return 80.0
    return 90.0 * part_likeness(finding.part, limit.part)


def _kind_likeness(finding: Finding, place: _Place) -> float:
    """Whether the nature of the stage goes with what was done or said."""
    kind = place.kind
    stages = _WORK.get(finding.action or "")
    if stages is not None:
        return 15.0 if kind == stages[0] else 8.0 if kind in stages else -20.0
    if finding.action is None and finding.condition:
        return -10.0 if place.early else {"inspect": 8.0, "strip": 4.0}.get(kind, -6.0)
    if finding.disposition is not None:
        return {"decide": 4.0, "inspect": 4.0, "strip": 4.0}.get(kind, -6.0)
    return 0.0
