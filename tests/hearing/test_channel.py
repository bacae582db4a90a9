"""The mean told from what was said, against likelihoods by scipy and shifts known beforehand."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile
from scipy.special import logsumexp
from scipy.stats import norm

from benchvoice.hearing.acoustic import read_acoustic_model
from benchvoice.hearing.cepstra import cepstra, mean_of
from benchvoice.hearing.channel import Mixture, matched, mixture_of, speech_mixture
from benchvoice.hearing.pronounce import model_folder

HUMAN = Path(__file__).parents[1] / "recordings" / "human"
FOLDER = model_folder() / "en-us"
SHIFT = np.array([40.0, -5.0, 0.0, 5.0, 2.0, -4.0, -1.0, -2.0, -5.0, -2.0, -6.0, -1.0, 1.0])


def hissing(frames: int) -> np.ndarray:
    """Frames of "s" and "sh" alone, as the model draws them, 40 dB or so louder."""
    rng = np.random.default_rng(7)
    model = read_acoustic_model(FOLDER)
    sounds = [model.sounds.index(name) for name in ("S", "SH")]
    which = rng.choice(sounds, frames)
    weights = np.exp(model.log_weights[0][:, [3 * sound + 1 for sound in which]])
    gaussian = [rng.choice(len(w), p=w / w.sum()) for w in weights.T]
    means, variances = (part[which, 0, gaussian] for part in (model.means, model.variances))
    return SHIFT + means + np.sqrt(variances) * rng.normal(size=means.shape)


def likelihood(mixture: Mixture, frames: np.ndarray) -> float:
    variances = 1 / mixture.precisions
    means = mixture.scaled_means * variances
    log_weights = mixture.const + 0.5 * (np.log(variances) + means**2 / variances).sum(axis=1)
    each = norm.logpdf(frames[:, None, :], means, np.sqrt(variances)).sum(axis=2)
    return float(logsumexp(each + log_weights, axis=1).sum())


def test_pieces_of_one_person_agree_better_than_their_means() -> None:
    # the channel is the same all through a recording, what is said is not
    mixture, spread, spread_of_means = speech_mixture(FOLDER), 0.0, 0.0
    for path in sorted(HUMAN.glob("*.flac")):
        frames = cepstra(soundfile.read(path, dtype="int16")[0])
        pieces = list(np.array_split(frames, len(frames) // 60))
        shifts = [(piece - matched(piece, mixture)).mean(axis=0) for piece in pieces]
        spread += np.std(shifts, axis=0)
        spread_of_means += np.std([mean_of(piece) for piece in pieces], axis=0)
    assert (spread < spread_of_means).sum() >= 11
    assert (spread / spread_of_means).mean() < 0.85


def test_frames_become_likelier() -> None:
    mixture, frames = speech_mixture(FOLDER), hissing(200)
    plain = likelihood(mixture, frames - mean_of(frames))
    assert likelihood(mixture, matched(frames, mixture)) > plain


def test_a_channel_changes_nothing() -> None:
    mixture, frames = speech_mixture(FOLDER), hissing(100)
    assert np.allclose(matched(frames + 3.0, mixture), matched(frames, mixture), atol=0.02)


@pytest.mark.parametrize("value", [-50.0, 0.0])
def test_silence_and_a_single_frame_stay_finite(value: float) -> None:
    assert np.isfinite(matched(np.full((1, 13), value), speech_mixture(FOLDER))).all()


def test_noises_have_no_share() -> None:
    model = read_acoustic_model(FOLDER)
    noises = {name for name in model.sounds if name.startswith("+")}
    mixture = mixture_of(model)
    found = mixture.scaled_means / mixture.precisions

    def nearest(name: str) -> float:
        means = model.means[model.sounds.index(name), 0]
        return float(np.abs(found[:, None] - means).max(axis=2).min())

    assert min(map(nearest, noises)) > 0.1
    assert nearest("S") < 1e-3
