"""What is counted after a step was begun by name is of that step, however far the counts are off.

Parts and counts are those of the invented gearbox.
"""

from __future__ import annotations

import pytest
from follow_help import tell


@pytest.mark.parametrize(
    ("begun", "count", "then"),
    [("reverse", 8, "reverse_piston"), ("forward", 7, "forward_piston")],
)
def test_every_count_that_is_off_is_of_the_step_begun(begun: str, count: int, then: str) -> None:
    _, events = tell(
        f"start {begun} clutch", f"{count} frictions", f"{count} steels", "snap ring out",
        "piston out",
    )  # fmt: skip
    assert [one.step for one in events] == [f"{begun}_clutch"] * 4 + [then]
    assert [len(one.warnings) for one in events[1:3]] == [1, 1]


def test_the_same_parts_counted_over_again_are_of_the_next_step() -> None:
    _, events = tell(
        "start forward clutch", "8 frictions", "8 steels", "7 frictions", "7 steels"
    )  # fmt: skip
    assert [one.step for one in events[1:]] == ["forward_clutch"] * 2 + ["reverse_clutch"] * 2
