"""Simulated shops with a known truth for the quote's calibration; all numbers are invented.

The shops are not drawn from the model's own prior: each kind has fixed spreads.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from benchvoice.grammar.outline import Outline, Stage, Step
from benchvoice.quoting import SessionTimes

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Shop:
    """How one kind of shop's times arise; spreads are sds of log minutes."""

    offset: float = 0.15
    book: float = 0.3
    session: float = 0.2
    stage: float = 0.0
    residual: float = 0.3
    skew: bool = False
    """Log residuals from a gamma (shape 2, skewness 1.4) instead of a normal."""
    outliers: float = 0.0
    """Share of timings that come out three times as long."""
    uneven: bool = False
    """Steps' own residual spreads from half to twice `residual`."""
    trouble: float = 0.0
    """Share of sessions with a condition, on every fourth step, that makes it 1.8 times as long."""
    missing: float = 0.0
    no_book: float = 0.0


SHOPS = {
    "plain": Shop(),
    "calm": Shop(session=0.1, residual=0.15, book=0.15),
    "rough": Shop(session=0.35, residual=0.5, book=0.5),
    "skewed": Shop(skew=True),
    "outliers": Shop(outliers=0.05),
    "uneven": Shop(uneven=True),
    "stages": Shop(stage=0.2),
    "trouble": Shop(trouble=0.4),
    "gaps": Shop(missing=0.25, no_book=0.25),
}


@dataclass(frozen=True)
class World:
    """One shop and job: book minutes (K,) with NaN, true log means and spreads (K,)."""

    shop: Shop
    book: Array
    mean: Array
    scale: Array
    stage: NDArray[np.int64]

    def sessions(self, count: int, rng: np.random.Generator) -> Array:
        """Simulate complete sessions: (count, K) minutes."""
        return self.seen(count, rng)[0]

    def seen(self, count: int, rng: np.random.Generator) -> tuple[Array, NDArray[np.bool_]]:
        """Simulate complete sessions and where trouble was found: both (count, K)."""
        shop, shape = self.shop, (count, len(self.mean))
        if shop.skew:
            noise = (rng.gamma(2.0, 1.0, shape) - 2.0) / np.sqrt(2.0)
        else:
            noise = rng.standard_normal(shape)
        shared = shop.session * rng.standard_normal((count, 1))
        stages = shop.stage * rng.standard_normal((count, int(self.stage.max()) + 1))
        late = np.log(3.0) * (rng.random(shape) < shop.outliers)
        logs = self.mean + shared + stages[:, self.stage] + self.scale * noise + late
        prone = np.arange(len(self.mean)) % 4 == 1
        found = (
            (rng.random(shape) < shop.trouble) & prone if shop.trouble else np.zeros(shape, bool)
        )
        minutes: Array = np.exp(logs + np.log(1.8) * found)
        return minutes, found


def new_world(shop: Shop, steps: int, rng: np.random.Generator) -> World:
    """Draw the job: book minutes of 2 to 60, four stages, true step means."""
    book = np.exp(rng.uniform(np.log(2.0), np.log(60.0), steps))
    mean = np.log(book) + shop.offset + shop.book * rng.standard_normal(steps)
    factor = np.exp(rng.uniform(np.log(0.5), np.log(2.0), steps)) if shop.uneven else 1.0
    return World(
        shop=shop,
        book=np.where(rng.random(steps) < shop.no_book, np.nan, book),
        mean=mean,
        scale=shop.residual * np.ones(steps) * factor,
        stage=np.arange(steps) * 4 // steps,
    )


def with_gaps(minutes: Array, share: float, rng: np.random.Generator) -> Array:
    """Blank a share of the timings (NaN), never a whole session."""
    gaps = rng.random(minutes.shape) < share
    gaps[:, 0] &= ~gaps.all(axis=1)
    return np.where(gaps, np.nan, minutes)


def outline_of(world: World) -> Outline:
    """Write the job as an outline."""
    steps = [
        Step(id=f"s{k}", title=f"Step {k}", minutes=None if np.isnan(book) else float(book))
        for k, book in enumerate(world.book)
    ]
    stages = tuple(
        Stage(
            id=f"g{g}",
            title=f"Stage {g}",
            kind="strip",
            step=tuple(step for step, at in zip(steps, world.stage, strict=True) if at == g),
        )
        for g in range(int(world.stage.max()) + 1)
    )
    return Outline(name="sim", title="Simulated job", unit="pump", invented=True, stage=stages)


def times_of(minutes: Array, found: NDArray[np.bool_] | None = None) -> list[SessionTimes]:
    """Write (S, K) minutes with NaN gaps as session times, with the trouble found."""
    trouble = np.zeros(minutes.shape, bool) if found is None else found
    return [
        SessionTimes(
            session=f"session {number}",
            minutes={f"s{k}": float(value) for k, value in enumerate(row) if np.isfinite(value)},
            found={f"s{k}": ("seized bolt",) for k in np.flatnonzero(trouble[number])},
        )
        for number, row in enumerate(minutes)
    ]
