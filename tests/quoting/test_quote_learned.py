"""What is learned beside the steps' times, against shops where the truth is known."""

from __future__ import annotations

from datetime import date, timedelta
from math import log

import numpy as np
import pytest
from msgspec.structs import replace
from quote_help import Array, outline, sessions

from benchvoice.errors import BadInput
from benchvoice.quoting import SessionTimes, estimate, explain, explain_text, forecast, quote_text
from benchvoice.quoting.drivers import total_effect

BOOKS = [12.0, 30.0, 8.0, 20.0, 15.0, 40.0]


def shop(count: int, seed: int, spread: float = 0.15) -> Array:
    rng = np.random.default_rng(seed)
    shared = rng.normal(0, 0.1, (count, 1))
    return np.array(BOOKS) * np.exp(shared + rng.normal(0, spread, (count, len(BOOKS))))


def dated(past: list[SessionTimes], days: int = 14) -> list[SessionTimes]:
    first = date(2024, 1, 8)
    return [
        replace(one, finished_on=first + timedelta(days=days * at)) for at, one in enumerate(past)
    ]


def with_trouble(count: int, factor: float, seed: int = 2) -> list[SessionTimes]:
    """Every other session has a seized bolt on step s1, which makes it `factor` times as long."""
    minutes = shop(count, seed)
    minutes[::2, 1] *= factor
    past = sessions(minutes)
    return [
        replace(one, found={"s1": ("seized bolt",), "s3": ("clean case",)} if at % 2 == 0 else {})
        for at, one in enumerate(past)
    ]


def test_a_condition_adds_what_it_added() -> None:
    quote = estimate(outline(BOOKS), with_trouble(16, 1.8), draws=1000)
    (adder,) = [one for one in quote.adders if one.step == "s1"]
    assert (adder.condition, adder.found, adder.timed) == ("seized bolt", 8, 16)
    assert adder.low < 30.0 * 0.8 < adder.high
    assert adder.minutes == pytest.approx(24.0, rel=0.35)
    assert "seized bolt adds" in " ".join(quote_text(quote).split())


def test_a_condition_that_does_nothing_is_not_shown_as_adding() -> None:
    shown = [
        bool(estimate(outline(BOOKS), with_trouble(12, 1.0, seed), draws=400).adders)
        for seed in range(6)
    ]
    # two conditions a quote, shown at 90%: 1 in 5 quotes would by chance if nothing were shrunk
    assert sum(shown) <= 2


def test_the_range_takes_in_how_often_a_condition_comes() -> None:
    # Half of the jobs have it: the mixture of two lognormals (numpy, a million draws).
    made = forecast(outline(BOOKS), with_trouble(60, 2.5), draws=2000)
    rng = np.random.default_rng(1)
    luck = rng.normal(0, np.hypot(0.1, 0.15), 1_000_000) + log(2.5) * (rng.random(1_000_000) < 0.5)
    expected = np.log(30) + np.quantile(luck, (0.1, 0.5, 0.9))
    found = np.log(np.quantile(made.jobs[:, 1], (0.1, 0.5, 0.9)))
    assert found[[0, 2]] == pytest.approx(expected[[0, 2]], abs=0.12)


def test_practice_is_learned_and_counted_on_when_sure() -> None:
    # A 90% learning curve, T. P. Wright 1936: each doubling takes 0.9 of the time.
    minutes = shop(24, 3, 0.05) * 0.9 ** np.log2(np.arange(1, 25))[:, None]
    quote = estimate(outline(BOOKS), dated(sessions(minutes)), draws=1000)
    assert quote.practice is not None
    assert quote.practice.low < 0.9 < quote.practice.high
    assert quote.practice.counted
    assert quote.total.p50 == pytest.approx(sum(BOOKS) * 0.9 ** np.log2(25), rel=0.08)


def test_practice_needs_the_order_of_the_sessions() -> None:
    assert estimate(outline(BOOKS), sessions(shop(8, 4)), draws=200).practice is None


def test_a_slower_technician_is_quoted_slower() -> None:
    minutes = shop(16, 5, 0.1)
    minutes[::2] *= 1.5
    past = [
        replace(one, who="ann" if at % 2 else "bob") for at, one in enumerate(sessions(minutes))
    ]
    by = {
        who: estimate(outline(BOOKS), past, draws=1000, who=who).total
        for who in ("ann", "bob", None, "new")
    }
    assert by["bob"].p50 / by["ann"].p50 == pytest.approx(1.5, rel=0.15)
    assert by["ann"].p50 < by[None].p50 < by["bob"].p50
    for width in (by[None], by["new"]):
        assert width.p90 / width.p10 > by["ann"].p90 / by["ann"].p10


def test_old_sessions_count_less_with_a_half_life() -> None:
    minutes = shop(20, 6, 0.1)
    minutes[:10] *= 2.0  # the shop got quicker half-way
    past = dated(sessions(minutes), days=30)
    alike = estimate(outline(BOOKS), past, draws=600).total.p50
    recent = estimate(outline(BOOKS), past, draws=600, half_life=60).total.p50
    assert recent < alike
    assert recent == pytest.approx(sum(BOOKS), rel=0.2)


