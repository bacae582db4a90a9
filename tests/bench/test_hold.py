"""Hold-to-talk against the repeat settings that keyboards have.

Source: IBM PS/2 Hardware Interface Technical Reference, keyboard command F3, "Set Typematic
Rate/Delay": delays 250, 500, 750 and 1000 ms, rates 2 to 30 a second (values from memory).
"""

from __future__ import annotations

import pytest

from benchvoice.bench.hold import HoldKey


def held(key: HoldKey, start: float, end: float, delay: float, rate: float) -> float:
    """Press a key as a keyboard does while it is held; give the time of the last repeat."""
    key.press(start)
    at, last = start + delay, start
    while at < end:
        key.press(at)
        last, at = at, at + 1 / rate
    return last


@pytest.mark.parametrize("delay", [0.25, 0.5, 0.75, 1.0])
@pytest.mark.parametrize("rate", [2.0, 10.9, 30.0])
def test_a_held_key_is_open_from_press_until_just_after_it_is_let_go(
    delay: float, rate: float
) -> None:
    key = HoldKey()
    last = held(key, 10.0, 15.0, delay, rate)
    assert not key.is_open(9.9)
    assert all(key.is_open(10.0 + tenth / 10) for tenth in range(round((last - 10.0) * 10)))
    assert not key.is_open(last + 0.65)
    if rate > 10:
        assert not key.is_open(last + 0.55)
    assert key.open_between(14.0, 99.0)


def test_a_tap_opens_and_the_next_closes() -> None:
    key = HoldKey()
    key.press(10.0)
    assert key.is_open(30.0)
    key.press(30.0)
    assert not key.is_open(30.1)
    assert key.is_open(20.0)
    key.press(40.0)
    assert key.is_open(41.0)


def test_the_repeats_of_the_tap_that_closes_do_not_open_again() -> None:
    key = HoldKey()
    key.press(10.0)
    held(key, 20.0, 23.0, 0.5, 30.0)
    assert not key.is_open(22.0)
    key.press(30.0)
    assert key.is_open(30.5)


def test_held_twice_is_open_twice() -> None:
    key = HoldKey()
    held(key, 10.0, 13.0, 0.5, 30.0)
    held(key, 20.0, 23.0, 0.5, 30.0)
    assert [key.is_open(at) for at in (9.0, 12.0, 16.0, 22.0, 24.0)] == [
        *(False, True, False, True, False),
    ]


def test_a_pedal_tapped_and_forgotten_is_closed_after_a_minute() -> None:
    key = HoldKey()
    key.press(10.0)
    assert key.is_open(69.0)
    assert not key.is_open(71.0)
    key.press(100.0)
    assert key.is_open(101.0)
