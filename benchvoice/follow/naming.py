"""Steps found by their names."""

from __future__ import annotations

from rapidfuzz import fuzz

from benchvoice.follow.likeness import name_stems
from benchvoice.grammar.outline import Outline, Step
from benchvoice.remark import StepGuess

_NAMED_SURE = 70.0
_NAMED_WITHIN = 78.0
_NAMED_CLEAR = 4.0
"""From which likeness a step is named, what a part of its name counts, and by how much the best
must be ahead."""


def find_step(words: str, outline: Outline) -> tuple[StepGuess, ...]:
    """Find the step that was named; none when unlike all, several when they are as like.

    Best first; scores are rapidfuzz's token_sort_ratio over titles, ids and `say`, more when
    all the words are in the name.
    """
    said = " ".join(name_stems(words))
    scored = [
        StepGuess(id=step.id, score=max(_named(said, name) for name in step_names(step)))
        for step in outline.steps()
    ]
    scored.sort(key=lambda guess: -guess.score)
    best = scored[0].score if scored else 0.0
    if best < _NAMED_SURE:
        return ()
    clear = 0.0 if best == 100.0 else _NAMED_CLEAR
    return tuple(guess for guess in scored if guess.score >= best - clear)


def step_names(step: Step) -> tuple[str, ...]:
    """Give all the names of a step, lower case."""
    return (step.title.lower(), step.id.replace("_", " "), *step.say)


def _named(said: str, name: str) -> float:
    """Likeness of a name; one that has all the words said in it is never far off."""
    words = " ".join(name_stems(name))
    whole = fuzz.token_sort_ratio(said, words)
    within = bool(said) and set(said.split()) <= set(words.split())
    return max(whole, _NAMED_WITHIN) if within else whole
