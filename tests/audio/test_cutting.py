"""Cutting held against recordings whose script says what was said when.

Real voices are those of tests/recordings/human (the PocketSphinx source
distribution's test data); the synthetic ones come with their positions.
"""

import itertools
import json
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile

from benchvoice.audio import SAMPLE_RATE, CutSettings, Cutter, Utterance, cut, read_blocks

RECORDINGS = Path(__file__).parents[1] / "recordings"
SCRIPT = json.loads((RECORDINGS / "script.json").read_text(encoding="utf-8"))


def human(name: str) -> np.ndarray:
    return soundfile.read(RECORDINGS / "human" / f"{name}.flac", dtype="int16")[0]


def noise(seconds: float, level: float = 20.0, seed: int = 0) -> np.ndarray:
    drawn = np.random.default_rng(seed).normal(0, level, round(seconds * SAMPLE_RATE))
    return drawn.astype(np.int16)


def in_blocks(samples: np.ndarray, size: int = 1600) -> Iterator[np.ndarray]:
    for at in range(0, samples.size, size):
        yield samples[at : at + size]


def cut_all(samples: np.ndarray, settings: CutSettings | None = None) -> list[Utterance]:
    return list(cut(in_blocks(samples), settings))


@pytest.mark.parametrize("name", ["bench_piper", "bench_flite"])
def test_every_remark_is_one_utterance_around_its_words(name: str) -> None:
    found = list(cut(read_blocks(RECORDINGS / f"{name}.flac")))
    assert len(found) == len(SCRIPT[name])
    for utterance, said in zip(found, SCRIPT[name], strict=True):
        # the words are inside, with no more than pre-roll, padding and hangover around them
        assert said["start"] - 0.5 <= utterance.start <= said["start"]
        assert said["end"] - 0.1 <= utterance.end <= said["end"] + 0.6
        assert utterance.samples.size == pytest.approx(
            (utterance.end - utterance.start) * SAMPLE_RATE, abs=16
        )


def test_real_voices_are_found_between_silences() -> None:
    names = ["cards_1", "cards_3", "digits", "go_forward"]
    parts, spans, at = [], [], 0
    for name in names:
        sound = human(name)
        parts += [noise(1.5), sound]
        spans.append(((at + 1.5 * SAMPLE_RATE) / SAMPLE_RATE, sound.size / SAMPLE_RATE))
        at += round(1.5 * SAMPLE_RATE) + sound.size
    found = cut_all(np.concatenate([*parts, noise(1.5)]))
    assert len(found) == len(names)
    for utterance, (start, length) in zip(found, spans, strict=True):
        assert start - 0.35 <= utterance.start < start + length / 2
        assert start + length / 2 < utterance.end <= start + length + 0.35


def joined_by(pause: float) -> np.ndarray:
    """Two remarks whose speech is `pause` seconds apart."""
    said = SCRIPT["bench_piper"]
    whole = soundfile.read(RECORDINGS / "bench_piper.flac", dtype="int16")[0]
    one, two = (
        whole[round(part["start"] * SAMPLE_RATE) : round(part["end"] * SAMPLE_RATE)]
        for part in (said[0], said[4])
    )
    return np.concatenate([noise(1), one, noise(pause, seed=1), two, noise(1.5, seed=2)])


def test_a_short_pause_does_not_part_a_remark_and_a_long_one_does() -> None:
    assert len(cut_all(joined_by(0.4))) == 1
    assert len(cut_all(joined_by(1.2))) == 2


def test_the_endpoint_is_settable() -> None:
    assert len(cut_all(joined_by(1.2), CutSettings(endpoint=1.8))) == 1


@pytest.mark.parametrize("size", [1, 160, 479, 481, 16000, 10**7])
def test_the_length_of_blocks_does_not_matter(size: int) -> None:
    sound = joined_by(1.2)[: 5 * SAMPLE_RATE]
    if size == 1:
        sound = sound[: 3 * SAMPLE_RATE]
    expected, found = cut_all(sound), list(cut(in_blocks(sound, size)))
    assert [(u.start, u.end) for u in found] == [(u.start, u.end) for u in expected]
    for one, other in zip(found, expected, strict=True):
        assert np.array_equal(one.samples, other.samples)


def test_an_utterance_comes_as_soon_as_it_has_ended() -> None:
    endless = itertools.chain(in_blocks(joined_by(0.4)), itertools.repeat(noise(0.1)))
    assert next(cut(endless)).start > 0.5


