"""What commands do.  The words are those of the trade vocabulary."""

from __future__ import annotations

import pytest
from follow_help import BARE, book_of, pack_of, parser_of, tell, warned
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from benchvoice.follow import State, advance, restore
from benchvoice.follow.events import standing
from benchvoice.grammar import load_pack
from benchvoice.language import Parser
from benchvoice.remark import StepGuess

SAID = [
    "start the oil drain", "drain plug out", "next step", "go back", "go to the pump",
    "six bolts off the pump", "five bolts off the pump", "make that six", "strike that",
    "finish this step", "finished the pump", "stop the clock", "start the clock",
    "take a photo", "what is coming", "how many should there be", "what is left",
    "read that back", "be quiet", "listen up", "yes", "no", "blah blah", "take a note",
    "nine bolts off the end cover", "start the front cover", "previous step",
]  # fmt: skip


def place(state: State) -> State:
    return replace(state, seq=0)


def test_next_declares_done_and_shows_cautions_first() -> None:
    state, events = tell("start the oil drain", "drain plug out", "next step")
    assert [event.kind for event in events] == ["started", "finding", "started"]
    assert events[0].cautions == pack_of().outline.by_id["drain"].caution  # type: ignore[union-attr]
    assert (events[2].step, events[2].finishes) == ("cooler_lines", "drain")
    assert events[2].cautions
    assert state.done == {"drain"}


def test_back_and_go_declare_nothing_done() -> None:
    state, events = tell("start the pump", "go back", "go to the front cover")
    assert [event.step for event in events] == ["pump", "valve_strip", "front_cover"]
    assert [event.kind for event in events] == ["started", "moved", "moved"]
    assert state.done == frozenset()
    _, events = tell("start the oil drain", "go back")
    assert events[1].kind == "unclear"


def test_finish_takes_a_step_or_the_current_one() -> None:
    state, events = tell("start the pump", "finished the oil drain", "start the pump", "step done")
    assert [event.finishes for event in events] == [None, "drain", None, "pump"]
    assert state.done == {"drain", "pump"}
    _, events = tell("step done")
    assert (events[0].kind, events[0].finishes) == ("unclear", None)


def test_a_finished_step_is_taken_up_again_and_left_without_more_ado() -> None:
    state, events = tell("start the pump", "step done", "start the side cover")
    assert "not mentioned" in " ".join(events[1].warnings)
    assert "Oil pump off" not in " ".join(events[2].warnings)
    state, _ = tell("start the pump", state=state)
    assert (state.current, state.done) == ("pump", frozenset())


def test_the_last_step_has_no_next() -> None:
    state, events = tell("start the leak check", "next step", "next step")
    assert [event.kind for event in events] == ["started", "finished", "unclear"]
    assert state.done == {"leak_check"}


def test_a_step_that_comes_too_early_is_warned_of() -> None:
    _, events = tell("start the pump strip")
    assert warned(events) == [
        "Oil pump apart: comes after Oil pump off, of which nothing is recorded"
    ]
    _, events = tell("six bolts off the pump", "start the pump strip")
    assert "comes after" not in " ".join(warned(events))


def test_recount_replaces_and_strike_takes_back() -> None:
    state, events = tell("eleven bolts off the front cover", "make that twelve")
    assert (events[1].kind, events[1].amends, events[1].warnings) == ("recounted", 1, ())
    assert state.log[0].findings[0].count == 12
    state, events = tell("strike that", state=state)
    assert (events[0].amends, state.log, state.current) == (1, (), None)
    _, events = tell("make that nine", "strike that")
    assert [event.kind for event in events] == ["unclear", "unclear"]


@pytest.mark.parametrize("said", ["no seven frictions", "count again, seven friction plates"])
@pytest.mark.parametrize("before", [("eight frictions, eight steels",),
                                    ("eight frictions", "eight steels")])  # fmt: skip
def test_a_correction_is_of_the_part_it_names(said: str, before: tuple[str, ...]) -> None:
    state, events = tell("start the forward clutch", *before, said)
    assert (events[-1].kind, events[-1].amends, events[-1].step) == (
        "recounted", 2, "forward_clutch",
    )  # fmt: skip
    counts = {f.part: f.count for _, found in standing(state.log) for f in found}
    assert counts == {"friction plate": 7, "steel plate": 8}


