"""Which of two alike is meant while they go back in, and what was measured of each.

The two clutches are those of the invented gearbox: 8 and 7 plates, one pack clearance for either.
"""

from __future__ import annotations

import pytest
from follow_help import answered, book_of, line_of, tell, warned

APART = (
    "start the forward clutch", "eight friction plates and eight steel plates off",
    "start the reverse clutch", "seven friction plates and seven steel plates off", "packs in",
)  # fmt: skip


def back_in(*said: str) -> dict[tuple[str, str | None], int | None]:
    """What went in, by part and place."""
    state, _ = tell(*APART, *said)
    return {(line.part, line.place): line.back for line in book_of(state).lines if line.went_back}


def test_plates_go_into_the_clutch_talked_of() -> None:
    assert back_in("snap ring in the forward clutch", "eight friction plates in") == {
        ("snap ring", "forward clutch"): 1,
        ("friction plate", "forward clutch"): 8,
    }


def test_plates_go_into_the_clutch_that_the_same_remark_names() -> None:
    said = (
        "snap ring in the forward clutch",
        "seven friction plates seven steel plates in reverse clutch",
    )
    assert back_in(*said) == {
        ("snap ring", "forward clutch"): 1,
        ("friction plate", "reverse clutch"): 7,
        ("steel plate", "reverse clutch"): 7,
    }


def test_no_false_shortage_of_one_clutch_is_told_of_the_other() -> None:
    said = ("eight steel plates in the forward clutch", "eight friction plates in")
    state, events = tell(*APART, *said)
    assert not [text for text in warned(events) if "gone in" in text]
    _, events = tell("six friction plates in the reverse clutch", state=state)
    assert warned(events) == ["reverse clutch: 7 friction plates came out, 6 gone in"]


def test_where_one_is_full_or_none_was_talked_of_it_stays_open() -> None:
    full = ("eight friction plates in the forward clutch", "seven friction plates in")
    assert back_in(*full)["friction plate", "reverse clutch"] == 7
    shared = back_in("fifteen friction plates in")
    assert shared["friction plate", "forward clutch"] == 8
    assert shared["friction plate", "reverse clutch"] == 7


def test_a_number_that_only_one_clutch_has_goes_into_that_and_its_other_parts_after_it() -> None:
    """Though the reverse clutch came off last; eight are the forward one's by the outline."""
    said = ("eight friction plates in", "eight steel plates in", "pressure plate in")
    state, _ = tell(*APART[:-1], "pressure plate off", "start the forward clutch",
                    "pressure plate off", "packs in", *said)  # fmt: skip
    back = {(line.step, line.part): line.back for line in book_of(state).lines if line.went_back}
    parts = ("friction plate", "steel plate", "pressure plate")
    assert back == dict(zip([("forward_clutch", part) for part in parts], (8, 8, 1), strict=True))


MEASURED = (
    "eight steel plates in the forward clutch", "pack clearance ninety five thou",
    "seven steel plates in the reverse clutch", "pack clearance sixty five thou",
)  # fmt: skip
OUT = "forward clutch pack clearance 95 thou: limit 60 to 90 thou (invented for the demo)"


def test_a_clearance_that_is_right_does_not_clear_the_other_clutchs() -> None:
    state, events = tell(*APART, *MEASURED)
    assert [text for text in warned(events) if "clearance" in text] == [OUT]
    _, events = tell("bearings on", state=state)
    assert OUT in warned(events)
    _, events = tell("finish this step", state=state)
    assert events[-1].kind == "held"


@pytest.mark.parametrize(
    "said",
    [
        "pack clearance eighty thou on the forward clutch",
        "forward clutch pack clearance eighty thou",
    ],
)
def test_measured_again_after_it_was_put_right_it_is_settled(said: str) -> None:
    state, _ = tell(*APART, *MEASURED)
    _, events = tell(said, "bearings on", state=state)
    assert not [text for text in warned(events) if "clearance" in text]


def test_what_is_measured_of_no_stack_has_no_place_put_on_it() -> None:
    off = ("ten bolts off the end cover", "covers on", "ten bolts in the end cover")
    _, events = tell(*off, "end play twelve thou")
    assert events[-1].remark.findings[0].place is None


def test_two_shafts_out_of_their_limit_are_both_open() -> None:
    said = (
        "start check the shafts",
        "input shaft runout three thou",
        "output shaft runout four thou",
    )
    _, events = tell(*said, "what is undecided")
    answer = events[-1].answer or ""
    assert "input shaft runout 3 thou" in answer
    assert "output shaft runout 4 thou" in answer


def test_what_is_out_at_one_end_is_not_settled_by_the_other() -> None:
    said = ("output shaft end play eleven thou front", "output shaft end play six thou rear")
    state, events = tell(*APART, "covers on", *said)
    out = "front output shaft end play 11 thou: limit 4 to 10 thou (invented for the demo)"
    _, held = tell("next step", state=state)
    assert (held[0].kind, held[0].warnings) == ("held", (out,))
    assert events[-2].warnings == (out,)
    right = "output shaft end play eight thou front"
    _, events = tell(right, "next step", state=state)
    assert events[1].kind == "started"


PISTONS = ("start the forward piston", "snap ring twelve springs piston and two seals",
         "start the reverse piston", "snap ring twelve springs piston and two seals")  # fmt: skip


def test_what_is_said_in_the_singular_goes_in_once_into_what_came_off_last() -> None:
    """Common practice, no source: last off, first on."""
    state, _ = tell(*PISTONS, "pistons in", "snap ring in")
    lines = [line for line in book_of(state).lines if (line.part, line.place) == RING]
    assert [(line.step, line.back) for line in lines] == [
        ("forward_piston", None), ("reverse_piston", 1),
    ]  # fmt: skip
    assert "1 snap ring, piston (Forward clutch piston out)." in answered(
        "what is still out", state
    )
    state, _ = tell("snap ring in", state=state)
    assert not any("snap ring" in text for text in answered("what is still out", state))


RING = ("snap ring", "piston")


def test_bolt_in_is_one_bolt_and_bolts_in_are_all() -> None:
    said = ("start the side cover", "eight bolts off the side cover", "covers on")
    state, _ = tell(*said, "bolt in")
    assert line_of(state, "side_cover", "bolt").left == 7
    state, _ = tell(*said, "bolts in")
    assert line_of(state, "side_cover", "bolt").left == 0


PACKS = ("start the forward clutch", "eight frictions and eight steels off")
REVERSE = ("start the reverse clutch", "seven frictions and seven steels off")


def test_each_of_two_packs_is_to_be_measured() -> None:
    """Common practice, no source: a clearance of one clutch says nothing of the other."""
    state, events = tell(*PACKS, *REVERSE, "packs in", "pack clearance seventy thou", "done")
    wanted = "pack clearance not measured, limit 60 to 90 thou (invented for the demo)"
    assert sum(wanted in text for text in events[-1].warnings) == 1
    state, events = tell(
        *PACKS, *REVERSE, "packs in", "forward clutch pack clearance seventy thou", "done"
    )
    assert f"reverse clutch {wanted}" in events[-1].warnings
    _, events = tell("reverse clutch pack clearance eighty thou", "done", state=state)
    assert not any(wanted in text for text in events[-1].warnings)


def test_a_pack_that_was_not_opened_is_not_to_be_measured() -> None:
    _, events = tell(*PACKS, "packs in", "pack clearance seventy thou", "done")
    assert not any("not measured" in text for text in events[-1].warnings)
