"""The hardware ledger out of what was said.

The parts, counts and lengths are those of the invented outlines; what has to be kept of them is
common practice at the bench, no source.  Sums are checked by plain arithmetic.
"""

from __future__ import annotations

import pytest
from follow_help import BARE, answered, book_of, line_of, pack_of, tell, told
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words

from benchvoice.follow import State, tally
from benchvoice.follow.events import standing
from benchvoice.follow.ledger import ledger
from benchvoice.grammar import Outline
from benchvoice.remark import Finding


def test_off_found_and_gone_back_stand_side_by_side() -> None:
    state = told(
        "twelve bolts off the front cover in bag three",
        "two bolts on the front cover are bent replace",
        "start covers on",
        "twelve bolts in the front cover",
    )
    line = line_of(state, "front_cover", "bolt")
    assert (line.expected, line.off, line.found, line.back) == (12, 12, 2, 12)
    assert (line.conditions, line.disposition) == (("bent",), "replace")
    assert not line.is_out


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(1, 6), min_size=1, max_size=4), st.integers(0, 24))
def test_what_is_left_is_what_came_off_less_what_went_in(off: list[int], back: int) -> None:
    came = [Finding(part="bolt", place="front cover", count=n, action="removed") for n in off]
    gone = [Finding(part="bolt", place="front cover", count=back, action="installed")]
    outline = pack_of().outline
    assert outline is not None
    book = ledger([("front_cover", came), ("covers_on", gone if back else [])], outline)
    (line,) = (one for one in book.of_step("front_cover") if one.part == "bolt")
    assert line.left == max(0, sum(off) - back)
    assert line.is_out == (back < sum(off))
    assert line.differs == (back > 0 and back != max(12, sum(off)))


def test_the_ledger_counts_what_the_tally_counts() -> None:
    state = told("nine bolts off the end cover", "one bolt off the end cover", "dowel pins out")
    outline = pack_of().outline
    assert outline is not None
    counts = {
        (one.step, one.part, one.place): one.said for one in tally(standing(state.log), outline)
    }
    for line in book_of(state).lines:
        assert line.off == counts[line.key], line.key


def test_lengths_and_the_holes_they_belong_in() -> None:
    state = told(
        ("ten bolts off the end cover", []),
        ("four of them two inch long", []),
        ("six of them an inch and a quarter long", []),
    )
    line = line_of(state, "end_cover", "bolt")
    assert line.off == 10
    assert [(one.length, one.where, one.expected, one.said) for one in line.lengths] == [
        ("1 1/4 in", "top", 6, 6),
        ("2 in", "bottom", 4, 4),
    ]
    assert line.odd == ()


def test_a_length_that_belongs_nowhere_is_odd() -> None:
    state = told(
        (
            "ten bolts off the end cover three inch long",
            ["end cover bolt: length 1 1/4 in or 2 in expected, 3 in said"],
        ),
    )
    assert len(line_of(state, "end_cover", "bolt").odd) == 1


def test_what_is_in_which_tray_and_where_a_part_is() -> None:
    state = told(
        "two banjo bolts off the oil cooler in tray one",
        "eight cap screws off the control valve in tray two",
        "two check balls out in tray two",
        "six bolts off the pump",
    )
    assert answered("what is in tray two", state) == [
        "Tray 2: 8 cap screws, control valve; 2 check balls, control valve."
    ]
    assert answered("what's in tray nine", state) == [
        "Nothing is recorded in tray 9. In use: tray 1, tray 2."
    ]
    assert answered("where are the check balls", state) == ["2 check balls, control valve: tray 2."]
    assert answered("where are the pump bolts", state) == ["6 bolts, pump: no container was said."]
    assert answered("where is the spool", state) == ["spool: nothing is recorded of it."]


def test_parts_said_to_lie_in_two_trays_lie_in_both_and_a_move_is_a_move() -> None:
    state = told(
        "six bolts off the end cover in tray one", "four bolts off the end cover in tray two"
    )
    kept = {one.label: [item.text for item in one.items] for one in book_of(state).containers}
    assert kept == {"tray 1": ["6 bolts, end cover"], "tray 2": ["4 bolts, end cover"]}
    state = told("end cover bolts in bag five", state=state)
    assert [one.label for one in book_of(state).containers] == ["bag 5"]
    assert line_of(state, "end_cover", "bolt").off == 10


def test_a_tray_said_afterwards_is_for_what_was_just_said() -> None:
    state = told("six bolts off the pump", "in tray four")
    assert line_of(state, "pump", "bolt").containers == ("tray 4",)


