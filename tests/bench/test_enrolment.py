"""Enrolment: what is read, what is kept, and when."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import soundfile

from benchvoice.bench.enrolment import (
    Enrolled,
    Gain,
    Reading,
    enrol,
    sentences_to_read,
    word_errors,
)
from benchvoice.bench.voices import (
    find_voice,
    keep_readings,
    keep_voice,
    read_script,
    readings_folder,
)
from benchvoice.errors import BadInput
from benchvoice.grammar import Pack, load_pack
from benchvoice.grammar.generate import sentences
from benchvoice.hearing import Engine, ScriptedEngine, open_engine, pronounce
from benchvoice.hearing.acoustic import read_acoustic_model, read_gaussians
from benchvoice.hearing.adapting import turned_means
from benchvoice.hearing.aligning import Aligner
from benchvoice.hearing.own_voice import voice_setting, write_voice
from benchvoice.hearing.pronounce import model_folder

RECORDINGS = Path(__file__).parents[1] / "recordings"


@pytest.fixture(scope="module")
def pack() -> Pack:
    return load_pack()


@pytest.fixture(scope="module")
def readings() -> list[Reading]:
    script = json.loads((RECORDINGS / "script.json").read_text(encoding="utf-8"))
    found = []
    for name in ("bench_piper", "bench_flite"):
        whole, rate = soundfile.read(RECORDINGS / f"{name}.flac", dtype="int16")
        for said in script[name]:
            start, end = round((said["start"] - 0.3) * rate), round((said["end"] + 0.15) * rate)
            found.append(Reading(said["text"], whole[start:end]))
    return found[:10]


def engines(readings: list[Reading], *, better: bool):
    """Without a voice every first word is lost; with one, half of the time (or never, as told)."""
    texts = [one.text for one in readings]
    worse = [text.partition(" ")[2] for text in texts]

    def make(voice: Path | None) -> ScriptedEngine:
        if voice is None:
            return ScriptedEngine(worse)
        assert voice_setting(voice) == {"mean": str(voice)}
        fold = make.folds
        make.folds += 1
        return ScriptedEngine((texts if better else worse)[fold::4])

    make.folds = 0
    return make


def test_a_voice_is_kept_only_when_it_helps_on_what_was_held_back(
    tmp_path: Path, pack: Pack, readings: list[Reading]
) -> None:
    helped = enrol(readings, pack, engines(readings, better=True))
    words = sum(len(one.text.split()) for one in readings)
    assert helped.gain == Gain(sentences=10, words=words, before=10, after=0)
    assert "10 wrong before, 0 after; kept" in helped.gain.text()
    keep_voice(tmp_path, "Al", "USB mic 2", helped)
    kept = find_voice(tmp_path, "al")
    assert kept is not None
    assert kept == find_voice(tmp_path, "Al", "USB mic 2")
    assert voice_setting(kept) == {"mean": str(kept)}
    assert np.allclose(read_gaussians(kept), helped.means, rtol=1e-6)
    assert kept.stat().st_size < 1e6

    no_help = enrol(readings, pack, engines(readings, better=False))
    assert no_help.gain.after == 10
    keep_voice(tmp_path, "Al", "USB mic 2", no_help)
    assert find_voice(tmp_path, "Al") is None


def test_a_transform_that_was_kept_once_is_found_until_the_voice_is_enrolled_anew(
    tmp_path: Path, pack: Pack, readings: list[Reading]
) -> None:
    helped = enrol(readings, pack, engines(readings, better=True))
    folder = keep_voice(tmp_path, "Al", "USB mic 2", helped)
    (folder / "voice.means").unlink()
    (folder / "transform.mllr").write_text("1\n3\n13\n", encoding="ascii")
    assert find_voice(tmp_path, "Al") == folder / "transform.mllr"
    keep_voice(tmp_path, "Al", "USB mic 2", helped)
    assert sorted(path.name for path in folder.iterdir()) == ["voice.json", "voice.means"]


def test_who_is_not_enrolled_is_told_so(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match='"Bo" is not enrolled; benchvoice enrol --user Bo'):
        find_voice(tmp_path, "Bo")
    with pytest.raises(BadInput, match="no name"):
        find_voice(tmp_path, "../..")


def test_what_was_not_read_as_written_is_left_out(pack: Pack, readings: list[Reading]) -> None:
    heard = ["something else entirely", *[one.text for one in readings[1:]]]
    found = enrol(readings, pack, lambda voice: ScriptedEngine(heard if voice is None else []))
    assert found.left_out == (readings[0].text,)
    with pytest.raises(BadInput, match=r"only 0 of 10 recordings.*read at least 8"):
        enrol(readings, pack, lambda _: ScriptedEngine(["something else entirely"] * 10))


def test_who_is_heard_badly_is_heard_once_more_before_a_reading_is_left_out(
    pack: Pack, readings: list[Reading]
) -> None:
    texts = [one.text for one in readings]
    unlike = ["something else entirely"] * 6

    def make(voice: Path | None) -> ScriptedEngine:
        if voice is None:
            return ScriptedEngine([*texts[:4], *unlike])
        fold, make.made = make.made, make.made + 1
        return ScriptedEngine([*texts[4:9], unlike[0]] if fold == 0 else texts[:9][fold - 1 :: 4])

    make.made = 0
    found = enrol(readings, pack, make)
    assert found.left_out == (texts[9],)
    assert (found.gain.sentences, found.gain.after) == (9, 0)


def test_recordings_are_kept_with_their_script(tmp_path: Path, readings: list[Reading]) -> None:
    folder = readings_folder(tmp_path, "Al", "default")
    keep_readings(readings, folder)
    again = read_script(folder)
    assert [one.text for one in again] == [one.text for one in readings]
    assert all((a.samples == b.samples).all() for a, b in zip(again, readings, strict=True))


@pytest.mark.slow
def test_a_voice_that_is_hard_to_hear_is_heard_after_it_was_enrolled(
    tmp_path: Path, pack: Pack
) -> None:
    # A synthetic voice.  What is heard was chosen among 36 drawn remarks as not right before, nor
    # with the one linear transform, which stands beside it.
    read, later = (read_script(RECORDINGS / "enrolled" / name) for name in ("read", "heard"))

    def make(voice: Path | None) -> Engine:
        said = ((one.words, 0.5 * one.weight) for one in sentences(pack, count=60_000))
        return open_engine(
            "pocketsphinx",
            said,
            pack.pronounce,
            cache_dir=tmp_path,
            find_denoiser=lambda: None,
            find_second=lambda: None,
            named="all",
            voice=voice,
        )

    def right(voice: Path | None) -> int:
        engine = make(voice)
        return sum(engine.hear(one.samples).text == one.text for one in later)

    found = enrol(read, pack, make)
    # heard without a voice, seven of the twelve are too unlike to go by
    assert len(found.left_out) <= 1
    assert found.gain.after < 0.5 * found.gain.before
    keep_voice(tmp_path, "Al", "bench", found)
    model = read_acoustic_model(model_folder() / "en-us")
    aligner = Aligner([one.text for one in read], pack.pronounce)
    aligned = [aligner.align(model, one.text, one.samples) for one in read]
    write_voice(turned_means(model, [one for one in aligned if one]), tmp_path / "turned")
    assert right(None) <= 1
    assert right(tmp_path / "turned") <= 2
    assert right(find_voice(tmp_path, "Al")) >= 7


@pytest.mark.parametrize("text", [None, "eight bolts\n", '"01.flac" = 8\n'])
def test_a_missing_or_broken_script_is_told(tmp_path: Path, text: str | None) -> None:
    if text is not None:
        (tmp_path / "script.toml").write_text(text)
    with pytest.raises(BadInput, match=r"script.*write one line for each recording"):
        read_script(tmp_path)


def test_what_is_to_be_read_has_most_pairs_of_sounds(pack: Pack) -> None:
    chosen = sentences_to_read(pack, 20)
    assert len(set(chosen)) == 20
    assert sentences_to_read(pack, 20) == chosen

    def pairs(texts: list[str]) -> int:
        words = {word for text in texts for word in text.split()}
        sounds = pronounce(words, pack.pronounce).entries
        return len(
            {
                pair
                for text in texts
                for pair in pairwise(" ".join(sounds[word][0] for word in text.split()).split())
            }
        )

    drawn = [one.text for one in sentences(pack, count=300) if len(one.words) in range(4, 10)]
    assert pairs(chosen) > 1.2 * pairs(drawn[:20])


def test_word_errors_are_counted_by_words() -> None:
    # by hand: one changed, one left out
    assert word_errors("eight bolts off front", "ate bolts front") == 2


def test_a_shelf_that_cannot_be_written_is_said_in_a_line(
    tmp_path: Path, readings: list[Reading]
) -> None:
    (tmp_path / "shelf").write_bytes(b"")
    with pytest.raises(BadInput, match="cannot be written"):
        keep_readings(readings, tmp_path / "shelf" / "al")
    gain = Gain(sentences=8, words=40, before=9, after=9)
    nothing = Enrolled(np.zeros((1, 3, 1, 13)), gain, ())
    with pytest.raises(BadInput, match="cannot be written"):
        keep_voice(tmp_path / "shelf", "Al", "bench", nothing)
