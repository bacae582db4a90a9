"""What the bench shows at once of an entry."""

from __future__ import annotations

from sheet_help import pack, parser

from benchvoice.follow import State, advance
from benchvoice.sheets.event_lines import event_lines


def lines(said: str) -> list[str]:
    _, event = advance(State(), parser().parse(said), pack(), 0.0)
    return [line.strip() for line in event_lines(event, pack().outline, width=200)]


def test_words_that_nothing_was_made_of_are_shown_at_once() -> None:
    assert '? not understood: "zorbled"' in lines("key zorbled, replace it, six cap screws off")
    assert not any("not understood" in line for line in lines("six cap screws off the coupling"))
