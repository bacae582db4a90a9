"""How a session's times compare with those of the others."""

from __future__ import annotations

from math import log
from statistics import median
from typing import ClassVar

import numpy as np
import pytest

from benchvoice.quoting import SessionTimes
from benchvoice.quoting.odd import paces


class Counted(float):
    """Minutes that count how often they are compared."""

    times: ClassVar[int] = 0

    def __lt__(self, other: float) -> bool:
        Counted.times += 1
        return float(self) < other


def sessions(number: int) -> list[SessionTimes]:
    drawn = np.random.default_rng(number).integers(1, 30, (number, 6))  # with ties
    return [
        SessionTimes(session=f"t{at}", minutes={f"s{k}": Counted(m) for k, m in enumerate(row)})
        for at, row in enumerate(drawn.tolist())
    ]


@pytest.mark.parametrize("number", [3, 4, 9])
def test_usual_is_the_median_of_the_others(number: int) -> None:
    given = sessions(number)
    for own, pace in zip(given, paces(given), strict=True):
        others = [one for one in given if one is not own]
        ratios = [
            log(minutes / median(one.minutes[step] for one in others))
            for step, minutes in own.minutes.items()
        ]
        assert pace is not None
        assert log(pace) == pytest.approx(median(ratios))


def test_many_sessions_are_compared_about_as_often_each_as_few() -> None:
    often = []
    for number in (100, 800):
        Counted.times = 0
        list(paces(sessions(number)))
        often.append(Counted.times / number)
    assert often[1] < 2 * often[0]  # each with all others it would be eight times as often
