"""Our front end against PocketSphinx's own."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile
from pocketsphinx import Decoder

from benchvoice.hearing.cepstra import cepstra, dynamic, mean_of
from benchvoice.hearing.ngram import estimate_trigrams, write_arpa
from benchvoice.hearing.pocketsphinx_engine import decode
from benchvoice.hearing.pronounce import model_folder
from benchvoice.hearing.taught import write_features

HUMAN = Path(__file__).parents[1] / "recordings" / "human"
WORDS = "ten T EH N\nof AH V\nclubs K L AH B Z\nseven S EH V AH N\nspades S P EY D Z\n"
SILENCE = np.zeros(4000, dtype=np.int16)


def human(name: str) -> np.ndarray:
    return soundfile.read(HUMAN / f"{name}.flac", dtype="int16")[0]


def make_decoder(folder: Path, **settings: str) -> Decoder:
    (folder / "dict").write_text(WORDS, encoding="utf-8")
    said = [((line.split()[0],), 1.0) for line in WORDS.splitlines()]
    write_arpa(estimate_trigrams(said), folder / "arpa")
    return Decoder(
        hmm=str(model_folder() / "en-us"),
        lm=str(folder / "arpa"),
        dict=str(folder / "dict"),
        loglevel="FATAL",
        **settings,
    )


def own_way(decoder: Decoder, samples: np.ndarray) -> None:
    """Through PocketSphinx's front end, twice, so that it knows the noise the second time."""
    decoder.reinit_feat()
    for _ in range(2):
        decoder.start_utt()
        decoder.process_raw(samples.tobytes(), full_utt=True)
        decoder.end_utt()


@pytest.mark.parametrize(
    "samples",
    [human("cards_1"), human("go_forward")[:9999], SILENCE, human("digits")[:300]],
    ids=["a person", "cut off", "silence", "shorter than a frame"],
)
def test_cepstra_are_those_that_pocketsphinx_logs(tmp_path: Path, samples: np.ndarray) -> None:
    own_way(make_decoder(tmp_path, mfclogdir=str(tmp_path)), samples)
    logged = sorted(tmp_path.glob("*.mfc"))[-1].read_bytes()
    theirs = np.frombuffer(logged[4:], ">f4").reshape(-1, 13)
    ours = cepstra(samples)
    assert ours.shape == theirs.shape
    assert np.abs(ours - theirs).max() < 1e-3


def test_speech_is_decoded_as_from_the_sound(tmp_path: Path) -> None:
    samples = human("cards_1")
    theirs = make_decoder(tmp_path)
    own_way(theirs, samples)
    write_features(tmp_path / "features")
    ours = make_decoder(tmp_path, featparams=str(tmp_path / "features"))
    frames = cepstra(samples)
    decode(ours, frames - mean_of(frames))
    assert ours.hyp().hypstr == theirs.hyp().hypstr == "ten of clubs"
    assert ours.n_frames() == theirs.n_frames()
    assert ours.hyp().score == pytest.approx(theirs.hyp().score, rel=1e-9)


def test_slopes_of_a_parabola_are_its_derivatives() -> None:
    # by hand: (t + 2)^2 - (t - 2)^2 = 8 t, and 8 (t + 1) - 8 (t - 1) = 16
    time = np.arange(20.0)
    found = dynamic(np.repeat(time[:, None] ** 2, 13, axis=1))[3:-3]
    assert np.allclose(found[:, 1], 8 * time[3:-3, None])
    assert np.allclose(found[:, 2], 16.0)


def test_no_sound_gives_no_frames() -> None:
    assert cepstra(SILENCE[:0]).shape == (0, 13)
