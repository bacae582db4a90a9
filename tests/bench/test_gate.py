from __future__ import annotations

import pytest

from benchvoice.bench.gate import DEFAULT_WORD, Gate, after_word, with_attention
from benchvoice.bench.hold import HoldKey
from benchvoice.grammar import load_pack
from benchvoice.hearing import Clues, Heard, Hypothesis, pronounce


def heard(*guesses: tuple[str, float]) -> Heard:
    return Heard(tuple(Hypothesis(text, share, 0.0) for text, share in guesses))


def test_with_the_microphone_open_all_counts() -> None:
    said = heard(("eight bolts", 1.0))
    assert Gate().admit(said, 0.0, 1.0) is said
    assert Gate().sound(0.0, 0.1)


def test_only_what_the_word_calls_for_counts_and_the_word_is_taken_off() -> None:
    gate = Gate("attention", "ladybug")
    assert gate.admit(heard(("eight bolts", 1.0)), 0.0, 2.0) is None
    counted = gate.admit(heard(("ladybug eight bolts", 0.9), ("ladybug a bolt", 0.1)), 10.0, 12.0)
    assert counted is not None
    assert [guess.text for guess in counted.hypotheses] == ["eight bolts", "a bolt"]
    assert sum(guess.confidence for guess in counted.hypotheses) == pytest.approx(1.0)


def test_what_follows_soon_counts_without_the_word_but_does_not_keep_it_open() -> None:
    gate = Gate("attention", "ladybug")
    assert gate.admit(heard(("ladybug", 1.0)), 10.0, 11.0) is None
    assert gate.is_open(11.5)
    assert gate.admit(heard(("eight bolts", 1.0)), 13.0, 18.0) is not None
    assert gate.admit(heard(("one seal cracked", 1.0)), 18.5, 21.0) is not None
    assert gate.admit(heard(("and it rained", 1.0)), 19.5, 21.0) is None
    assert not gate.is_open(20.0)


def test_a_word_that_only_begins_so_or_comes_later_is_not_the_word() -> None:
    assert after_word(heard(("ladybugs eight bolts", 1.0)), "ladybug") is None
    assert after_word(heard(("the ladybug eight bolts", 1.0)), "ladybug") is None
    assert after_word(heard(("eight bolts", 0.6), ("ladybug bolts", 0.4)), "ladybug") is None
    assert after_word(Heard(), "ladybug") is None


def test_what_the_engine_told_of_it_stays_when_the_word_is_taken_off() -> None:
    clues = Clues(own=0.9, unlikely=1.0, worst=2.0, shortest=3.0)
    guesses = heard(("ladybug eight bolts", 1.0)).hypotheses
    rest = after_word(Heard(guesses, clues=clues, garbage=0.7, trusted=False), "ladybug")
    assert rest is not None
    assert rest.text == "eight bolts"
    assert (rest.clues, rest.garbage, rest.trusted) == (clues, 0.7, False)


def test_an_answer_needs_no_word() -> None:
    gate = Gate("attention", "ladybug")
    gate.asked(100.0)
    assert gate.admit(heard(("yes", 1.0)), 110.0, 111.0) is not None
    assert gate.admit(heard(("yes", 1.0)), 116.0, 117.0) is None


def test_an_answer_may_wait_for_the_end_of_a_spoken_question() -> None:
    gate = Gate("attention", "ladybug")
    gate.asked(100.0)
    gate.speaks(100.1)
    gate.spoke(106.0)
    assert gate.admit(heard(("yes", 1.0)), 118.0, 119.0) is not None
    assert gate.admit(heard(("yes", 1.0)), 122.0, 123.0) is None


def test_held_sound_counts_and_a_little_before_the_key() -> None:
    gate = Gate("hold", key=HoldKey())
    gate.press(10.0)
    for repeat in range(60):
        gate.press(10.5 + repeat / 30)
    assert not gate.sound(9.0, 9.5)
    assert gate.sound(9.7, 9.8)  # asked 0.3 s later, when the key is known to be down
    assert gate.sound(11.0, 11.1)
    assert not gate.sound(14.0, 14.1)
    assert gate.delay == pytest.approx(0.3)
    assert Gate().delay == 0.0


def test_it_is_deaf_while_it_speaks_and_while_the_room_rings() -> None:
    gate = Gate()
    gate.speaks(10.0)
    assert gate.sound(9.8, 9.9)
    assert not gate.sound(9.95, 10.05)
    assert not gate.sound(60.0, 60.1)
    gate.spoke(12.0)
    assert not gate.sound(12.4, 12.5)
    assert gate.sound(12.6, 12.7)


def test_ways_are_changed_only_to_what_was_set_up() -> None:
    gate = Gate()
    assert "--attention" in str(gate.switch("attention"))
    assert "--hold" in str(gate.switch("hold"))
    assert gate.mode == "open"
    gate = Gate("attention", "ladybug", HoldKey())
    assert gate.switch("hold") is None
    assert gate.mode == "hold"


def test_the_engine_is_taught_every_remark_with_and_without_the_word() -> None:
    taught = list(with_attention([(("eight", "bolts"), 2.0)], "lady bug"))
    assert taught[0] == (("eight", "bolts"), 2.0)
    assert taught[1] == (("lady", "bug", "eight", "bolts"), 2.0)
    assert taught[2][0] == ("lady", "bug")


def test_the_default_word_can_be_heard_and_is_none_of_the_trade() -> None:
    """The CMU Pronouncing Dictionary that comes with PocketSphinx has it."""
    assert pronounce([DEFAULT_WORD], {}).missing == ()
    said = {
        word
        for _, term in load_pack().terms()
        for say in (term.name, *term.say)
        for word in say.split()
    }
    assert DEFAULT_WORD not in said