@pytest.mark.parametrize("said", ["no four", "no, four", "sorry four", "recount four"])
def test_a_number_after_a_no_is_the_count(said: str) -> None:
    _, events = tell("three bolts off the strainer", said)
    assert (events[1].kind, events[1].amends, events[1].warnings) == ("recounted", 1, ())


def test_nobody_is_no_count() -> None:
    _, events = tell("three bolts off the strainer", "no one")
    assert events[1].kind == "unclear"


def test_a_new_part_is_to_get_until_the_unit_goes_together() -> None:
    _, events = tell("new pump gasket", "start putting it together", "four new seals in")
    wanted, fitted = events[0].remark.findings[0], events[2].remark.findings[0]
    assert (wanted.disposition, wanted.action) == ("replace", None)
    assert (fitted.disposition, fitted.action, fitted.count) == (None, "installed", 4)


def test_a_correction_said_anew_replaces_too() -> None:
    state, _ = tell("eleven bolts off the front cover")
    again = parser_of().parse("twelve bolts off the front cover")
    other = parser_of().parse("two dowel pins off the front cover")
    for said, counts in ((again, [12]), (other, [11, 2])):
        remark = replace(said, heard=f"no sorry {said.heard}")
        now, _ = advance(state, remark, pack_of(), 20.0)
        assert [f.count for entry in now.log for f in entry.findings] == counts
    corrected, event = advance(state, replace(again, heard="sorry twelve"), pack_of(), 20.0)
    assert (event.kind, event.amends, event.remark.number, event.warnings) == (
        "recounted", 1, 12, (),
    )  # fmt: skip
    assert len(corrected.log) == 1


def test_a_name_of_several_steps_is_asked_back_unless_one_alone_may_come() -> None:
    _, events = tell("go to the piston")
    assert events[0].kind == "unclear"
    assert (events[0].answer or "").startswith("Which step:")
    _, events = tell("start the forward clutch", "go to the piston")
    assert (events[1].kind, events[1].step) == ("moved", "forward_piston")


def test_answers_are_the_outlines() -> None:
    _, events = tell(
        "nine bolts off the end cover", "how many should there be", "what is coming",
        "what is left", "read that back",
    )  # fmt: skip
    many, coming, left, back = (event.answer or "" for event in events[1:])
    assert "10 bolts, end cover (9 said)" in many
    assert "2 dowel pins" in many
    assert "2 dowel pins" in coming
    assert "Next: Front cover off." in coming
    outline = pack_of().outline
    assert outline is not None
    assert f"{len(outline.stage[0].step) - 1} of {len(outline.stage[0].step)} steps" in left
    assert "end cover: 10 bolts expected, 9 said" in left
    assert "9 bolts, end cover, removed" in back


def test_coming_gives_the_next_steps_cautions() -> None:
    _, events = tell("start the side cover", "what is coming")
    outline = pack_of().outline
    assert outline is not None
    for caution in outline.by_id["end_cover"].caution:
        assert caution in (events[1].answer or "")


def test_after_take_a_note_anything_is_a_note() -> None:
    state, events = tell("start the pump", "take a note", "six bolts off the pump")
    assert [event.kind for event in events] == ["started", "asked", "noted"]
    assert state.log[-1].findings == ()
    assert not state.noting


def test_a_finding_with_the_clock_stopped_is_warned_of() -> None:
    state, events = tell("stop the clock", "drain plug out", "start the clock", "breather off")
    assert [bool(event.warnings) for event in events] == [False, True, False, False]
    assert state.running


def test_what_is_ambiguous_is_asked_back() -> None:
    _, events = tell("five tenths end play")
    assert events[0].kind == "unclear"
    assert "0.5" in (events[0].answer or "")


