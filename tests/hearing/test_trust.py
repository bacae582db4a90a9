"""The garbage score and what is done by it, on guesses made up for the purpose."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.hearing import Heard, Hypothesis
from benchvoice.hearing.trust import GARBAGE, foreign_share, garbage, judged

FOREIGN = frozenset({"either", "rabbit", "white"})


def heard(*guesses: tuple[str, float]) -> Heard:
    return Heard(
        tuple(Hypothesis(text, share, -rank) for rank, (text, share) in enumerate(guesses))
    )


def test_the_foreign_share_is_the_expectation_over_the_guesses() -> None:
    # by hand: half of the weight has 1 word of 2, half none
    assert foreign_share(heard(("white seal", 0.5), ("eight seals", 0.5)), FOREIGN) == 0.25


@given(st.floats(0.01, 0.98), st.floats(0.01, 0.98))
def test_the_less_sure_the_more_garbage(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert garbage(heard(("two seals", high)), FOREIGN) <= garbage(
        heard(("two seals", low)), FOREIGN
    )


def test_a_sure_remark_is_trusted_and_a_sentence_of_foreign_words_is_not() -> None:
    assert judged(heard(("two seals", 0.95)), FOREIGN).trusted
    story = judged(heard(("white rabbit", 0.1), ("white rabbit two", 0.1)), FOREIGN)
    assert not story.trusted
    assert story.garbage is not None
    assert story.garbage >= GARBAGE
    assert story.text == "white rabbit"


def test_a_foreign_word_gives_way_to_the_same_remark_without_it() -> None:
    found = judged(heard(("either bolts off", 0.48), ("eight bolts off", 0.46)), FOREIGN)
    assert found.trusted
    assert [guess.text for guess in found.hypotheses] == ["eight bolts off"]
    assert found.confidence == pytest.approx(0.94)


def test_silence_is_garbage() -> None:
    assert not judged(Heard(), FOREIGN).trusted
