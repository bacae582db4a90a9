"""When an utterance is listened to again, and what is made of two hearings."""

from __future__ import annotations

import numpy as np
import pytest

from benchvoice.audio import SAMPLE_RATE, Samples
from benchvoice.hearing.again import CLEAR, LONGEST, listen_again
from benchvoice.hearing.engine import Heard, Hypothesis

SOUND = np.zeros(SAMPLE_RATE, dtype=np.int16)


def heard(**shares: float) -> Heard:
    return Heard(tuple(Hypothesis(text, share, np.log(share)) for text, share in shares.items()))


def never(_: Samples) -> Heard:
    raise AssertionError("it was listened to again")


def test_two_hearings_are_averaged() -> None:
    lengths: list[int] = []

    def otherwise(samples: Samples) -> Heard:
        lengths.append(samples.size)
        return heard(seal=0.6, seals=0.4)

    found = listen_again(SOUND, lambda _: heard(seals=0.4, steel=0.3), otherwise, lambda _: False)
    shares = {one.text: one.confidence for one in found.hypotheses}
    # by hand: (0.4 + 0.4) / 2 and (0 + 0.6) / 2; as many stay as there were first
    assert shares == pytest.approx({"seals": 0.4, "seal": 0.3})
    assert found.text == "seals"
    assert lengths == [pytest.approx(SOUND.size / 1.06, abs=2)]


@pytest.mark.parametrize(
    ("first", "seconds", "hopeless"),
    [
        (heard(seals=CLEAR), 1.0, False),
        (heard(seals=0.1), LONGEST + 0.1, False),
        (heard(seals=0.1), 1.0, True),
        (Heard(), 1.0, False),
    ],
    ids=["clear", "long", "hopeless", "nothing"],
)
def test_some_are_heard_once(first: Heard, seconds: float, hopeless: bool) -> None:
    sound = np.zeros(round(seconds * SAMPLE_RATE), dtype=np.int16)
    assert listen_again(sound, lambda _: first, never, lambda _: hopeless) == first
