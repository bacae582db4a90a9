"""The voice transform against least squares and a transform that is known beforehand."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from benchvoice.errors import EngineError
from benchvoice.hearing.acoustic import (
    AcousticModel,
    read_acoustic_model,
    read_gaussians,
    read_sounds,
)
from benchvoice.hearing.mllr import Counts, Transform, count, estimate, total
from benchvoice.hearing.pronounce import model_folder

FOLDER = model_folder() / "en-us"
SIZE = 4


def made_up_model(spread: float, rng: np.random.Generator) -> AcousticModel:
    """Two sounds of one state each, twelve Gaussians far apart, one stream."""
    means = rng.normal(0, 20, (2, 1, 12, SIZE))
    variances = rng.uniform(0.5, 2.0, means.shape) if spread else np.ones(means.shape)
    return AcousticModel(("A", "B"), means, variances, np.full((1, 12, 2), np.log(1 / 12)))


def said(model: AcousticModel, turned: Transform, rng: np.random.Generator, frames: int):
    """Frames of a speaker whose means are turned, with the Gaussian of each."""
    sounds = rng.integers(0, 2, frames)
    which = rng.integers(0, 12, frames)
    means = turned.of(model.means)[sounds, 0, which]
    spread = np.sqrt(model.variances[sounds, 0, which])
    return (means + spread * rng.normal(size=means.shape))[:, None, :], sounds, which


def some_transform(rng: np.random.Generator) -> Transform:
    matrix = np.eye(SIZE) + rng.normal(0, 0.05, (1, SIZE, SIZE))
    return Transform(matrix, rng.normal(0, 1.0, (1, SIZE)))


def test_a_known_transform_is_found_again() -> None:
    rng = np.random.default_rng(4)
    model, known = made_up_model(1.0, rng), some_transform(rng)
    features, sounds, _ = said(model, known, rng, 40_000)
    found = estimate(model, count(model, features, sounds, sounds), prior=0.0)
    assert np.allclose(found.matrix, known.matrix, atol=0.005)
    assert np.allclose(found.bias, known.bias, atol=0.05)


def test_with_equal_variances_it_is_least_squares() -> None:
    # then the likelihood is the sum of squares: numpy's own solver is the reference
    rng = np.random.default_rng(5)
    model = made_up_model(0.0, rng)
    features, sounds, which = said(model, some_transform(rng), rng, 300)
    found = estimate(model, count(model, features, sounds, sounds), prior=0.0)
    means = np.hstack((np.ones((300, 1)), model.means[sounds, 0, which]))
    rows = np.linalg.lstsq(means, features[:, 0], rcond=None)[0].T
    assert np.allclose(np.hstack((found.bias[0][:, None], found.matrix[0])), rows, atol=1e-6)


def test_the_likelihood_never_falls() -> None:
    rng = np.random.default_rng(6)
    model = made_up_model(1.0, rng)
    features, sounds, which = said(model, some_transform(rng), rng, 60)

    def log_likelihood(turned: Transform) -> float:
        apart = features[:, 0] - turned.of(model.means)[sounds, 0, which]
        return -0.5 * float((apart**2 / model.variances[sounds, 0, which]).sum())

    none = Transform(np.eye(SIZE)[None], np.zeros((1, SIZE)))
    best = estimate(model, count(model, features, sounds, sounds), prior=0.0)
    drawn = estimate(model, count(model, features, sounds, sounds), prior=50.0)
    assert log_likelihood(best) > log_likelihood(drawn) > log_likelihood(none)


def test_nothing_said_is_no_transform() -> None:
    model = made_up_model(1.0, np.random.default_rng(7))
    empty = Counts(np.zeros((2, 1, 12)), np.zeros((2, 1, 12, SIZE)))
    one = Counts(np.ones((2, 1, 12)), model.means.copy())
    found = estimate(model, total([empty, one]))
    assert np.allclose(found.matrix, np.eye(SIZE), atol=1e-6)
    assert np.allclose(found.bias, 0.0, atol=1e-5)


def test_the_model_that_comes_along_is_read_whole() -> None:
    model = read_acoustic_model(FOLDER)
    assert model.means.shape == (42, 3, 128, 13)
    # weights are probabilities; the file cuts the smallest off
    assert np.exp(model.log_weights).sum(axis=1) == pytest.approx(1.0, abs=0.12)
    loudness = model.means[:, 0, :, 0].mean(axis=1)
    assert loudness[model.sounds.index("AA")] > loudness[model.sounds.index("SIL")]


@pytest.mark.parametrize("name", ["means", "variances"])
def test_the_values_add_up_to_the_checksum_in_the_file(name: str) -> None:
    # SphinxBase, bio.c: sum = (sum << 20 | sum >> 12) + value, over all numbers after the magic
    data = (FOLDER / name).read_bytes()
    start = data.index(b"endhdr\n") + 11
    heads = np.frombuffer(data[start : start + 28], "<u4")
    values = read_gaussians(FOLDER / name).astype("<f4").view("<u4").ravel()
    found = 0
    for value in (*heads.tolist(), *values.tolist()):
        found = ((found << 20 | found >> 12) + value) & 0xFFFFFFFF
    assert found == int.from_bytes(data[-4:], "little")


def test_other_files_are_refused(tmp_path: Path) -> None:
    (tmp_path / "x").write_bytes(b"nothing of the kind")
    with pytest.raises(EngineError, match="Gaussians"):
        read_gaussians(tmp_path / "x")
    with pytest.raises(EngineError, match="model definition"):
        read_sounds(tmp_path / "x")


@pytest.mark.parametrize("name", ["mdef", "means", "variances", "sendump"])
@pytest.mark.parametrize("kept", [10, 60, 100])
def test_a_model_of_which_a_file_breaks_off_is_said_to_be_damaged(
    tmp_path: Path, name: str, kept: int
) -> None:
    for one in ("mdef", "means", "variances", "sendump"):
        (tmp_path / one).symlink_to(FOLDER / one)
    (tmp_path / name).unlink()
    (tmp_path / name).write_bytes((FOLDER / name).read_bytes()[:kept])
    with pytest.raises(EngineError, match=rf"{name}: .*; "):
        read_acoustic_model(tmp_path)