def test_the_samples_are_those_of_the_stream() -> None:
    sound = joined_by(1.2)
    found = cut_all(sound)
    assert found
    for utterance in found:
        start = round(utterance.start * SAMPLE_RATE)
        assert np.array_equal(sound[start : start + utterance.samples.size], utterance.samples)


def test_utterances_do_not_overlap() -> None:
    found = cut_all(joined_by(0.75), CutSettings(pre_roll=0.6, padding=0.5))
    assert len(found) > 1
    assert all(one.end <= two.start for one, two in itertools.pairwise(found))


@pytest.mark.parametrize(
    "sound",
    [np.zeros(5 * SAMPLE_RATE, dtype=np.int16), noise(5, 30), noise(5, 1000), noise(0.01)],
    ids=["digital silence", "quiet room", "loud fan", "less than a frame"],
)
def test_no_voice_gives_nothing(sound: np.ndarray) -> None:
    assert cut_all(sound) == []


def test_hammer_blows_are_not_remarks() -> None:
    sound = noise(4)
    for at in range(8000, sound.size - 800, 12000):
        blow = np.random.default_rng(at).normal(0, 12000, 600) * np.exp(-np.arange(600) / 120)
        sound[at : at + 600] = np.clip(blow, -32768, 32767)
    assert cut_all(sound) == []


def test_a_voice_over_a_steady_fan_is_found() -> None:
    sound = joined_by(1.2).astype(int)
    fan = np.concatenate([noise(3, 300, 5), noise(sound.size / SAMPLE_RATE, 300, 6)])
    fan = fan.astype(int)
    fan[3 * SAMPLE_RATE :] += sound
    found = cut_all(np.clip(fan, -32768, 32767).astype(np.int16))
    assert len(found) == 2
    assert found[0].start == pytest.approx(3 + 1 - 0.3, abs=0.35)


def test_a_radio_beneath_the_voice_neither_joins_remarks_nor_leads_in() -> None:
    remarks = np.concatenate([noise(2), joined_by(1.5)]).astype(float)
    radio = np.concatenate([human(f"cards_{n}") for n in (2, 4, 5, 2, 4, 5)] * 2).astype(float)
    radio = radio[np.abs(radio) > 100][: remarks.size]  # no pauses
    loud = np.sqrt(np.mean(remarks[np.abs(remarks) > 300] ** 2))
    level = loud / np.sqrt(np.mean(radio**2))
    as_loud, beneath = (
        cut_all(np.clip(remarks + level * share * radio, -32768, 32767).astype(np.int16))
        for share in (0.5, 0.1)
    )
    assert [one for one in as_loud if one.start < 4 and one.end > 6]
    assert not [one for one in beneath if one.start < 4 and one.end > 6]
    assert min(abs(one.start - 3) for one in beneath) < 1.0  # the radio began at 0


def test_what_goes_on_too_long_is_parted_without_loss() -> None:
    once = human("cards_5")
    sound = np.concatenate([noise(0.5), *[once] * 8, noise(1)])
    found = cut_all(sound, CutSettings(max_length=5.0, endpoint=1.0))
    assert len(found) >= 4
    assert all(utterance.end - utterance.start <= 5.0 + 1e-6 for utterance in found)
    assert sum(u.end - u.start for u in found) > 0.9 * 8 * once.size / SAMPLE_RATE
    assert all(one.end <= two.start + 1e-9 for one, two in itertools.pairwise(found))


def test_flush_gives_what_is_under_way() -> None:
    cutter = Cutter()
    sound = joined_by(0.4)
    assert cutter.push(sound[: round(1.7 * SAMPLE_RATE)]) == []
    assert cutter.speaking
    (utterance,) = cutter.flush()
    assert utterance.end <= 1.7
    assert not cutter.speaking
    assert cutter.flush() == []


@pytest.mark.parametrize("name", ["bench_piper", "bench_flite"])
def test_what_has_likely_ended_is_what_it_will_be(name: str) -> None:
    whole, _ = soundfile.read(RECORDINGS / f"{name}.flac", dtype="int16")
    cutter, supposed, right = Cutter(), None, 0
    for block in in_blocks(np.concatenate((whole, noise(1.0)))):
        for done in cutter.push(block):
            assert supposed is not None
            assert (supposed.start, supposed.end) == (done.start, done.end)
            assert np.array_equal(supposed.samples, done.samples)
            right += 1
        supposed = cutter.likely() or supposed
    assert right == len(SCRIPT[name])
    assert cutter.likely() is None