def test_a_very_long_half_life_changes_nothing() -> None:
    past = dated(sessions(shop(6, 7)))
    alike = estimate(outline(BOOKS), past, draws=400)
    long = estimate(outline(BOOKS), past, draws=400, half_life=1e9)
    assert long.total.p80 == pytest.approx(alike.total.p80, rel=1e-6)


def test_total_effects_of_a_function_known_in_closed_form() -> None:
    # Ishigami and Homma 1990, with a = 7 and b = 0.1: total effects 0.558, 0.442, 0.244
    # (Saltelli et al. 2008, "Global Sensitivity Analysis: The Primer"; here by its formula).
    rng = np.random.default_rng(8)
    one, two = rng.uniform(-np.pi, np.pi, (2, 3, 200_000))

    def ishigami(x: Array) -> Array:
        value: Array = np.sin(x[0]) + 7 * np.sin(x[1]) ** 2 + 0.1 * x[2] ** 4 * np.sin(x[0])
        return value

    b, pi = 0.1, np.pi
    first = 0.5 * (1 + b * pi**4 / 5) ** 2
    second, third = 49 / 8, b**2 * pi**8 * (1 / 18 - 1 / 50)
    expected = np.array([first + third, second, third]) / (first + second + third)
    for at in range(3):
        anew = one.copy()
        anew[at] = two[at]
        assert total_effect(ishigami(one), ishigami(anew)) == pytest.approx(expected[at], abs=0.01)


@pytest.mark.parametrize("count", [1, 2, 3])
def test_with_few_sessions_no_source_has_more_than_all_of_the_variance(count: int) -> None:
    """A total-effect index is at most 1 (Homma and Saltelli 1996)."""
    for seed in range(3):
        quote = estimate(outline(BOOKS), sessions(shop(count, seed, 0.3)), draws=2000, seed=seed)
        assert 0.2 < quote.drivers[0].share <= 1.1


def test_drivers_name_the_step_that_scatters_and_the_shared_effect() -> None:
    minutes = shop(30, 9, 0.03)
    minutes[:, 5] *= np.exp(np.random.default_rng(9).normal(0, 0.6, 30))
    quote = estimate(outline(BOOKS), sessions(minutes), draws=2000)
    assert quote.drivers[0].step == "s5"
    assert quote.drivers[0].share > 0.5
    assert [one.share for one in quote.drivers] == sorted(
        (one.share for one in quote.drivers), reverse=True
    )
    assert sum(one.share for one in quote.drivers) > 0.9


def test_chance_of_passing_a_promise() -> None:
    past = sessions(shop(10, 10))
    plain = estimate(outline(BOOKS), past, draws=500)
    for minutes, over in ((plain.total.p50, 0.5), (plain.total.p80, 0.2), (plain.total.p90, 0.1)):
        quote = estimate(outline(BOOKS), past, promised=minutes / 60, draws=500)
        assert quote.promise is not None
        assert quote.promise.over == pytest.approx(over, abs=0.003)
    assert "Promised" in quote_text(quote)
    for bad in (0.0, -2.0, float("nan"), float("inf")):
        with pytest.raises(BadInput, match="promised"):
            estimate(outline(BOOKS), past, promised=bad, draws=100)


def test_explaining_a_step_names_all_that_it_rests_on() -> None:
    past = with_trouble(12, 1.8)
    past[3] = replace(past[3], minutes={**past[3].minutes, "s1": 0.0}, left_out={"s1": 50.0})
    past[4] = replace(past[4], doubtful={"s1": 18.0}, left_out={"s1": 47.5})
    made = forecast(outline(BOOKS), past, draws=600)
    given = explain(made, "s1")
    assert [timing.minutes for timing in given.timings] == [
        one.minutes["s1"] for at, one in enumerate(past) if at != 3
    ]
    assert given.untimed == ("t3",)
    assert given.range.p50 == np.median(made.jobs[:, 1])
    text = " ".join(explain_text(given).split())
    for words in (
        "Book: 30 min",
        "11 timings: plain mean",
        '"seized bolt" was found in 6 of 11; it adds',
        "18.0 of them look like an interruption, counted",
        "47.5 more were silent, not counted",
        "session t3: step s1 has 0 minutes, left out",
        "did not time this step: t3.",
    ):
        assert words in text
    assert max(map(len, explain_text(given).splitlines())) <= 80


def test_share_of_own_timings_is_the_pooling_factor() -> None:
    # Balanced normal data with known variances: n / (n + residual variance / variance of means),
    # Gelman and Hill 2007, 12.2.  Many steps, so that the variances are as good as known.
    rng = np.random.default_rng(11)
    steps, n = 120, 4
    minutes = np.exp(3.0 + rng.normal(0, 0.4, steps) + rng.normal(0, 0.3, (n, steps)))
    made = forecast(outline([float(np.exp(3.0))] * steps), sessions(minutes), draws=600)
    own = np.median([explain(made, f"s{k}").own for k in range(20)])
    assert own == pytest.approx(n / (n + 0.3**2 / 0.4**2), abs=0.05)


def test_explaining_from_nothing_and_of_an_unknown_step() -> None:
    made = forecast(outline([None, 9.0]), [], draws=400)
    text = " ".join(explain_text(explain(made, "s0")).split())
    assert "never timed" in text
    assert "no book minutes" in text
    with pytest.raises(BadInput, match="no step 's7'"):
        explain(made, "s7")
