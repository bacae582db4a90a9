"""The quote as a whole: shape, robustness, what is said of what was left out, money."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import floor, inf, log, nan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from quote_help import Array, outline, sessions

from benchvoice.errors import BadInput
from benchvoice.quoting import Quote, SessionTimes, estimate, quote_to_json
from benchvoice.quoting.quote import price_of

BOOKS = [12.0, 30.0, 7.5, None, 18.0, 45.0]


def times(seed: int, count: int, pace: float = 1.2) -> Array:
    rng = np.random.default_rng(seed)
    books = np.array([book or 15.0 for book in BOOKS])
    shared = rng.normal(0, 0.15, (count, 1))
    return books * pace * np.exp(shared + rng.normal(0, 0.25, (count, len(BOOKS))))


minutes_tables = st.lists(
    st.lists(st.one_of(st.none(), st.floats(0.1, 600)), min_size=6, max_size=6), max_size=6
).map(lambda rows: np.array(rows, dtype=float).reshape(len(rows), 6))


@settings(max_examples=25, deadline=None)
@given(minutes_tables)
def test_ranges_are_ordered_and_positive_whatever_the_times(minutes: Array) -> None:
    quote = estimate(outline(BOOKS, 2), sessions(minutes), draws=200)
    for one in [*(step.range for step in quote.steps), quote.total]:
        assert 0 < one.p10 <= one.p50 <= one.p80 <= one.p90 < inf
    assert quote.total.p50 > max(step.range.p50 for step in quote.steps)
    odd = {note.partition(":")[0] for note in quote.notes if note.endswith("; not counted")}
    kept = minutes[[f"session t{row}" not in odd for row in range(len(minutes))]]
    assert [step.n for step in quote.steps] == np.isfinite(kept).sum(axis=0).tolist()


@settings(max_examples=20, deadline=None)
@given(st.floats(0.1, 10), st.integers(0, 4))
def test_other_unit_of_time_changes_nothing_but_the_unit(factor: float, count: int) -> None:
    minutes = times(count, count)
    scaled = outline([None if book is None else book * factor for book in BOOKS])
    one = estimate(outline(BOOKS), sessions(minutes), draws=400)
    other = estimate(scaled, sessions(minutes * factor), draws=400)
    for name in ("p10", "p50", "p80", "p90"):
        expected = getattr(one.total, name) * factor
        assert getattr(other.total, name) == pytest.approx(expected, rel=1e-6)


def test_same_arguments_same_quote_and_seed_matters_little() -> None:
    past = sessions(times(1, 5))
    one, again = (estimate(outline(BOOKS), past, seed=7) for _ in range(2))
    assert one == again
    other = estimate(outline(BOOKS), past, seed=8)
    assert other != one
    assert other.total.p80 == pytest.approx(one.total.p80, rel=0.03)


def test_more_sessions_narrow_the_quote_on_average() -> None:
    width = []
    for count in (0, 1, 5, 30):
        totals = [
            estimate(outline(BOOKS), sessions(times(seed, count)), draws=1000).total
            for seed in range(6)
        ]
        width.append(np.mean([log(total.p90 / total.p10) for total in totals]))
    assert width == sorted(width, reverse=True)
    assert width[0] > 2 * width[-1]


def test_one_wild_timing_hardly_moves_its_step() -> None:
    minutes = times(3, 10)
    clean = estimate(outline(BOOKS), sessions(minutes))
    minutes[4, 1] *= 30
    wild = estimate(outline(BOOKS), sessions(minutes))
    mean_would_move = log(30) / 10
    assert abs(log(wild.steps[1].range.p50 / clean.steps[1].range.p50)) < mean_would_move / 3
    assert wild.total.p50 == pytest.approx(clean.total.p50, rel=0.08)


def test_untimed_step_takes_the_shops_pace_against_book() -> None:
    rng = np.random.default_rng(4)
    books = [10.0, 20.0, 30.0, 15.0, 25.0, 40.0, 8.0, 50.0]
    minutes = np.array(books) * 1.6 * np.exp(rng.normal(0, 0.08, (6, 8)))
    minutes[:, 4] = nan
    step = estimate(outline(books), sessions(minutes)).steps[4]
    assert (step.n, step.basis) == (0, "book")
    assert step.range.p50 == pytest.approx(25.0 * 1.6, rel=0.1)
    timed = estimate(outline(books), sessions(minutes)).steps[3].range
    assert step.range.p90 / step.range.p10 > timed.p90 / timed.p10


def test_what_cannot_be_used_is_listed_and_counted() -> None:
    good = times(5, 2)
    past = [
        *sessions(good),
        SessionTimes(session="odd", minutes={"s0": 0.0, "s1": 9.0, "gone": 4.0}),
        SessionTimes(session="other", minutes={"gone": 4.0, "away": 2.0}),
        sessions(good)[0],
    ]
    quote = estimate(outline(BOOKS), past)
    assert quote.sessions == 3
    assert [step.n for step in quote.steps] == [2, 3, 2, 2, 2, 2]
    text = "\n".join(quote.notes)
    assert "session odd: step s0 has 0 minutes" in text
    assert "session other: no step of this outline was timed" in text
    assert "session t0 was given more than once" in text
    assert "3 timings" in text
    assert "away (1x), gone (2x)" in text


def test_a_job_written_down_in_one_go_says_nothing_of_the_time() -> None:
    # common practice, no source: nobody takes a cover off in two seconds
    good = sessions(times(5, 2))
    typed = SessionTimes(session="typed", minutes={f"s{k}": 0.03 for k in range(6)})
    quote = estimate(outline(BOOKS), [*good, typed])
    assert quote.total == estimate(outline(BOOKS), good).total
    assert any("session typed: steps of seconds" in note for note in quote.notes)
    assert quote.sessions == 2


def test_a_job_timed_in_a_sixtieth_of_the_usual_is_named_and_not_counted() -> None:
    # from memory, no source: nobody is ten times as quick as he usually is
    good = sessions(times(6, 2))
    odd = SessionTimes(session="odd", minutes={f"s{k}": (BOOKS[k] or 15.0) / 60 for k in range(6)})
    quote = estimate(outline(BOOKS), [*good, odd])
    assert quote.total == estimate(outline(BOOKS), good).total
    (note,) = quote.notes
    assert note.startswith("session odd: its steps took 1/")
    assert note.endswith("not counted")


def test_a_job_of_four_times_the_usual_is_named_and_counted() -> None:
    good = sessions(times(6, 4, pace=1.0))
    slow = SessionTimes(session="slow", minutes={f"s{k}": (BOOKS[k] or 15.0) * 4 for k in range(6)})
    quote = estimate(outline(BOOKS), [*good, slow])
    assert quote.sessions == 5
    (note,) = quote.notes
    assert note.startswith("session slow: its steps took ")
    assert "counted" in note


def test_the_part_of_a_job_written_down_in_one_go_is_left_out_and_the_rest_counted() -> None:
    # common practice, no source: nobody takes a cover off in two seconds
    good = sessions(times(6, 2))
    half = {f"s{k}": (BOOKS[k] or 15.0) if k < 4 else 0.03 for k in range(6)}
    quote = estimate(outline(BOOKS), [*good, SessionTimes(session="half", minutes=half)])
    first = {f"s{k}": BOOKS[k] or 15.0 for k in range(4)}
    without = estimate(outline(BOOKS), [*good, SessionTimes(session="half", minutes=first)])
    assert quote.total == without.total
    assert quote.notes == ("session half: 2 steps of seconds, written down in one go, left out",)


@pytest.mark.parametrize("minutes", [-1.0, nan, inf])
def test_impossible_minutes_are_refused_with_their_place(minutes: float) -> None:
    bad = SessionTimes(session="monday", minutes={"s1": minutes})
    with pytest.raises(BadInput, match="session monday: step s1"):
        estimate(outline(BOOKS), [bad])


@pytest.mark.parametrize("book", [0.0, -3.0, nan, inf])
def test_impossible_book_minutes_are_refused(book: float) -> None:
    with pytest.raises(BadInput, match="step s0"):
        estimate(outline([book]), [])


@pytest.mark.parametrize("rate", ["0", "-5", "NaN", "Infinity", "1e30"])
def test_impossible_rate_is_refused(rate: str) -> None:
    with pytest.raises(BadInput, match="rate"):
        estimate(outline(BOOKS), [], rate=Decimal(rate))


def test_empty_outline_and_too_few_draws_are_refused() -> None:
    with pytest.raises(BadInput, match="no steps"):
        estimate(outline([]), [])
    with pytest.raises(BadInput, match="draws"):
        estimate(outline(BOOKS), [], draws=5)


def quote_of(minutes: int, rate: Decimal | None) -> Quote:
    return estimate(outline(BOOKS), sessions(times(minutes, 3)), rate=rate, draws=300)


def test_json_has_exactly_the_published_fields() -> None:
    published = quote_to_json(quote_of(1, Decimal("92.50")))
    first = ["outline", "sessions", "unit", "steps", "total", "price"]
    assert list(published) == [*first, "promise", "drivers", "adders", "practice"]
    assert (published["outline"], published["sessions"], published["unit"]) == ("made-up", 3, "min")
    for step in published["steps"]:
        assert list(step) == ["id", "n", "p50", "p80", "p90"]
    assert list(published["total"]) == ["p50", "p80", "p90"]
    assert list(published["price"]) == ["rate", "currency", "p50", "p80", "p90"]
    assert quote_to_json(quote_of(1, None))["price"] is None


@settings(max_examples=60, deadline=None)
@given(
    st.decimals("0.01", "999", places=2),
    st.lists(st.floats(0.01, 5000), min_size=4, max_size=4).map(sorted),
)
def test_price_is_the_published_minutes_at_the_rate_rounded_half_up(
    rate: Decimal, minutes: list[float]
) -> None:
    # Reference: exact rational arithmetic of the standard library (fractions).
    from benchvoice.quoting import Range

    total = Range(p10=minutes[0], p50=minutes[1], p80=minutes[2], p90=minutes[3])
    price = price_of(total, rate)
    for name in ("p50", "p80", "p90"):
        shown = Fraction(floor(Fraction(repr(getattr(total, name))) * 100 + Fraction(1, 2)), 100)
        cents = floor(shown * Fraction(rate) / 60 * 100 + Fraction(1, 2))
        assert Fraction(getattr(price, name)) == Fraction(cents, 100)