def test_without_an_outline_findings_are_kept() -> None:
    pack = load_pack()
    parser = Parser(pack)
    state = State()
    for text in ("six bolts off the pump", "next step", "what is left", "how many should there be"):
        state, event = advance(state, parser.parse(text), pack, 1.0)
        assert event.step is None
    assert [entry.kind for entry in state.log] == ["finding"]


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(SAID), max_size=12), st.sampled_from(SAID))
def test_strike_undoes_whatever_was_recorded(said: list[str], last: str) -> None:
    before, _ = tell(*said)
    before = replace(before, noting=False)
    after, _ = tell(last, state=before)
    if len(after.log) > len(before.log):
        struck, _ = tell("strike that", state=after)
        assert place(struck) == place(before)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(SAID), max_size=15))
def test_state_is_restored_from_what_stands(said: list[str]) -> None:
    state, events = tell(*said)
    again = restore(state.log, state.seq)
    assert again == replace(state, running=True, noting=False)
    assert [event.seq for event in events] == list(range(1, len(said) + 1))


@pytest.mark.parametrize("step", ["pump", "no such step"])
def test_a_step_given_with_the_remark_is_taken(step: str) -> None:
    parsed = parser_of().parse("eight bolts off the side cover")
    remark = replace(parsed, step=StepGuess(id=step, score=100.0))
    _, event = advance(State(), remark, pack_of(), 0.0)
    assert event.step == ("pump" if step == "pump" else "side_cover")


def test_without_an_outline_a_step_is_what_it_is_called() -> None:
    pack = load_pack()
    state, events = State(), []
    for text in ("start the front cover", "twelve bolts off", "finish this step",
                 "finish this step", "start the oil pump", "go to the front cover"):  # fmt: skip
        state, event = advance(state, Parser(pack).parse(text), pack, 0.0)
        events.append(event)
    assert [(event.kind, event.step) for event in events] == [
        ("started", "front cover"),
        ("finding", "front cover"),
        ("finished", "front cover"),
        ("finished", "front cover"),
        ("started", "oil pump"),
        ("moved", "front cover"),
    ]
    assert state.done == {"front cover"}
    assert events[0].answer == "front cover."


@pytest.mark.parametrize("outline", ["reversing_gearbox", "worm_reducer"])
def test_every_name_of_a_step_said_alone_leads_to_it(outline: str) -> None:
    """What the outline says a step is called is never "not understood", nor something found."""
    steps = list(pack_of(outline).outline.steps())  # type: ignore[union-attr]
    for step in steps:
        for say in step.say:
            _, (event,) = tell(say, outline=outline)
            shared = [one for one in steps if say in one.say]
            assert event.kind in ("started", "finding") or len(shared) > 1, say
            assert len(shared) > 1 or event.step == step.id, say
            assert event.kind == "started" or event.remark.findings[0].action == "removed", say


def test_a_check_that_is_only_announced_is_not_made() -> None:
    _, events = tell("leak check", "check the case")
    assert [event.remark.findings for event in events] == [(), ()]


def test_the_name_of_the_step_under_way_says_what_was_done() -> None:
    _, events = tell("pump off", "six bolts off the pump", "pump off")
    assert [(event.kind, event.step) for event in events] == [
        ("started", "pump"), ("finding", "pump"), ("finding", "pump"),
    ]  # fmt: skip
    assert events[2].remark.findings[0].action == "removed"


def test_a_strip_step_named_while_putting_together_is_where_things_go() -> None:
    script = ["twelve bolts off the front cover", "start putting it together", "covers on"]
    _, events = tell(*script, "front cover", "twelve bolts")
    assert [(event.kind, event.step) for event in events[3:]] == [("finding", "covers_on")] * 2


def test_the_step_named_while_putting_together_tells_what_goes_in() -> None:
    script = ["six bearings off", "two piston seals off", "start putting it together"]
    _, events = tell(*script, "bearings on")
    assert events[3].kind == "started"
    assert "Goes in: 6 bearings" in (events[3].answer or "")


def test_a_step_named_in_part_is_asked_about() -> None:
    _, (event,) = tell("start the valve")
    assert event.answer is not None
    assert event.answer.startswith("Which step: Control valve off or ")


def test_what_is_next_is_begun() -> None:
    _, (event,) = tell("cooler lines next")
    assert (event.kind, event.step) == ("started", "cooler_lines")


