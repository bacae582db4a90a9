"""Remarks aligned with the steps of an outline: as they come, and the whole job looking back."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from benchvoice.follow import hmm, weights
from benchvoice.follow.evidence import FEATURES, Evidence, Words
from benchvoice.follow.hmm import Belief, Floats, Moves
from benchvoice.follow.likeness import stems
from benchvoice.follow.others import Other, shares_of
from benchvoice.follow.same import Same
from benchvoice.follow.tendency import (
    ANYWHERE,
    either,
    move_features,
    moves_of,
    start_features,
    start_of,
    together,
)
from benchvoice.grammar.load import trade_kinds
from benchvoice.grammar.outline import Outline
from benchvoice.remark import Finding

CLEAR = 0.5
"""From which chance that a finding is not of its remark's step it has a step of its own."""

_ELSEWHERE = -30.0
"""Log likelihood of every other step where a step is known; a contradiction stays possible."""

_SURELY = 1e-6
"""A chance that is no more than this off 0 or 1 is that."""


class Item(NamedTuple):
    """One thing said: findings and words, or a step that is known.

    `sure` is the confidence in what was heard (1 when typed), `others` what else it may have been.
    `step` is the step that a command led to, or that a hand put the findings with; `finishes` is
    the step declared done by it, `starts` tells that its step is begun (anew) by it, `leads` that
    what follows is expected there.
    """

    findings: tuple[Finding, ...] = ()
    heard: str = ""
    step: str | None = None
    finishes: str | None = None
    starts: bool = False
    leads: bool = False
    sure: float = 1.0
    others: tuple[Other, ...] = ()


class Placement(NamedTuple):
    """Where an item belongs: the likeliest step and its chance (0 to 1).

    `margin` is the chance less that of `other`, the second likeliest step.  `findings` are the
    steps of the findings, one each.
    """

    step: str
    chance: float
    margin: float
    other: str | None
    findings: tuple[str, ...] = ()


class _Row(NamedTuple):
    """One finding, or an item without any: what leads to it, and what speaks for each step (S)."""

    moves: Moves
    seen: Floats


class _Made(NamedTuple):
    """What was made of an item: log likelihoods (findings or 1, S) of the steps, and the chance
    that it names anything."""

    likely: Floats
    names: float


