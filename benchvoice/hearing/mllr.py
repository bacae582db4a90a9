"""A voice's own transform of the acoustic model, estimated from what it said.

Maximum likelihood linear regression of the means (Leggetter and Woodland,
"Maximum likelihood linear regression for speaker adaptation of continuous
density hidden Markov models", Computer Speech and Language 9, 1995): every
mean m becomes A m + b, with the A and b under which the speech of the voice
is likeliest.  With diagonal variances each row w of [b A] has the closed form
of their section 3.3,

    w = G^-1 z,  G = sum c / v * x x',  z = sum o / v * x,  x = (1, m)

summed over the Gaussians, with c how many frames fell to one, o the sum of
the observations in its row's dimension, v its variance there.  The prior
draws w towards "no change" as that many frames seen where the model expects
them would (a maximum a posteriori form: Siohan, Chesta and Lee, "Joint
maximum a posteriori adaptation of transformation and HMM parameters", 2001).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import reduce

import numpy as np
import numpy.typing as npt

from benchvoice.hearing.acoustic import AcousticModel, Floats

PRIOR = 200.0
"""How many expected frames the identity counts as; set by hand."""


@dataclass(frozen=True, eq=False)
class Counts:
    """What fell to each Gaussian: frames (C, S, K) and sums of their features (C, S, K, D)."""

    frames: Floats
    sums: Floats

    def __add__(self, other: Counts) -> Counts:
        """Put the counts of more speech to these."""
        return Counts(self.frames + other.frames, self.sums + other.sums)


@dataclass(frozen=True, eq=False)
class Transform:
    """One class of means for each stream: `matrix` (S, D, D) and `bias` (S, D)."""

    matrix: Floats
    bias: Floats

    def of(self, means: Floats) -> Floats:
        """Give the means (C, S, K, D) as this voice has them."""
        turned: Floats = np.einsum("sij,cskj->cski", self.matrix, means)
        return turned + self.bias[None, :, None, :]


def count(
    model: AcousticModel,
    features: Floats,
    sounds: npt.NDArray[np.int64],
    states: npt.NDArray[np.int64],
    means: Floats | None = None,
) -> Counts:
    """Share each frame out over the Gaussians of its state, by their posteriors.

    `features` are shaped (T, S, D); `sounds` (T,) says which codebook and
    `states` (T,) which state each frame was aligned with.  `means` stands in
    for the model's own.
    """
    means = model.means if means is None else means
    frames = np.zeros(model.means.shape[:3])
    sums = np.zeros(model.means.shape)
    for sound in np.unique(sounds):
        here = sounds == sound
        for stream in range(means.shape[1]):
            mean, variance = means[sound, stream], model.variances[sound, stream]
            seen = features[here, stream]
            log = model.log_weights[stream][:, states[here]].T - 0.5 * (
                np.log(variance).sum(axis=1)
                + ((seen[:, None, :] - mean) ** 2 / variance).sum(axis=2)
            )
            share = np.exp(log - log.max(axis=1, keepdims=True))
            share /= share.sum(axis=1, keepdims=True)
            frames[sound, stream] += share.sum(axis=0)
            sums[sound, stream] += share.T @ seen
    return Counts(frames, sums)


def total(counts: Iterable[Counts]) -> Counts:
    """Add up the counts of several utterances; at least one."""
    return reduce(Counts.__add__, counts)


def estimate(model: AcousticModel, counts: Counts, prior: float = PRIOR) -> Transform:
    """Give the transform under which what was counted is likeliest."""
    _, streams, _, size = model.means.shape
    matrix, bias = np.zeros((streams, size, size)), np.zeros((streams, size))
    for stream in range(streams):
        means = model.means[:, stream].reshape(-1, size)
        precision = 1.0 / model.variances[:, stream].reshape(-1, size)
        seen = counts.frames[:, stream].reshape(-1)
        sums = counts.sums[:, stream].reshape(-1, size)
        longer = np.hstack((np.ones((len(means), 1)), means))
        # the prior: as many frames again, spread as those seen, each on its own mean
        share = prior * seen / max(seen.sum(), 1e-9)
        weight = seen + share
        for row in range(size):
            scaled = (weight * precision[:, row])[:, None] * longer
            right = ((sums[:, row] + share * means[:, row]) * precision[:, row]) @ longer
            solved = np.linalg.lstsq(longer.T @ scaled, right, rcond=None)[0]
            bias[stream, row], matrix[stream, row] = solved[0], solved[1:]
    return Transform(matrix, bias)
