"""The values that every engine gives."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.hearing import (
    MAX_HYPOTHESES,
    Engine,
    Heard,
    Hypothesis,
    ScriptedEngine,
    best_first,
    plain_text,
)

SILENCE = np.zeros(16000, dtype=np.int16)


@pytest.mark.parametrize(
    ("raw", "plain"),
    [
        ("<s> eight bolts </s>", "eight bolts"),
        ("<sil> the(2) seal(3) is <sil> cracked", "the seal is cracked"),
        ("[NOISE] next [SPEECH] step ++COUGH++", "next step"),
        ("<sil>", ""),
        ("o-ring don't", "o-ring don't"),
    ],
)
def test_an_engines_marks_are_taken_out(raw: str, plain: str) -> None:
    assert plain_text(raw) == plain


GUESSES = st.lists(
    st.builds(
        Hypothesis,
        text=st.sampled_from([f"{n} bolts" for n in range(30)]),
        confidence=st.floats(0, 1),
        score=st.floats(-1e6, 1e6),
    ),
    max_size=60,
)


@given(GUESSES)
def test_guesses_are_best_first_each_once_and_few(guesses: list[Hypothesis]) -> None:
    heard = best_first(guesses)
    texts = [guess.text for guess in heard.hypotheses]
    scores = [guess.score for guess in heard.hypotheses]
    assert len(set(texts)) == len(texts) <= MAX_HYPOTHESES
    assert set(texts) <= {guess.text for guess in guesses}
    assert scores == sorted(scores, reverse=True)
    for guess in heard.hypotheses:
        same = [other for other in guesses if other.text == guess.text]
        assert guess.score == max(other.score for other in same)
        assert guess.confidence == max(other.confidence for other in same)
    if guesses:
        assert heard.hypotheses[0].score == max(guess.score for guess in guesses)


def test_nothing_heard_is_empty_text_without_confidence() -> None:
    assert (Heard().text, Heard().confidence) == ("", 0.0)


def test_the_scripted_engine_says_its_lines_in_turn() -> None:
    engine: Engine = ScriptedEngine(["next", ("one seal", "one steel")], missing=("grundle",))
    assert engine.hear(SILENCE).text == "next"
    heard = engine.hear(SILENCE)
    assert [guess.text for guess in heard.hypotheses] == ["one seal", "one steel"]
    assert heard.hypotheses[0].confidence > heard.hypotheses[1].confidence
    assert engine.hear(SILENCE) == Heard()
    assert engine.missing == ("grundle",)
