"""Which step of the outline the newest remark belongs to."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from functools import lru_cache

from msgspec.structs import replace

from benchvoice.follow.align import Aligner, Item, Placement, aligner_of, said_of
from benchvoice.follow.begun import Said, without_counts
from benchvoice.follow.events import COMMANDED, LogEntry, sure_of
from benchvoice.follow.evidence import FEATURES, WORK
from benchvoice.follow.hmm import Belief, Floats
from benchvoice.follow.others import others_of
from benchvoice.grammar.outline import Outline
from benchvoice.grammar.pack import Pack
from benchvoice.remark import Finding, Remark, StepGuess

UNSURE = 0.2
"""Below this margin between the best step and the next it is asked which is meant."""

_LOOK_BACK = 32
"""So many entries before a remark tell where it is; earlier ones no longer matter for it."""

_STANDING = 20.0
"""What the chance of a step adds to a likeness of 0 to 100."""

_LIKE = {
    **dict.fromkeys(("hardware_worked", "hardware_state", "hardware_bare"), 85.0),
    "hardware_other_work": 42.0,
    "limit_of_part": 90.0,
    "limit": 80.0,
    **dict.fromkeys(("listed_said", "name_said"), 60.0),
    "name_akin": 36.0,
}
_GOES = {
    "work_of_stage": 15.0, "work_possible": 8.0, "work_of_other_stage": -20.0,
    "state_inspect": 8.0, "state_strip": 4.0, "state_other": -6.0,
    "fate_decide": 4.0, "fate_strip": 4.0, "fate_inspect": 4.0, "fate_other": -6.0,
}  # fmt: skip
"""Likeness of 0 to 100 that a feature stands for: the greatest counts, and what the nature of the
stage adds.  Set by hand: it tells how well a remark fits its step, not which step is likeliest."""

_HALF = 0.5
"""A name of which less is said counts nothing."""


def guess_step(
    remark: Remark,
    outline: Outline,
    current: str | None,
    *,
    done: Collection[str] = (),
    log: Sequence[LogEntry] = (),
    pack: Pack | None = None,
    others: Sequence[str] = (),
) -> StepGuess | None:
    """Guess the step of a remark; None when nothing is like it and nothing is under way.

    `current` is the step under way; with a `log`, what was said before decides instead.  The
    score tells how well the remark fits the step: one that is like no step stays with the
    current one, at a low score.  `margin`, `others` and `each` as in StepGuess.  With a `pack` the
    engine's further texts count as well: `others` of this remark, and those in the log.
    """
    if not outline.by_id:
        return None
    aligner = aligner_of(outline)
    log, now = _without_counts(log, remark, outline)
    belief, before = _before(aligner, current, frozenset(done), log, pack)
    item = finding_item(now, remark.heard, sure_of(remark), others, pack)
    place = aligner.place_next(belief, before, item, done)
    like = _likeness(aligner, remark, place)
    if like <= 0 and belief is None:
        return None
    score = max(0.0, min(100.0, like + _STANDING * place.chance))
    unsure = place.margin < UNSURE and place.other is not None and _names_something(remark)
    return StepGuess(
        id=place.step,
        score=round(score, 1),
        margin=round(place.margin, 2) if unsure else None,
        others=(place.other,) if unsure and place.other else (),
        each=place.findings if len({*place.findings, place.step}) > 1 else (),
    )


def _without_counts(
    log: Sequence[LogEntry], remark: Remark, outline: Outline
) -> tuple[Sequence[LogEntry], tuple[Finding, ...]]:
    """Give the log, and what was found now, as they tell the step (`begun.py`)."""
    recent = log[-_LOOK_BACK:]
    said = [Said(one.kind, one.step, one.findings) for one in recent]
    *earlier, now = without_counts([*said, Said("finding", None, remark.findings)], outline)
    told = (
        replace(entry, findings=findings) for entry, findings in zip(recent, earlier, strict=True)
    )
    return (*log[:-_LOOK_BACK], *told), now


def _before(
    aligner: Aligner,
    current: str | None,
    done: frozenset[str],
    log: Sequence[LogEntry],
    pack: Pack | None,
) -> tuple[Belief | None, Item | None]:
    """Give the belief by what was said before, and the last thing said."""
    if log:
        items = tuple(filter(None, (item_of(entry, pack) for entry in log[-_LOOK_BACK:])))
        earlier = log[-_LOOK_BACK - 1].step if len(log) > _LOOK_BACK else None
        return _believed(aligner, items, earlier, done), items[-1] if items else None
    return (aligner.at(current) if current in aligner.evidence.at and current else None), None


def finding_item(
    findings: tuple[Finding, ...],
    heard: str,
    sure: float,
    others: Sequence[str],
    pack: Pack | None,
) -> Item:
    """Turn what was found into what is aligned, with what else may have been said."""
    if pack is None:
        return Item(findings, heard)
    return Item(findings, heard, sure=sure, others=others_of(pack, others))


def item_of(entry: LogEntry, pack: Pack | None) -> Item | None:
    """Turn what stands in the log into what is aligned: findings, or a step that is known.

    None for notes and the like, which tell nothing of the step.
    """
    if entry.kind == "finding":
        return finding_item(entry.findings, entry.heard, entry.sure, entry.others, pack)
    if entry.kind in COMMANDED:
        return command_item(entry.kind, entry.step, entry.finishes)
    return None


def command_item(kind: str, step: str | None, finishes: str | None) -> Item:
    """Turn an event of one of the COMMANDED kinds into a known step."""
    starts = kind == "started"
    return Item(step=step, finishes=finishes, starts=starts, leads=kind != "finished")


@lru_cache(maxsize=4)
def _believed(
    aligner: Aligner, items: tuple[Item, ...], earlier: str | None, done: frozenset[str]
) -> Belief | None:
    """The belief after the last items; the guesses at one remark all ask for the same."""
    start = aligner.at(earlier) if earlier in aligner.evidence.at and earlier else None
    return aligner.followed(start, items, done)


def _names_something(remark: Remark) -> bool:
    return any(finding.part or finding.place or finding.measure for finding in remark.findings)


def _likeness(aligner: Aligner, remark: Remark, place: Placement) -> float:
    steps = place.findings or (place.step,)
    findings = remark.findings or (Finding(),)
    words = said_of(findings, remark.heard)
    each = [
        _fit(aligner.evidence.features(finding, said)[aligner.evidence.at[step]], finding)
        for finding, said, step in zip(findings, words, steps, strict=True)
    ]
    return sum(each) / len(each)


def _fit(row: Floats, finding: Finding) -> float:
    """Tell the likeness (0 to 100) of a finding to a step from its features (F)."""
    seen: dict[str, float] = dict(zip(FEATURES, row.tolist(), strict=True))
    likes = {
        name: worth * seen[name]
        for name, worth in _LIKE.items()
        if seen[name] >= _HALF or not name.startswith(("name", "listed"))
    }
    goes = sum(worth * seen[name] for name, worth in _GOES.items())
    best = max(likes.values(), default=0.0)
    if best <= 0:
        return max(goes, 0.0) if finding.action in WORK else 0.0
    return best + 3.0 * seen["count_same"] + goes
