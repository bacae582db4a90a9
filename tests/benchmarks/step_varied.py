"""Other outlines made of one, so that what is learned (step_weights.py) is not of the one alone."""

from __future__ import annotations

import random
from collections.abc import Collection, Sequence

from msgspec.structs import replace

from benchvoice.grammar import Outline, Stage, Step, trade_kinds

DROPPED = 0.6
"""Up to this share of the steps is left out, another one in each outline."""
OTHER = 0.2
"""Share of the words in the names of steps that do not strip which are put as the name of another
part of the same kind ("housing" for "case"): people call things otherwise."""
PLAIN = 0.4
"""Share of the outlines that have no `puts_back`, no `check`, only the first `say`: each alone."""


def varied(outline: Outline, rng: random.Random) -> Outline:
    """Give an outline with steps left out, in another order that `after` allows, and told less."""
    dropped = DROPPED * rng.random()
    kept = {step.id for step in outline.steps() if rng.random() >= dropped}
    told_less = _TellingLess(outline, kept, rng)
    stages: list[Stage] = []
    for stage in outline.stage:
        steps = [told_less.of(step) for step in stage.step if step.id in kept]
        if steps:
            stages.append(replace(stage, step=_in_another_order(steps, rng)))
    return replace(outline, stage=tuple(stages))


class _TellingLess:
    """What the steps of one outline do not tell."""

    def __init__(self, outline: Outline, kept: Collection[str], rng: random.Random) -> None:
        self._kinds, self._kept, self._rng = outline.kind_of, kept, rng
        self._no_back, self._no_check, self._one_name = (rng.random() < PLAIN for _ in range(3))

    def of(self, step: Step) -> Step:
        """Give a step with less told, its parts as they are."""
        names = (step.title, *(step.say[:1] if self._one_name else step.say))
        if self._kinds[step.id] != "strip":
            names = tuple(map(self._renamed, names))
        return replace(
            step,
            title=names[0],
            after=tuple(one for one in step.after if one in self._kept),
            puts_back=() if self._no_back else tuple(o for o in step.puts_back if o in self._kept),
            check=() if self._no_check else step.check,
            say=names[1:],
        )

    def _renamed(self, name: str) -> str:
        said = []
        for word in name.split():
            others = _of_the_kind(word) if self._rng.random() < OTHER else ()
            said.append(self._rng.choice(others or (word,)))
        return " ".join(said)


def _of_the_kind(word: str) -> tuple[str, ...]:
    """Give the other parts of one word that are of the kind of this one."""
    kinds = trade_kinds()
    kind = kinds.get(word) or kinds.get(word.removesuffix("s")) or "other"
    return tuple(
        name
        for name, one in kinds.items()
        if one == kind != "other" and name not in (word, f"{word}s") and " " not in name
    )


def _in_another_order(steps: Sequence[Step], rng: random.Random) -> tuple[Step, ...]:
    """Draw one step after another from the first few of those that may come next."""
    left, order = list(steps), []
    while left:
        waiting = {step.id for step in left}
        free = [step for step in left if not waiting & {*step.after}]
        order.append(rng.choice(free[:3]))
        left.remove(order[-1])
    return tuple(order)