def test_facing_marks_groups_and_order_are_kept() -> None:
    state = told(
        "paint mark on the outer rotor",
        "inner rotor and outer rotor out",
        "input shaft seal out lip inward",
        "three shims off the front cover keep as a set",
        "start the forward clutch",
        "stack order pressure plate then steel then friction then steel",
    )
    rotor = line_of(state, "pump_strip", "outer rotor")
    assert (rotor.marks, rotor.groups) == (("paint mark",), ("rotor pair",))
    assert line_of(state, "seals_out", "input shaft seal").orientation == ("lip in",)
    assert line_of(state, "front_cover", "shim").groups == ("set",)
    stack = next(one for one in book_of(state).stacks if one.step == "forward_clutch")
    assert stack.order == ("pressure plate", "steel plate", "friction plate", "steel plate")
    assert stack.name == "forward clutch pack"


@pytest.mark.parametrize(
    ("said", "settled"),
    [("two thrust washers out", "thrust washer"), ("thrust bearing out", "thrust bearing")],
)
def test_a_build_is_settled_by_what_is_said(said: str, settled: str) -> None:
    state = told("start the output shaft", said)
    (build,) = book_of(state).builds
    assert build.settled == settled
    _, events = tell("finish this step", state=state)
    left = " ".join(events[0].warnings)
    assert "not said which" not in left
    assert "thrust" not in left


def test_a_build_nobody_settled_is_told_before_the_step_is_left() -> None:
    state = told("start the output shaft", "output shaft and output gear out")
    _, events = tell("next step", state=state)
    assert "output thrust: thrust washer or thrust bearing, not said which" in events[0].warnings
    assert not any("not mentioned" in text and "thrust" in text for text in events[0].warnings)
    assert "2 thrust washers, output shaft or 1 thrust bearing, output shaft" in " ".join(
        answered("what is coming", state)
    )


def test_a_build_of_several_parts_needs_all_of_them() -> None:
    state = told("start the second worm", "two ball bearings out", outline="worm_reducer")
    (build,) = book_of(state, "worm_reducer").builds
    assert build.settled == "ball bearings"
    _, events = tell("finish this step", state=state, outline="worm_reducer")
    assert "worm shaft: 2 thrust washers expected, not mentioned" in events[0].warnings
    assert not any("tapered" in text for text in events[0].warnings)


def test_what_the_outline_does_not_list_has_a_line_too() -> None:
    state = told("start the side cover", "two studs off the side cover in bag one")
    line = line_of(state, "side_cover", "stud")
    assert (line.expected, line.off, line.containers) == (None, 2, ("bag 1",))


def test_without_an_outline_there_is_a_ledger_all_the_same() -> None:
    none = Outline(name="", title="", unit="", stage=())
    off = Finding(part="bolt", count=6, place="pump", action="removed", container="tray 1")
    more = Finding(part="bolt", count=2, place="pump", action="removed")
    back = Finding(part="bolt", count=5, place="pump", action="installed")
    (line,) = ledger([(None, [off, more]), (None, [back])], none).lines
    assert (line.off, line.back, line.left, line.containers) == (8, 5, 3, ("tray 1",))


def test_work_and_measures_alone_make_no_line() -> None:
    state = told("gears and shafts washed", "input shaft runout is one thou")
    assert not any(line.came_off for line in book_of(state).lines)


@pytest.mark.parametrize("number", range(1, 7))
def test_nothing_is_said_to_be_out_before_it_came_off(number: int) -> None:
    state = State()
    assert answered("what is still out", state, BARE) == ["Nothing is recorded as taken apart."]
    state = told(f"{num2words(number)} bolts off the pump cover", outline=BARE)
    noun = "bolt" if number == 1 else "bolts"
    assert answered("what is still out", state, BARE) == [
        "Still out: 1.",
        f"{number} {noun}, pump cover.",
    ]


def test_what_is_said_of_a_part_of_the_other_build_has_a_line_of_its_own() -> None:
    outline = pack_of().outline
    assert outline is not None
    washers = Finding(part="thrust washer", count=2, action="removed")
    book = ledger(
        [("output_shaft", [washers, Finding(part="thrust bearing", mark="paint mark")])], outline
    )
    (line,) = (line for line in book.lines if line.part == "thrust bearing")
    assert (line.expected, line.marks) == (None, ("paint mark",))
    told("two thrust washers out", ("paint mark on the thrust bearing", []))


def test_what_is_wrong_with_one_spring_is_not_wrong_with_all() -> None:
    outline = pack_of().outline
    assert outline is not None
    springs = [
        ("forward_piston", [Finding(part="return spring", count=12, action="removed")]),
        ("valve_strip", [Finding(part="detent spring", count=1, action="removed")]),
        ("seals_out", [Finding(part="spring", condition="missing")]),
    ]
    book = ledger(springs, outline)
    assert [line.part for line in book.lines if "missing" in line.conditions] == ["spring"]


