from __future__ import annotations

from msgspec.structs import replace

from benchvoice.follow import State, StepEvent, advance
from benchvoice.grammar import Pack, load_outline, load_pack
from benchvoice.language import Parser
from benchvoice.remark import Remark
from benchvoice.saying import Urgency, lines_of


def event_of(text: str, pack: Pack | None = None) -> StepEvent:
    pack = pack or load_pack(load_outline("reversing_gearbox"))
    here = State(current="end_cover", started=frozenset({"end_cover"}))
    return advance(here, Parser(pack).parse(text), pack, 1.0)[1]


def test_how_much_is_said_at_each_level() -> None:
    event = event_of("nine bolts off the end cover")
    assert lines_of(event, "off") == ()
    (warning,) = lines_of(event, "warnings")
    assert warning.urgency == Urgency.WARNING
    assert warning.text == "end cover, ten bolts expected, nine said"
    entry = lines_of(event, "all")[-1]
    assert (entry.urgency, entry.text) == (Urgency.ENTRY, "nine bolts, end cover, removed")
    assert len(lines_of(event, "beeps")) == 2


def test_of_many_warnings_the_first_are_said_and_how_many_more() -> None:
    event = replace(event_of("nine bolts off the end cover"), warnings=("a", "b", "c", "d"))
    assert [line.text for line in lines_of(event, "warnings")] == ["a", "b, and two more"]


def test_a_question_is_said_in_place_of_the_entry() -> None:
    event = event_of("two dowel pins off the end cover")
    said = lines_of(event, "all", question="2 dowel pins, right?")
    assert [line.urgency for line in said] == [Urgency.QUESTION]
    assert said[0].text == "two dowel pins, right?"


def test_cautions_come_with_the_step_and_what_was_asked_for_is_answered() -> None:
    said = lines_of(event_of("start the oil drain"), "warnings")
    assert said[0].urgency == Urgency.CAUTION
    assert "hot oil" in said[0].text.lower()
    (answer,) = lines_of(event_of("what comes next"), "warnings")
    assert answer.urgency == Urgency.ANSWER


def test_chatter_that_is_not_understood_is_not_answered_aloud() -> None:
    assert lines_of(event_of("banana phone"), "all") == ()
    pack = load_pack(load_outline("reversing_gearbox"))
    doubt = advance(State(), Parser(pack).parse("end play five tenths"), pack, 1.0)[1]
    assert doubt.answer is not None
    assert any(line.urgency == Urgency.ANSWER for line in lines_of(doubt, "warnings")) == (
        doubt.remark.ambiguous != ()
    )
    command = advance(State(), Remark(heard="go", kind="command", command="back"), pack, 1.0)[1]
    assert lines_of(command, "warnings")
