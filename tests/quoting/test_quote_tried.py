"""Quotes held against sessions: backtest, saved quotes, and an outside mixed model."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from msgspec.structs import replace
from quote_help import Array, outline, sessions

from benchvoice.errors import BadInput
from benchvoice.quoting import (
    SessionTimes,
    against,
    against_text,
    as_saved,
    backtest,
    backtest_text,
    estimate,
    forecast,
    load_quote,
    save_quote,
)

BOOKS = [12.0, 30.0, 8.0, 20.0]
TODAY = date(2024, 6, 3)


def shop(count: int, seed: int) -> Array:
    rng = np.random.default_rng(seed)
    shared = rng.normal(0, 0.15, (count, 1))
    return np.array(BOOKS) * np.exp(shared + rng.normal(0, 0.25, (count, len(BOOKS))))


def dated(count: int, seed: int) -> list[SessionTimes]:
    return [
        replace(one, finished_on=TODAY + timedelta(days=at))
        for at, one in enumerate(sessions(shop(count, seed)))
    ]


def test_leaving_one_out_predicts_each_from_the_others_alone() -> None:
    past = sessions(shop(5, 1))
    found = backtest(outline(BOOKS), past, draws=300)
    assert [row.session for row in found.rows] == [one.session for one in past]
    assert {row.past for row in found.rows} == {4}
    assert found.timings == 20
    for at, row in enumerate(found.rows):
        others = [*past[:at], *past[at + 1 :]]
        assert row.predicted.p50 == estimate(outline(BOOKS), others, draws=300).total.p50
        assert row.actual == pytest.approx(sum(past[at].minutes.values()))


def test_forward_predicts_from_the_sessions_before_only() -> None:
    found = backtest(outline(BOOKS), dated(5, 2)[::-1], forward=True, draws=200)
    assert [row.past for row in found.rows] == [1, 2, 3, 4]
    assert [row.session for row in found.rows] == ["t1", "t2", "t3", "t4"]


def test_only_the_steps_that_were_timed_are_predicted() -> None:
    minutes = shop(4, 3)
    minutes[2, 1:] = np.nan
    found = backtest(outline(BOOKS), sessions(minutes), draws=200)
    assert [row.steps for row in found.rows] == [4, 4, 1, 4]
    assert found.rows[2].predicted.p90 < 60


def test_shares_are_counted_as_the_table_says() -> None:
    found = backtest(outline(BOOKS), sessions(shop(6, 4)), draws=300)
    inside = sum(row.predicted.p10 <= row.actual <= row.predicted.p90 for row in found.rows)
    assert found.total_inside == inside / 6
    text = backtest_text(found)
    assert f"{inside / 6:.1%}" in text
    assert text.count(" *\n") == 6 - inside
    assert max(map(len, text.splitlines())) <= 80


def test_one_session_cannot_be_tested_on() -> None:
    with pytest.raises(BadInput, match="too few"):
        backtest(outline(BOOKS), sessions(shop(1, 5)))


def test_a_saved_quote_is_held_against_the_session(tmp_path: Path) -> None:
    quote = estimate(outline(BOOKS), sessions(shop(5, 6)), draws=300)
    file = tmp_path / "quote.json"
    save_quote(quote, file, TODAY)
    saved = load_quote(file)
    assert saved == as_saved(quote, TODAY)
    done = SessionTimes(session="job", minutes={"s0": 500.0, "s1": 30.0, "gone": 2.0})
    found = against(outline(BOOKS), saved, done)
    assert [row.taken for row in found.steps] == [500.0, 30.0, None, None]
    assert found.taken == 530.0
    assert found.quoted == pytest.approx(saved.steps[0].p50 + saved.steps[1].p50)
    assert not found.whole
    text = " ".join(against_text(found).split())
    assert "1 of 2 timed steps ran over their P90" in text
    assert "2 steps were not timed" in text
    assert "not in the quote: gone" in text
    whole = SessionTimes(session="job", minutes=dict.fromkeys(("s0", "s1", "s2", "s3"), 9.0))
    assert against(outline(BOOKS), saved, whole).whole


def test_bad_saved_quotes_are_refused_in_one_line(tmp_path: Path) -> None:
    quote = estimate(outline(BOOKS), [], draws=200)
    file = tmp_path / "quote.json"
    save_quote(quote, file, TODAY)
    with pytest.raises(BadInput, match="is there already"):
        save_quote(quote, file, TODAY)
    later = tmp_path / "later.json"
    later.write_text(file.read_text().replace('"schema": 1', '"schema": 99'))
    with pytest.raises(BadInput, match="later benchvoice"):
        load_quote(later)
    for content in ("", "[]", '{"schema": 1}', "\udcff"):
        broken = tmp_path / "broken.json"
        broken.write_bytes(content.encode("utf-8", "surrogateescape"))
        with pytest.raises(BadInput, match="no saved quote"):
            load_quote(broken)
    with pytest.raises(BadInput, match="cannot be read"):
        load_quote(tmp_path / "none.json")
    other = SessionTimes(session="job", minutes={"s0": 5.0}, outline="another")
    with pytest.raises(BadInput, match="of outline another"):
        against(outline(BOOKS), load_quote(file), other)


def test_balanced_data_agree_with_statsmodels() -> None:
    # Reference: statsmodels MixedLM (REML), step means fixed, sessions random, log minutes.
    sm = pytest.importorskip("statsmodels.api")
    rng = np.random.default_rng(7)
    sets, steps = 40, 6
    logs = rng.normal(3, 0.4, steps) + rng.normal(0, 0.2, (sets, 1))
    logs = logs + rng.normal(0, 0.3, (sets, steps))
    rows, columns = np.indices(logs.shape)
    design = np.eye(steps)[columns.ravel()]
    fit = sm.MixedLM(logs.ravel(), design, rows.ravel()).fit()
    made = forecast(outline([20.0] * steps), sessions(np.exp(logs)), draws=1200)
    assert made.posterior.mean.mean(axis=0) == pytest.approx(fit.fe_params, abs=0.02)
    shared = float(fit.cov_re[0, 0]) ** 0.5
    assert np.median(made.posterior.session_sd) == pytest.approx(shared, abs=0.04)
    # the residual's standard deviation; a Student t with many degrees of freedom is nearly normal
    df = made.posterior.df
    sd = np.median(made.posterior.scale.mean(axis=1) * np.sqrt(df / (df - 2)))
    assert sd == pytest.approx(fit.scale**0.5, rel=0.08)
