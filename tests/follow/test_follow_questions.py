"""Yes, no and later about an entry that was not heard clearly."""

from __future__ import annotations

import pytest
from follow_help import tell
from msgspec.structs import replace

from benchvoice.follow import State, advance
from benchvoice.grammar import Pack, load_outline, load_pack
from benchvoice.language import Parser


@pytest.fixture(scope="module")
def pack() -> Pack:
    return load_pack(load_outline("reversing_gearbox"))


@pytest.fixture(scope="module")
def parser(pack: Pack) -> Parser:
    return Parser(pack)


@pytest.fixture
def asked(pack: Pack, parser: Parser) -> State:
    state, event = advance(State(), parser.parse("nine bolts off the end cover"), pack, 1.0)
    return replace(state, asking=event.seq)


def test_yes_confirms_the_entry(asked: State, pack: Pack, parser: Parser) -> None:
    state, event = advance(asked, parser.parse("yes"), pack, 2.0)
    assert (event.kind, event.amends) == ("answered", 1)
    assert state.asking is None
    assert state.log == asked.log


def test_no_strikes_it_and_asks_to_say_it_again(asked: State, pack: Pack, parser: Parser) -> None:
    state, event = advance(asked, parser.parse("no that is wrong"), pack, 2.0)
    assert (event.kind, event.amends) == ("struck", 1)
    assert str(event.answer).endswith("Say it again.")
    assert (state.log, state.asking, state.current) == ((), None, None)


def test_later_leaves_it_as_it_is(asked: State, pack: Pack, parser: Parser) -> None:
    state, event = advance(asked, parser.parse("ask me later"), pack, 2.0)
    assert (event.kind, event.amends, state.asking) == ("answered", None, None)
    assert state.log == asked.log


def test_a_yes_without_a_question_confirms_nothing(pack: Pack, parser: Parser) -> None:
    for answer in ("yes", "no", "later"):
        state, event = advance(State(), parser.parse(answer), pack, 2.0)
        assert (event.kind, event.amends, event.answer) == ("answered", None, None)
        assert state.log == ()


@pytest.mark.parametrize("between", ["read that back", "be quiet", "take a photo", "banana phone"])
def test_a_question_stays_open_over_what_is_no_entry(
    between: str, asked: State, pack: Pack, parser: Parser
) -> None:
    state, _ = advance(asked, parser.parse(between), pack, 2.0)
    _, event = advance(state, parser.parse("yes"), pack, 3.0)
    assert event.amends == 1


@pytest.mark.parametrize("between", ["one seal cracked", "next step", "strike that", "make it ten"])
def test_an_entry_closes_it_as_a_yes_might_be_for_that(
    between: str, asked: State, pack: Pack, parser: Parser
) -> None:
    state, _ = advance(asked, parser.parse(between), pack, 2.0)
    _, event = advance(state, parser.parse("yes"), pack, 3.0)
    assert event.amends is None


def test_a_decision_is_not_asked_about_its_step() -> None:
    state, _ = tell("start the strainer", "strainer out, metal on it", "start the parts list")
    _, (event,) = tell("replace the strainer", state=state)
    assert (event.step, event.answer) == ("parts_list", None)
