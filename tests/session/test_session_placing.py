"""A session looked back on.  What belongs where is common practice, no source."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

import pytest
from msgspec.structs import replace

from benchvoice.follow import State, advance
from benchvoice.follow.align import Item, Placement
from benchvoice.grammar import load_outline, load_pack
from benchvoice.language import Parser
from benchvoice.session import (
    Header,
    Journal,
    ScriptedClock,
    Session,
    labour,
    placed,
    placing,
    read_session,
)
from benchvoice.session.placing import SURE, TELLS

PACK = load_pack(load_outline("reversing_gearbox"))
PARSER = Parser(PACK)
UNCLEAR_AT_FIRST = (
    "six cap screws off the coupling",
    "copper washer is in jar two",
    "take a photo",
    "two banjo bolts off the oil cooler",
)
AT_THE_STRAINER = (
    "going at the strainer bolt now mister",
    "four strainer bolts out",
    "strainer out",
)


def said(folder: Path, *texts: str) -> Session:
    """Say one thing a minute into a journal, and read it back."""
    scripted = ScriptedClock(datetime(2026, 3, 2, 8, 0, tzinfo=UTC))
    state = State()
    with Journal.create(folder, Header(outline="reversing_gearbox"), scripted.clock) as journal:
        for text in texts:
            scripted.advance(60.0)
            state, event = advance(state, PARSER.parse(text), PACK, journal.elapsed())
            journal.append_event(event)
    return read_session(folder)


def test_what_was_said_later_decides_and_is_marked(tmp_path: Path) -> None:
    session = said(tmp_path, *UNCLEAR_AT_FIRST)
    journal = (tmp_path / "session.jsonl").read_bytes()
    assert session.entries[1].step == session.entries[2].step == "drain"
    now = placed(session, PACK.outline)
    assert [entry.step for entry in now.entries[1:]] == ["cooler_lines"] * 3
    assert [entry.placed_from for entry in now.entries] == [None, "drain", "drain", None]
    assert labour(now).steps == {"coupling": 1.0, "cooler_lines": 3.0}
    assert (tmp_path / "session.jsonl").read_bytes() == journal


def test_hand_corrections_and_commands_stay(tmp_path: Path) -> None:
    session = said(tmp_path, *UNCLEAR_AT_FIRST)
    by_hand = tuple(replace(entry, corrected=entry.seq == 2) for entry in session.entries)
    now = placed(replace(session, entries=by_hand), PACK.outline)
    assert now.entries[1] == by_hand[1]
    told = said(tmp_path / "told", "start the oil drain", *UNCLEAR_AT_FIRST[1:2])
    assert [entry.step for entry in placed(told, PACK.outline).entries] == ["drain"] * 2


@pytest.mark.parametrize("outline", [None, load_outline("worm_reducer")], ids=["none", "another"])
def test_without_its_outline_a_session_is_as_it_was(tmp_path: Path, outline: object) -> None:
    session = said(tmp_path, *UNCLEAR_AT_FIRST)
    assert placed(session, outline) is session  # type: ignore[arg-type]


def test_struck_and_empty_sessions(tmp_path: Path) -> None:
    session = said(tmp_path, "eight bolts off the side cover", "strike that")
    assert placed(session, PACK.outline).standing[0].kind == "struck"
    assert placed(said(tmp_path / "none"), PACK.outline).entries == ()


def test_what_a_step_asks_for_is_not_moved_to_where_the_part_came_off(tmp_path: Path) -> None:
    session = said(
        tmp_path, "drain plug out", "seals out", "input seal out", "output seal out",
        "start putting it together", "fill with oil", "drain plug in, new washer in",
        "leak check", "input seal dry, output seal leaking",
    )  # fmt: skip
    steps = [entry.step for entry in placed(session, PACK.outline).standing]
    assert steps[-3:] == ["fill", "leak_check", "leak_check"]


def test_while_it_is_unsure_no_part_of_a_remark_is_moved(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = said(tmp_path, "start the end cover", "ten bolts out", "two dowels out")

    class Unsure:
        def place_all(self, items: Sequence[Item]) -> list[Placement]:
            return [Placement("pump", SURE - 0.1, 0.1, None, ("pump",) * len(i[0])) for i in items]

        def odds(self, item: Item, finding: int, step: str, other: str) -> float:
            return TELLS

    monkeypatch.setattr(placing, "aligner_of", lambda outline: Unsure())
    assert placed(session, PACK.outline).entries == session.entries


def test_one_washer_is_of_the_plug_and_not_of_the_cooler_lines(tmp_path: Path) -> None:
    # One washer at the drain plug, four at the cooler lines; nothing else was said of those.
    draining = ("drained the oil", "drain plug out")
    later = "six cap screws off the coupling"
    for number, (text, step) in enumerate(
        [("sealing washer renew", "drain"), ("four sealing washers renew", "cooler_lines")]
    ):
        now = placed(said(tmp_path / str(number), *draining, text, later), PACK.outline)
        assert [entry.step for entry in now.entries] == ["drain", "drain", step, "coupling"]


def test_what_was_not_understood_goes_where_its_words_belong(tmp_path: Path) -> None:
    session = said(tmp_path, "six cap screws off the coupling", "key out", *AT_THE_STRAINER)
    lost = session.entries[2]
    assert (lost.kind, lost.step) == ("unclear", "coupling")
    now = placed(session, PACK.outline)
    assert (now.entries[2].step, now.entries[2].placed_from) == ("strainer", "coupling")
    assert now.entries[2].findings == ()


def test_further_texts_on_record_tell_where_a_remark_belongs(tmp_path: Path) -> None:
    session = said(tmp_path, "checked the bearings", "and checked", "spool checked")
    first, heard, last = session.entries
    remark = replace(heard.remark, confidence=0.05)
    others = ("pump checked", "pump is checked", "the pump checked")
    doubtful = replace(heard, remark=remark, alternatives=others)
    session = replace(session, entries=(first, doubtful, last))
    assert placed(session, PACK.outline).entries[1].step == "check_bearings"
    assert placed(session, PACK.outline, PACK).entries[1].step == "check_pump"
    assert (session.log[1].others, session.log[1].sure) == (others, 0.05)


def test_counts_that_are_off_stay_with_the_step_begun_by_name(tmp_path: Path) -> None:
    session = said(tmp_path, "start reverse clutch", "8 frictions", "8 steels", "snap ring out")
    now = placed(session, PACK.outline)
    assert [entry.step for entry in now.entries] == ["reverse_clutch"] * 4
    assert [entry.findings for entry in now.entries] == [one.findings for one in session.entries]


def test_of_two_clutches_alike_the_one_that_was_named_keeps_its_plates(tmp_path: Path) -> None:
    # What is said last before the other clutch is begun says as much of that one: the burnt plates
    # would be ordered for the wrong pack.
    session = said(
        tmp_path, "lift the shafts", "forward shaft out", "forward clutch", "snap ring off bent",
        "pressure plate blued", "eight friction plates burnt", "eight steel plates warped",
        "replace all the friction plates", "reverse clutch", "seven friction plates good",
        "forward piston", "snap ring off, eleven return springs, one broken", "piston good",
        "two piston seals torn", "reverse piston", "twelve return springs good", "piston scored",
    )  # fmt: skip
    assert [one.step for one in placed(session, PACK.outline).entries] == [
        one.step for one in session.entries
    ]


def test_what_is_said_going_together_is_not_moved_to_taking_apart(tmp_path: Path) -> None:
    texts = ("ten bolts off the end cover", "twelve bolts off the front cover", "start covers on",
             "end cover bolts finger tight", "one bolt missing on the front cover")  # fmt: skip
    whole = placed(said(tmp_path, *texts), PACK.outline)
    assert [entry.step for entry in whole.entries[-2:]] == ["covers_on", "covers_on"]
    assert [entry.placed_from for entry in whole.entries[-2:]] == [None, None]