@pytest.mark.parametrize(
    ("said", "step"),
    [
        ("right, draining her now", "drain"),
        ("motor adapter next", "motor_adapter"),
        ("splitting the stages", "first_stage_off"),
        ("on to the big covers then", "second_covers"),
    ],
)
def test_a_step_is_begun_by_its_name_however_it_is_gone_on_to(said: str, step: str) -> None:
    _, events = tell(said, outline="worm_reducer")
    assert (events[0].kind, events[0].step) == ("started", step)


def test_a_part_of_the_outline_is_known_by_its_last_word_where_that_means_nothing_else() -> None:
    _, (event,) = tell("insert is chewed, bin it", outline="worm_reducer")
    (finding,) = event.remark.findings
    assert (finding.part, finding.condition) == ("coupling insert", "damaged")


def test_a_recount_of_what_goes_back_is_not_held_to_what_comes_off() -> None:
    said = ("five bolts off the pump cover", "start putting it together", "three bolts in")
    _, events = tell(*said, "no, five", outline=BARE)
    assert warned(events)[-2:] == [
        "pump cover: 6 bolts expected, 3 gone in", "pump cover: 6 bolts expected, 5 gone in",
    ]  # fmt: skip
    _, events = tell(*said, "no, six", outline=BARE)
    assert events[-1].warnings == ()


def test_what_a_no_says_beside_the_number_is_not_lost_in_silence() -> None:
    # What was said and not taken down is told (common practice, no source).
    only = "Only the number was put right: for the rest strike that, and say all of it again."
    lengths = ("start the end cover", "six short ones from the top two long ones")
    _, events = tell(*lengths, "no, two short ones from the bottom")
    assert events[-1].answer == f"It is 2 already. {only}"
    _, events = tell("start the front cover", "eleven bolts off tray two", "no twelve bolts")
    assert events[-1].answer == "Now 12 bolts, removed -> tray 2."


LENGTHS = ("start the end cover", "six bolts inch and a quarter at the top",
           "three bolts two inch at the bottom")  # fmt: skip


def test_a_total_after_counts_by_length_is_not_taken_for_the_last_length() -> None:
    state, _ = tell(*LENGTHS)
    _, (event,) = tell("no twelve bolts off the end cover", state=state)
    assert event.kind == "unclear"
    assert event.answer == (
        "Which: 6 bolts, 1 1/4 in long, end cover top or 3 bolts, 2 in long, end cover bottom? "
        "Say it again with its length."
    )


def test_what_can_only_be_of_the_last_length_puts_that_right() -> None:
    state, _ = tell(*LENGTHS)
    for said in ("no four bolts", "no four bolts two inch at the bottom", "no four"):
        _, (event,) = tell(said, state=state)
        assert (event.kind, event.answer) == (
            "recounted", "Now 4 bolts, 2 in long, end cover bottom.",
        ), said  # fmt: skip
        assert event.warnings == ()


def test_a_count_left_wrong_is_put_right_long_after_by_its_part() -> None:
    said = ("start the control valve", "seven cap screws off the valve", "two check balls",
            "start the pump", "six bolts off", "pump gasket off",
            "start the front cover")  # fmt: skip
    state, _ = tell(*said)
    state, (event,) = tell("no, eight cap screws", state=state)
    assert (event.kind, event.step) == ("recounted", "control_valve")
    assert (event.answer, event.warnings) == ("Now 8 cap screws, valve, removed.", ())
    # a number that puts nothing right is of the step under way, and counts there
    _, (event,) = tell("no, twelve bolts", state=state)
    assert (event.kind, event.step) == ("finding", "front_cover")


def test_a_number_off_a_place_named_puts_no_other_steps_count_right() -> None:
    said = ("start the pump", "five bolts off", "start the side cover", "eight bolts off")
    state, events = tell(*said, "no six bolts off the pump")
    assert events[-1].warnings == ()
    off = {line.step: line.off for line in book_of(state).lines if line.part == "bolt"}
    assert (off["pump"], off["side_cover"]) == (6, 8)
