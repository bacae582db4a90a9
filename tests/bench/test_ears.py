"""What the ears keep from one look at an utterance to the next."""

from __future__ import annotations

import numpy as np
import pytest

from benchvoice.audio import Samples, Utterance
from benchvoice.bench.ears import Ears, sentences_name
from benchvoice.grammar import Pack, load_outline, load_pack
from benchvoice.hearing import Heard, Hypothesis


class Counting:
    """An engine that counts how often it was asked."""

    name = "counting"
    missing = ()

    def __init__(self) -> None:
        self.asked = 0

    def hear(self, samples: Samples) -> Heard:
        self.asked += 1
        return Heard((Hypothesis(f"{samples.size} bolts", 0.9, 0.0),))


@pytest.fixture(scope="module")
def pack() -> Pack:
    return load_pack()


def utterance(size: int, value: int = 1) -> Utterance:
    return Utterance(np.full(size, value, dtype=np.int16), 1.0, 1.0 + size / 16000)


def test_what_was_expected_is_not_listened_to_again(pack: Pack) -> None:
    engine = Counting()
    ears = Ears(pack, engine)
    ears.expect(utterance(800))
    assert ears.words(utterance(800)).text == "800 bolts"
    assert engine.asked == 1
    # the speaker went on: other sound is heard anew
    assert ears.words(utterance(960)).text == "960 bolts"
    assert ears.words(utterance(800, value=2)).text == "800 bolts"
    assert engine.asked == 3


def test_sentences_are_named_by_all_that_decides_on_them(pack: Pack) -> None:
    name = sentences_name(pack, 100)
    assert sentences_name(load_pack(), 100) == name
    others = {
        sentences_name(pack, 101),
        sentences_name(load_pack(load_outline("worm_reducer")), 100),
    }
    assert len(others | {name}) == 3
