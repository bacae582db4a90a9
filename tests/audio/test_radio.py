"""Remarks over a radio, held against where they were laid and how loud each was made.

Speaker and radio are real voices (tests/recordings/human).  Levels are active speech levels in
the manner of ITU-T P.56 (method B, from memory: within 15.9 dB of itself, with 0.2 s hangover),
by frames; no level of the project's own.
"""

import math
from collections.abc import Sequence

import numpy as np
import pytest
import soundfile
from test_cutting import RECORDINGS, cut_all, in_blocks, noise

from benchvoice.audio import Cutter
from benchvoice.audio.radio import Radio

RATE = 16000
PAUSE = 1.5
REMARKS = ("cards_1", "cards_3", "go_forward", "cards_1", "digits", "cards_3", "go_forward")


def human(name: str) -> np.ndarray:
    return soundfile.read(RECORDINGS / "human" / f"{name}.flac", dtype="int16")[0].astype(float)


def active_rms(sound: np.ndarray) -> float:
    frames = sound[: sound.size - sound.size % 320].reshape(-1, 320)
    power = (frames**2).mean(axis=1)
    level = power.mean()
    for _ in range(50):
        loud = power > level * 10**-1.59
        held = np.convolve(loud, np.ones(11))[: loud.size] > 0  # 0.2 s after
        level = power[held].mean()
    return math.sqrt(level)


def at_level(sound: np.ndarray, rms: float) -> np.ndarray:
    return sound * (rms / active_rms(sound))


def laid(levels: Sequence[float]) -> tuple[np.ndarray, list[tuple[float, float]]]:
    """Give remarks with pauses between them and after, in levels of RMS, and where each is."""
    parts, spans, at = [np.zeros(3 * RATE)], [], 3 * RATE
    for name, level in zip(REMARKS, levels, strict=True):
        voice = at_level(human(name), level)
        loud = np.flatnonzero(np.abs(voice) > 0.05 * np.abs(voice).max())
        voice = voice[loud[0] : loud[-1]]
        parts += [voice, np.zeros(round(PAUSE * RATE))]
        spans.append((at / RATE, (at + voice.size) / RATE))
        at += voice.size + round(PAUSE * RATE)
    return np.concatenate(parts), spans


def radio(size: int, rms: float) -> np.ndarray:
    """Two voices at once that never stop."""
    one, other = (
        np.resize(np.concatenate([at_level(human(name), 1000.0) for name in names]), size)
        for names in (("cards_2", "cards_5", "cards_4"), ("cards_4", "cards_2", "cards_5"))
    )
    return at_level(one + other, rms)


def as_heard(sound: np.ndarray) -> np.ndarray:
    return np.clip(sound + noise(sound.size / RATE), -32768, 32767).astype(np.int16)


def parts_in(spans: Sequence[tuple[float, float]], found: list) -> list[list]:
    """Give, for each remark, the utterances that have a tenth of a second of it."""
    return [
        [one for one in found if min(one.end, end) - max(one.start, start) > 0.1]
        for start, end in spans
    ]


@pytest.mark.parametrize("beneath_db", [10, 14])
def test_remarks_over_a_radio_are_cut_out_alone_at_their_edges(beneath_db: float) -> None:
    speech, spans = laid([2000.0] * len(REMARKS))
    sound = speech + radio(speech.size, 2000.0 * 10 ** (-beneath_db / 20))
    found = cut_all(as_heard(sound))
    owned = parts_in(spans, found)
    assert [len(parts) for parts in owned] == [1] * len(spans)
    assert len({id(parts[0]) for parts in owned}) == len(spans)  # no two in one
    for (start, end), (one,) in list(zip(spans, owned, strict=True))[3:]:  # those before teach it
        assert start - 0.5 < one.start < start + 0.1
        assert end - 0.2 < one.end < end + 0.6


def test_over_a_radio_what_has_likely_ended_is_what_it_will_be() -> None:
    speech, spans = laid([2000.0] * len(REMARKS))
    sound = as_heard(speech + radio(speech.size, 2000.0 * 10**-0.5))
    cutter, supposed, right = Cutter(), None, 0
    for block in in_blocks(sound):
        for done in cutter.push(block):
            if done.end > spans[3][0]:  # those before teach it
                assert supposed is not None
                assert (supposed.start, supposed.end) == (done.start, done.end)
                right += 1
        supposed = cutter.likely() or supposed
    assert right == len(REMARKS) - 3


def test_a_radio_with_nobody_speaking_is_not_cut_out_once_a_remark_was_made_over_it() -> None:
    speech, spans = laid([2000.0] * len(REMARKS))
    speech = np.concatenate((speech, np.zeros(20 * RATE)))
    found = cut_all(as_heard(speech + radio(speech.size, 2000.0 * 10**-0.5)))
    assert [one for one in found if one.end > spans[-1][1] + PAUSE] == []


def test_a_radio_is_not_cut_out_after_we_spoke_ourselves() -> None:
    speech, spans = laid([2000.0] * len(REMARKS))
    speech = np.concatenate((speech, np.zeros(20 * RATE)))
    sound = as_heard(speech + radio(speech.size, 2000.0 * 10**-0.5))
    own = range(round((spans[-1][1] + 4.0) * RATE), round((spans[-1][1] + 10.0) * RATE))
    cutter, found, at = Cutter(), [], 0
    for block in in_blocks(sound):
        found += cutter.push(block, deaf=at in own)
        at += block.size
    found += cutter.flush()
    assert [one for one in found if one.end > spans[-1][1] + PAUSE] == []


def test_a_soft_remark_is_heard_in_a_quiet_shop_and_after_the_radio_was_switched_off() -> None:
    levels = [3000.0, 3000.0, 3000.0, 3000.0, 300.0, 3000.0, 200.0]
    speech, spans = laid(levels)
    assert all(parts_in(spans, cut_all(as_heard(speech))))
    on = np.arange(speech.size) < (spans[3][1] - 4.0) * RATE
    sound = speech + on * radio(speech.size, 3000.0 * 10**-0.5)
    assert all(parts_in(spans, cut_all(as_heard(sound))))


def test_a_softer_speaker_is_not_lost_over_a_radio() -> None:
    speech, spans = laid([2000.0, 2000.0, 2000.0] + [1100.0] * 4)  # 5 dB less
    found = cut_all(as_heard(speech + radio(speech.size, 2000.0 * 10**-0.6)))
    assert all(parts_in(spans, found))


def test_what_is_asked_of_a_voice_follows_the_radio_and_never_the_speaker() -> None:
    shop = Radio()
    for _ in range(300):
        shop.hear(-60.0, False)
    assert shop.least() == -math.inf
    assert not shop.may_be_on
    for _ in range(300):
        shop.hear(-36.0, True)
    assert -36.0 < shop.least() < -26.0  # between a radio and a speaker 10 dB above it
    assert shop.may_be_on
    shop.spoken(-32.0)
    assert shop.least() < -36.0
    shop.spoken(-20.0)
    assert shop.least() > -36.0
    assert shop.least(-30.0) < -36.0
    for _ in range(1000):
        shop.hear(-36.0, True)
    for _ in range(250):  # 7.5 s
        shop.hear(-60.0, False)
    assert shop.least() == -math.inf
