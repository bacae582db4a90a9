"""What is made of foreign words, on guesses made up for the purpose."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.hearing import Heard, Hypothesis
from benchvoice.hearing.trust import HOPELESS, SpokenWord, judged, own_share

FOREIGN = frozenset({"either", "rabbit", "white"})
PATH = (SpokenWord(frames=30, sounds=3, fit=-60.0, chance=-2.0), SpokenWord(20, 5, -80.0, -4.0))


def heard(*guesses: tuple[str, float]) -> Heard:
    return Heard(
        tuple(Hypothesis(text, share, -rank) for rank, (text, share) in enumerate(guesses))
    )


def test_the_own_share_is_what_guesses_without_a_foreign_word_have() -> None:
    # by hand: 0.3 of 0.3 + 0.5 + 0.2
    guesses = heard(("white seal", 0.5), ("eight seals", 0.3), ("white rabbit", 0.2))
    assert own_share(guesses, FOREIGN) == pytest.approx(0.3)
    assert own_share(Heard(), FOREIGN) == 0.0


@given(st.lists(st.tuples(st.sampled_from(["white seal", "a seal", "seals"]), st.floats(0.01, 1))))
def test_the_own_share_is_a_share_and_more_without_foreign_words(
    guesses: list[tuple[str, float]],
) -> None:
    share = own_share(heard(*guesses), FOREIGN)
    assert 0.0 <= share <= 1.0 + 1e-9
    assert own_share(heard(*guesses), frozenset()) >= share - 1e-9


def test_a_foreign_word_gives_way_to_the_same_remark_without_it() -> None:
    found = judged(heard(("either bolts off", 0.46), ("eight bolts off", 0.48)), FOREIGN, PATH)
    assert [guess.text for guess in found.hypotheses] == ["eight bolts off"]
    assert found.confidence == pytest.approx(0.94)


def test_of_a_story_all_guesses_stay_and_it_is_not_listened_to_again() -> None:
    story = judged(heard(("white rabbit", 0.1), ("white rabbit two", 0.1)), FOREIGN, PATH)
    assert story.text == "white rabbit"
    assert len(story.hypotheses) == 2
    assert story.clues is not None
    assert story.clues.own < HOPELESS


def test_the_clues_are_those_of_the_words_of_the_path() -> None:
    # by hand: (2 + 4) / 2; 80 / 20 against 60 / 30; 20 / 5 against 30 / 3
    clues = judged(heard(("two seals", 0.95)), FOREIGN, PATH).clues
    assert clues is not None
    assert (clues.own, clues.unlikely, clues.worst, clues.shortest) == (1.0, 3.0, 4.0, 4.0)


def test_silence_has_no_clues_and_no_guesses() -> None:
    assert judged(Heard(), FOREIGN, ()) == Heard()
