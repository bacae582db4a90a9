"""Adapted means against a Gaussian's posterior worked out by hand and by integration."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import integrate, stats

from benchvoice.hearing.acoustic import AcousticModel, Floats
from benchvoice.hearing.adapting import TAU, adapted_means, posterior_means, turned_means
from benchvoice.hearing.aligning import Aligned
from benchvoice.hearing.mllr import Counts

SIZE = 3


def test_a_mean_by_hand() -> None:
    # (10 * 2 + 3 + 5 + 10) / (10 + 3) = 38 / 13
    prior = np.full((1, 1, 1, 1), 2.0)
    counts = Counts(np.full((1, 1, 1), 3.0), np.full((1, 1, 1, 1), 18.0))
    assert posterior_means(prior, counts, tau=10.0) == pytest.approx(38 / 13)


@pytest.mark.parametrize(("tau", "frames"), [(2.0, 1), (10.0, 7), (25.0, 40)])
def test_it_is_the_mean_of_the_posterior(tau: float, frames: int) -> None:
    # a Gaussian of known variance v whose mean is drawn from N(prior, v / tau): Bayes' rule,
    # integrated by scipy without the closed form
    rng = np.random.default_rng(frames)
    prior, deviation = 1.5, 0.8
    seen = rng.normal(3.0, deviation, frames)

    def density(mean: float) -> float:
        drawn = stats.norm.logpdf(mean, prior, deviation / np.sqrt(tau))
        return float(np.exp(drawn + stats.norm.logpdf(seen, mean, deviation).sum() + 2 * frames))

    whole, _ = integrate.quad(density, -3, 7, epsabs=0, epsrel=1e-9)
    first, _ = integrate.quad(lambda mean: mean * density(mean), -3, 7, epsabs=0, epsrel=1e-9)
    counts = Counts(np.full((1, 1, 1), float(frames)), np.full((1, 1, 1, 1), seen.sum()))
    found = posterior_means(np.full((1, 1, 1, 1), prior), counts, tau)
    assert found == pytest.approx(first / whole, rel=1e-6)


def test_what_was_not_said_stays_and_what_was_said_much_is_its_own_mean() -> None:
    rng = np.random.default_rng(3)
    prior, seen = rng.normal(size=(1, 1, 2, SIZE)), rng.normal(size=SIZE)
    counts = Counts(np.array([[[0.0, 1e6]]]), np.array([[[0.0 * seen, 1e6 * seen]]]))
    found = posterior_means(prior, counts)
    assert np.allclose(found[0, 0, 0], prior[0, 0, 0], rtol=1e-12)
    assert np.allclose(found[0, 0, 1], seen, atol=1e-4)


def voice(rng: np.random.Generator, frames: int) -> tuple[AcousticModel, Floats, Aligned]:
    """Two sounds of twelve Gaussians far apart, and a voice that moves each in its own way."""
    means = rng.normal(0, 20, (2, 1, 12, SIZE))
    model = AcousticModel(
        ("A", "B"), means, np.ones(means.shape), np.full((1, 12, 2), np.log(1 / 12))
    )
    own = means + rng.normal(0, 1.5, means.shape)
    sounds, which = rng.integers(0, 2, frames), rng.integers(0, 12, frames)
    said = own[sounds, 0, which] + rng.normal(size=(frames, SIZE))
    return model, own, Aligned(said[:, None, :], sounds, sounds)


def test_a_voice_that_moves_each_sound_otherwise_is_found_nearer_than_by_one_transform() -> None:
    rng = np.random.default_rng(9)
    model, own, said = voice(rng, 2_000)

    def apart(means: Floats) -> float:
        return float(np.sqrt(((means - own) ** 2).mean()))

    turned, found = apart(turned_means(model, [said])), apart(adapted_means(model, [said]))
    assert turned > 1.0
    # some 83 frames of each: the mean of so many is off by 0.11, the prior draws by 10 in 93
    expected = np.hypot(np.sqrt(1 / 83) * 83 / (83 + TAU), turned * TAU / (83 + TAU))
    assert found == pytest.approx(expected, rel=0.15)


def test_speech_in_parts_is_as_speech_in_one() -> None:
    model, _, said = voice(np.random.default_rng(5), 400)
    parts = [
        Aligned(said.features[part], said.sounds[part], said.states[part])
        for part in (slice(0, 150), slice(150, None))
    ]
    assert np.allclose(adapted_means(model, parts), adapted_means(model, [said]))