class Aligner:
    """An outline of at least one step with the learned weights, ready to place remarks."""

    def __init__(self, outline: Outline) -> None:
        self.evidence = Evidence(outline, trade_kinds())
        self.ids = tuple(self.evidence.at)
        features = move_features(outline)
        self._between = moves_of(weights.BETWEEN, features)
        self._within = moves_of(weights.WITHIN, features)
        self._nameless = together(len(self.ids))
        self._told = moves_of(weights.TOLD, features)
        self._start = start_of(weights.START, start_features(outline))
        self._weights = np.array([weights.EVIDENCE[name] for name in FEATURES])
        self._score = lru_cache(maxsize=4096)(self._scored)
        self._known_of = lru_cache(maxsize=4096)(self._made_of)
        self._score_other = lru_cache(maxsize=2048)(self._scored_other)
        self._names_other = lru_cache(maxsize=2048)(
            lambda other: self.names(other.findings, other.heard)
        )

    def place_all(self, items: Sequence[Item]) -> list[Placement]:
        """Place a whole job, each item by what came before it and after it."""
        return self._placements(items, self._rows(items, None, ()), None)

    def place_next(
        self, belief: Belief | None, before: Item | None, item: Item, done: Collection[str] = ()
    ) -> Placement:
        """Place one more item by the `belief` after the one `before` it (None at the beginning)."""
        return self._placements([item], self._rows([item], before, done), belief)[0]

    def names(self, findings: Sequence[Finding], heard: str) -> bool:
        """Whether a remark names anything; else it is of what was said last."""
        return self.evidence.names(findings, heard)

    def odds(self, item: Item, finding: int, step: str, other: str) -> float:
        """Give how much likelier (log) a finding of an item is of a step than of another by what
        is said of it, how jobs go left out."""
        likely = self._known_of(_only_said(item)).likely[finding]
        return float(likely[self.evidence.at[step]] - likely[self.evidence.at[other]])

    def at(self, step: str) -> Belief:
        """Give the belief of a job that is known to be at a step."""
        known = _known(self.evidence.at[step], len(self.ids))
        return hmm.begun(np.full(len(self.ids), 1.0 / len(self.ids)), known)

    def followed(
        self, belief: Belief | None, items: Sequence[Item], done: Collection[str] = ()
    ) -> Belief | None:
        """Give the belief after some more items; None when there are none at all."""
        past = self._past(belief, self._rows(items, None, done))
        return past[-1] if past else belief

    def _placements(
        self, items: Sequence[Item], rows: Sequence[_Row], belief: Belief | None
    ) -> list[Placement]:
        if not rows:
            return []
        past = self._past(belief, rows)
        seen = np.array([row.seen for row in rows])
        chances = hmm.smoothed(past, [row.moves for row in rows], seen)
        placements, at = [], 0
        for item in items:
            size = len(item.findings) or 1
            placements.append(self._placement(chances[at : at + size], len(item.findings)))
            at += size
        return placements

    def _past(self, belief: Belief | None, rows: Sequence[_Row]) -> list[Belief]:
        if not rows:
            return []
        first = []
        if belief is None:
            first = [hmm.begun(self._start, rows[0].seen)]
            belief, rows = first[0], rows[1:]
        seen = np.array([row.seen for row in rows]).reshape(len(rows), len(self.ids))
        return [*first, *hmm.forward(belief, [row.moves for row in rows], seen)]

    def _placement(self, chances: Floats, findings: int) -> Placement:
        """Sum up the chances (findings or 1, S) of an item."""
        all_ = chances.mean(axis=0)
        step = int(all_.argmax())
        own = [step if one[step] > 1.0 - CLEAR else int(one.argmax()) for one in chances[:findings]]
        here = [one for one, at in zip(chances, own or [step], strict=True) if at == step]
        together = np.mean(here, axis=0) if here else all_
        row = together.copy()
        row[step] = -1.0
        other = int(row.argmax())
        alone = len(self.ids) == 1
        return Placement(
            step=self.ids[step],
            chance=float(together[step]),
            margin=float(together[step] - (0.0 if alone else together[other])),
            other=None if alone else self.ids[other],
            findings=tuple(self.ids[at] for at in own),
        )

    def _rows(
        self, items: Sequence[Item], before: Item | None, done: Collection[str]
    ) -> list[_Row]:
        """Give a row for every finding, and one for every item that has none."""
        rows = []
        finished = {*done}
        for item in items:
            if item.starts and item.step:
                finished.discard(item.step)
            moves = self._told if before is not None and before.leads else self._between
            if before is not None and item.step is None:
                moves = self._led(item, moves)
            seen = self._seen(item, finished)
            rows.append(_Row(moves, seen[0]))
            for finding, one in zip(item.findings[1:], seen[1:], strict=True):
                moves = self._nameless if self.evidence.is_common(finding) else self._within
                rows.append(_Row(moves, one))
            if item.finishes:
                finished.add(item.finishes)
            before = item
        return rows

    def _seen(self, item: Item, finished: Collection[str]) -> list[Floats]:
        if item.step in self.evidence.at:
            known = _known(self.evidence.at[item.step], len(self.ids))
            return [known] * (len(item.findings) or 1)
        over = np.zeros(len(self.ids))
        for step in finished:
            if step in self.evidence.at:
                over[self.evidence.at[step]] = weights.DONE
        return [one + over for one in self._known_of(_only_said(item)).likely]

    def _made_of(self, item: Item) -> _Made:
        """Weigh all that may have been said."""
        found = self._shares(item.findings, item.heard)
        own, *rest = shares_of(item.sure, len(item.others))
        mixed: Floats = own * found
        names = own * self.names(item.findings, item.heard)
        for share, other in zip(rest, item.others, strict=True):
            mixed += share * self._of_other(other, len(found), found)
            names += share * self._names_other(other)
        return _Made(np.log(mixed + ANYWHERE), names)

    def _of_other(self, other: Other, size: int, found: Floats) -> Floats:
        """Give the shares by a further text for each finding; one that tells of another number of
        things says nothing of which is which."""
        if size > 1 and len(other.findings) != size:
            return found
        return self._score_other(other) if size > 1 else self._score_other(other).mean(axis=0)

    def _scored_other(self, other: Other) -> Floats:
        return self._shares(other.findings, other.heard)

    def _shares(self, findings: Sequence[Finding], heard: str) -> Floats:
        all_ = tuple(findings) or (Finding(),)
        words = said_of(all_, heard)
        return np.array([self._score(one, said) for one, said in zip(all_, words, strict=True)])

    def _scored(self, finding: Finding, said: Words) -> Floats:
        scores = self.evidence.features(finding, said) @ self._weights
        shares = np.exp(scores - scores.max())
        every: Floats = shares / shares.sum()
        return every

    def _led(self, item: Item, moves: Moves) -> Moves:
        """Give the moves to a remark; one that names nothing, as "in tray four" and "two of them
        bent", is of what was said last."""
        names = self._known_of(_only_said(item)).names
        if names > 1.0 - _SURELY:
            return moves
        return self._nameless if names < _SURELY else either(names, moves, self._nameless)


def said_of(findings: Sequence[Finding], heard: str) -> list[Words]:
    """Give what is said of each finding: all of the remark but the names of the others."""
    said = stems(heard)
    words = heard.split()
    names = [stems(f"{finding.part or ''} {finding.place or ''}") for finding in findings]
    return [
        Words(
            tuple(
                stem
                for stem in said
                if stem in own or not any(stem in name for name in names if name is not own)
            ),
            is_many(finding.part, words),
        )
        for finding, own in zip(findings, names, strict=True)
    ]


def is_many(part: str | None, words: Sequence[str]) -> bool | None:
    """Whether a part is named in the plural; None when it is called otherwise."""
    head = (part or "").rpartition(" ")[2]
    if not head:
        return None
    if f"{head}s" in words or f"{head}es" in words:
        return True
    return False if head in words else None


def aligner_of(outline: Outline) -> Aligner:
    """Give the aligner of an outline, made once."""
    return _made(Same(outline))


@lru_cache(maxsize=8)
def _made(same: Same[Outline]) -> Aligner:
    return Aligner(same.one)


def _only_said(item: Item) -> Item:
    return Item(item.findings, item.heard, sure=item.sure, others=item.others)


def _known(at: int, size: int) -> Floats:
    known: Floats = np.full(size, _ELSEWHERE)
    known[at] = 0.0
    return known