def test_the_big_one_is_that_of_the_step_called_so() -> None:
    state = told(
        "start the first wheel", "wheel out", "start the second wheel", "wheel out",
        "start the wheels", "order a new big wheel", "punch mark on the big wheel",
        outline="worm_reducer",
    )  # fmt: skip
    small = line_of(state, "first_wheel", "worm wheel", "worm_reducer")
    big = line_of(state, "second_wheel", "worm wheel", "worm_reducer")
    assert (big.disposition, big.marks) == ("order", ("punch mark",))
    assert (small.disposition, small.marks) == (None, ())


def test_what_the_unit_does_while_it_goes_together_is_not_of_the_last_part() -> None:
    state = told(
        "breather out", "start the fill", "breather in", "turns by hand", outline="worm_reducer"
    )
    assert line_of(state, "drain", "breather", "worm_reducer").conditions == ()


def test_what_is_found_of_the_same_ones_again_is_no_more_of_them() -> None:
    def of(number: int, **said: str) -> list[Finding]:
        return [Finding(part="bolt", place="front cover", count=number, **said)]

    outline = pack_of().outline
    assert outline is not None
    off = [*of(12, action="removed"), *of(2, condition="bent")]
    book = ledger([("front_cover", off), ("check_case", of(2, condition="cracked"))], outline)
    (line,) = (one for one in book.of_step("front_cover") if one.part == "bolt")
    assert (line.found, line.conditions) == (2, ("bent", "cracked"))


def test_a_part_may_be_called_after_its_place_or_its_step() -> None:
    # Common practice, no source: the "input seal" is the seal of the input shaft.
    state, _ = tell("start the first worm", "input seal leaking lip out", outline="worm_reducer")
    seal = line_of(state, "first_worm", "oil seal", "worm_reducer")
    assert (seal.conditions, seal.orientation) == (("leaking",), ("lip out",))
    state, _ = tell(
        "start the forward piston", "piston good", "start the reverse piston", "piston scored",
        "start the parts list", "reverse piston replace",
    )  # fmt: skip
    assert line_of(state, "reverse_piston", "clutch piston").disposition == "replace"
    assert line_of(state, "forward_piston", "clutch piston").disposition is None


def test_of_several_that_may_be_called_so_none_is_meant() -> None:
    state, _ = tell("start the forward clutch", "clutch plate warped", "input plate cracked")
    for part in ("pressure plate", "friction plate", "steel plate"):
        assert line_of(state, "forward_clutch", part).conditions == ()


def test_of_which_of_two_alike_is_asked_and_the_answer_settles_both() -> None:
    # One of two wheels is ordered, and not the wrong one: common practice, no source.
    said = ("start the first wheel", "worm wheel out", "start the big wheel", "wheel out")
    state, events = tell(*said, "parts list", "worm wheel replace", outline="worm_reducer")
    which = "Of which: First stage wheel out or Output shaft and wheel out?"
    assert events[-1].answer == f"{which} Say it again with its name."
    for step in ("first_wheel", "second_wheel"):
        assert line_of(state, step, "worm wheel", "worm_reducer").not_which
    _, events = tell("what is undecided", state=state, outline="worm_reducer")
    assert (events[0].answer or "").count("replace was said, not of which of them") == 2
    state, events = tell("big wheel replace", state=state, outline="worm_reducer")
    assert events[0].answer is None
    first = line_of(state, "first_wheel", "worm wheel", "worm_reducer")
    second = line_of(state, "second_wheel", "worm wheel", "worm_reducer")
    assert (first.disposition, second.disposition) == (None, "replace")
    assert not (first.not_which or second.not_which)


def test_all_of_them_by_their_number_are_meant() -> None:
    said = ("start the first wheel", "worm wheel out", "start the big wheel", "wheel out")
    state, events = tell(*said, "parts list", "two worm wheels replace", outline="worm_reducer")
    assert events[-1].answer is None
    assert not line_of(state, "first_wheel", "worm wheel", "worm_reducer").not_which


def test_a_decision_is_of_all_that_came_apart_however_that_was_said() -> None:
    said = ("start the forward clutch", "pressure plate heat blued", "start the reverse clutch",
            "pressure plate out", "start the parts list", "reuse the pressure plate")  # fmt: skip
    state, _ = tell(*said)
    for step in ("forward_clutch", "reverse_clutch"):
        assert line_of(state, step, "pressure plate").disposition == "reuse"
