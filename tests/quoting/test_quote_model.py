"""The model's ranges against distributions known in closed form, and its own prior."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from quote_help import Array, outline, sessions
from scipy import integrate, optimize, stats

from benchvoice.quoting import estimate
from benchvoice.quoting.gibbs import start
from benchvoice.quoting.luck import Odds, deal, play
from benchvoice.quoting.model import Posterior, fit, tabulate
from benchvoice.quoting.priors import DEFAULT, HALF_T_DF, Prior

LEVELS = np.array([0.1, 0.5, 0.8, 0.9])
TINY = 1e-4
STILL = Prior(
    book_offset=TINY,
    book_spread=TINY,
    session_spread=TINY,
    steadiness=TINY,
    stage_spread=TINY,
    residual_spread=TINY,
    residual_df=(1e6,),
    evenness=(1e6,),
    shape_worth=1e12,
)
"""Nothing varies: each test lets loose what it is about."""


def logs_of(given: Any) -> Array:
    return np.log([given.p10, given.p50, given.p80, given.p90])


def test_no_sessions_gives_the_lognormal_of_the_book_offset() -> None:
    # Reference: scipy.stats.lognorm.
    prior = replace(STILL, book_offset=0.4)
    quote = estimate(outline([30.0]), [], draws=100_000, prior=prior)
    expected = np.log(stats.lognorm.ppf(LEVELS, 0.4, scale=30.0))
    assert logs_of(quote.total) == pytest.approx(expected, abs=0.008)


def test_no_sessions_spread_is_a_half_t_mixture_of_normals() -> None:
    # Reference: the mixture's distribution function integrated by scipy.
    scale = 0.25
    quote = estimate(outline([30.0]), [], draws=100_000, prior=replace(STILL, session_spread=scale))

    def distribution(x: float) -> float:
        def part(sd: float) -> float:
            return float(stats.norm.cdf(x / sd) * 2 * stats.t.pdf(sd / scale, HALF_T_DF) / scale)

        return float(integrate.quad(part, 1e-9, 20 * scale, limit=200)[0])

    expected = [
        np.log(30.0) + optimize.brentq(lambda x, p=p: distribution(x) - p, -3, 3) for p in LEVELS
    ]
    assert logs_of(quote.total) == pytest.approx(expected, abs=0.01)


@pytest.mark.parametrize("count", [5, 8, 20])
def test_one_step_with_flat_priors_gives_the_classical_student_t(count: int) -> None:
    # With flat priors of mean and standard deviation the predictive distribution is Student t,
    # n - 2 df, scale s sqrt(1 + 1/n), s^2 = SS / (n - 2): Gelman et al., Bayesian Data Analysis,
    # 3rd ed., section 3.2 (there for 1/sigma^2, n - 1 df).  Reference: scipy.stats.t.
    prior = replace(STILL, book_offset=30.0, residual_spread=100.0)
    logs = np.random.default_rng(count).normal(3.0, 0.4, count)
    quote = estimate(outline([20.0]), sessions(np.exp(logs)[:, None]), draws=60_000, prior=prior)
    scale = np.sqrt(np.square(logs - logs.mean()).sum() / (count - 2) * (1 + 1 / count))
    expected = stats.t.ppf(LEVELS, count - 2, loc=logs.mean(), scale=scale)
    assert (logs_of(quote.total) - expected) / scale == pytest.approx(np.zeros(4), abs=0.03)


def test_many_sessions_give_the_true_lognormal() -> None:
    # Reference: scipy.stats.lognorm of the truth; tolerance from 600 sessions' sampling error.
    rng = np.random.default_rng(5)
    means = np.log([8.0, 15.0, 40.0])
    shared = rng.normal(0, 0.2, (600, 1))
    minutes = np.exp(means + shared + rng.normal(0, 0.3, (600, 3)))
    quote = estimate(outline([10.0, 10.0, 10.0]), sessions(minutes), draws=20_000)
    for step, mean in zip(quote.steps, means, strict=True):
        expected = np.log(stats.lognorm.ppf(LEVELS, np.hypot(0.2, 0.3), scale=np.exp(mean)))
        assert logs_of(step.range) == pytest.approx(expected, abs=0.05)


def test_heavy_tailed_times_give_the_true_log_student_t() -> None:
    # Reference: scipy.stats.t with 3 degrees of freedom, on log minutes.
    rng = np.random.default_rng(6)
    minutes = np.exp(3.0 + 0.3 * rng.standard_t(3, (400, 4)))
    quote = estimate(outline([20.0] * 4), sessions(minutes), draws=20_000)
    expected = 3.0 + 0.3 * stats.t.ppf(LEVELS, 3)
    for step in quote.steps:
        assert logs_of(step.range) == pytest.approx(expected, abs=0.06)


def fixed_posterior(scale: float, session_sd: float, means: Array) -> Posterior:
    steps = len(means)
    return Posterior(
        mean=means[None, :],
        scale=np.full((1, steps), scale),
        level=np.zeros((1, 2)),
        apart=np.zeros((1, 2)),
        session_sd=np.array([session_sd]),
        stage_sd=np.zeros(1),
        df=np.array([1e6]),
        adder=np.zeros((1, 0, steps)),
        who=np.zeros((1, 0)),
        who_sd=np.zeros(1),
        learning=np.zeros(1),
        stage=np.ones((steps, 1)),
        residuals=np.empty(0),
        trust=0.0,
    )


def simulate(posterior: Posterior, *, jobs: int, rng: np.random.Generator) -> Array:
    """Future sessions, (jobs, K) minutes, without any condition or technician known."""
    nothing = np.zeros((0, len(posterior.stage)))
    return play(posterior, deal(posterior, Odds(nothing, nothing), jobs=jobs, rng=rng))


@pytest.mark.parametrize("scale", [0.1, 0.25, 0.4])
def test_total_of_independent_steps_agrees_with_fenton_wilkinson(scale: float) -> None:
    # L. F. Fenton 1960, "The sum of log-normal probability distributions in scatter transmission
    # systems", IRE Transactions on Communications Systems 8(1): the sum is about lognormal
    # with the mean and variance of the sum.  For these spreads it is good to about a percent.
    means = np.log(np.linspace(5, 40, 12))
    jobs = simulate(fixed_posterior(scale, 0.0, means), jobs=100_000, rng=np.random.default_rng(2))
    mean = np.exp(means + scale**2 / 2).sum()
    variance = (np.exp(2 * means + scale**2) * np.expm1(scale**2)).sum()
    sigma = np.sqrt(np.log1p(variance / mean**2))
    expected = stats.lognorm.ppf(LEVELS, sigma, scale=mean / np.exp(sigma**2 / 2))
    assert np.quantile(jobs.sum(axis=1), LEVELS) == pytest.approx(expected, rel=0.01)


def test_total_is_narrower_than_the_sum_of_rows_only_as_far_as_steps_are_independent() -> None:
    means = np.log(np.linspace(5, 40, 12))

    def excess(scale: float, session_sd: float) -> float:
        given = fixed_posterior(scale, session_sd, means)
        jobs = simulate(given, jobs=50_000, rng=np.random.default_rng(3))
        rows = np.quantile(jobs, 0.9, axis=0).sum()
        return float(np.quantile(jobs.sum(axis=1), 0.9) / rows)

    assert excess(0.3, 0.0) < 0.85
    assert excess(0.2, 0.2) < 0.98
    # Quantiles of wholly dependent (comonotonic) terms add up: Dhaene et al. 2002,
    # Insurance: Mathematics and Economics 31(1), theorem 4.
    assert excess(1e-9, 0.3) == pytest.approx(1.0, rel=1e-6)


def test_skewed_times_give_the_true_skewed_quantiles() -> None:
    # Reference: scipy.stats.gamma, standardised, for the residual of log minutes.
    rng = np.random.default_rng(11)
    minutes = np.exp(3.0 + 0.25 * (rng.gamma(2.0, 1.0, (300, 6)) - 2.0))
    quote = estimate(outline([20.0] * 6), sessions(minutes), draws=20_000)
    expected = 3.0 + 0.25 * (stats.gamma.ppf(LEVELS, 2.0) - 2.0)
    for step in quote.steps:
        assert logs_of(step.range) == pytest.approx(expected, abs=0.08)
    whole = np.exp(3.0 + 0.25 * (rng.gamma(2.0, 1.0, (100_000, 6)) - 2.0)).sum(axis=1)
    assert logs_of(quote.total) == pytest.approx(np.log(np.quantile(whole, LEVELS)), abs=0.06)


@pytest.mark.slow
def test_future_jobs_of_shops_drawn_from_the_prior_fall_evenly_in_the_ranges() -> None:
    # Simulation-based calibration: Talts et al. 2018, arXiv:1804.06788; Cook, Gelman and Rubin
    # 2006, J. Comput. Graph. Stat. 15(3).  Uniformity by scipy's Kolmogorov-Smirnov test.
    books = np.where(np.arange(8) == 5, np.nan, np.linspace(5, 40, 8))
    stage = np.eye(2)[np.arange(8) // 4]
    ranks: dict[str, list[float]] = {"total": [], "step": [], "session": [], "stage": [], "df": []}
    for repeat in range(200):
        rng = np.random.default_rng([9, repeat])
        blank = tabulate(np.empty((0, 8)), books, stage)
        truth = fit(blank, draws=1, rng=rng)
        jobs = simulate(truth, jobs=5, rng=rng)
        past = np.where(rng.random((4, 8)) < 0.2, np.nan, jobs[:4])
        posterior = fit(tabulate(past, books, stage), draws=800, rng=rng)
        future = simulate(posterior, jobs=800, rng=rng)
        ranks["total"].append((future.sum(axis=1) < jobs[4].sum()).mean())
        ranks["step"].append((future[:, 5] < jobs[4, 5]).mean())
        ranks["session"].append((posterior.session_sd < truth.session_sd[0]).mean())
        ranks["stage"].append((posterior.stage_sd < truth.stage_sd[0]).mean())
        ties = (posterior.df == truth.df[0]).mean() * rng.random()
        ranks["df"].append((posterior.df < truth.df[0]).mean() + ties)
    for name, values in ranks.items():
        assert stats.kstest(values, "uniform").pvalue > 0.005, name


def test_chains_forget_where_they_began() -> None:
    # Gelman and Rubin's R-hat, Statistical Science 7(4) 1992: below 1.05 by common practice
    # (Vehtari et al. 2021, Bayesian Analysis 16(2), asks for 1.01 of longer runs).
    rng = np.random.default_rng(4)
    minutes = np.exp(3 + rng.normal(0, 0.2, (6, 1)) + rng.normal(0, 0.3, (6, 20)))
    table = tabulate(minutes, np.full(20, 15.0), np.eye(4)[np.arange(20) // 5])
    posterior = fit(table, draws=8000, rng=rng)
    for values in (
        posterior.mean.mean(axis=1),
        np.log(posterior.session_sd),
        posterior.scale[:, 3],
    ):
        chains = values.reshape(-1, 16).T
        within = chains.var(axis=1, ddof=1).mean()
        between = chains.mean(axis=1).var(ddof=1)
        assert np.sqrt(1 + between / within) < 1.05


def test_start_draws_half_t_spreads() -> None:
    # Reference: scipy.stats.t, folded at zero.
    table = tabulate(np.empty((0, 3)), np.full(3, 10.0), np.eye(3))
    state = start(table, DEFAULT, 5000, np.random.default_rng(8))
    folded = np.sqrt(state.session_var) / (DEFAULT.session_spread * state.steadiness)
    assert stats.kstest(folded, lambda x: 2 * stats.t.cdf(x, HALF_T_DF) - 1).pvalue > 0.005
