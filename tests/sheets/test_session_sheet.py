"""The sheet of a session: nothing said is missing from it, and it prints anywhere."""

from __future__ import annotations

import tomllib
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from sheet_help import job, pack

from benchvoice.follow import State, advance
from benchvoice.grammar import load_pack
from benchvoice.language import Parser
from benchvoice.remark import Finding, Remark
from benchvoice.screens.editor.facts import Facts
from benchvoice.session import (
    Entry,
    Header,
    Journal,
    ScriptedClock,
    Session,
    Sitting,
    read_session,
    step_minutes,
)
from benchvoice.sheets import finding_text, session_text
from benchvoice.sheets.layout import clock, columns, hours, plain, wrapped

DEMO = Path(__file__).parents[2] / "demo_sessions"
OUTLINE = pack().outline


def flat(text: str) -> str:
    return " ".join(text.split())


def section(text: str, title: str) -> str:
    _, _, rest = text.partition(f"\n{title}\n")
    return rest.partition("\n\n")[0]


@pytest.fixture(scope="module")
def teardown(tmp_path_factory: pytest.TempPathFactory) -> Session:
    script = tomllib.loads((DEMO / "script.toml").read_text("utf-8"))["remark"]
    folder = tmp_path_factory.mktemp("teardown")
    return job(folder, *(remark["say"] for remark in script), gap=120.0)


def test_every_finding_of_the_teardown_is_on_the_sheet(teardown: Session) -> None:
    text = flat(session_text(teardown, OUTLINE))
    assert len(teardown.findings) > 40
    for _, findings in teardown.findings:
        for finding in findings:
            assert finding_text(finding) in text
    assert "11 bolts" not in text  # recounted
    assert "pressure plate, warped" not in text  # struck


def test_wrong_counts_and_parts_are_summed_up(teardown: Session) -> None:
    text = session_text(teardown, OUTLINE)
    wrong = section(text, "Counts that do not add up")
    assert "end cover: 10 bolts expected, 9 said" in wrong
    assert "forward clutch: 8 friction plates expected, 7 said" in wrong
    assert "front cover" not in wrong
    parts = section(text, "Parts to replace or order")
    # the dispositions of the script itself are the reference
    script = tomllib.loads((DEMO / "script.toml").read_text("utf-8"))["remark"]
    for remark in script:
        for finding in remark.get("finding", []):
            if finding.get("disposition") in ("replace", "order", "machine"):
                assert finding["part"] in parts
            if finding.get("disposition") == "reuse":
                assert finding["part"] == "friction plate" or finding["part"] not in parts
    assert "1 side cover gasket (by the outline)" in parts


def test_times_on_the_sheet_are_those_of_the_session(teardown: Session) -> None:
    assert OUTLINE is not None
    rows = section(session_text(teardown, OUTLINE), "Worked minutes by step").splitlines()
    shown = {row.rsplit(None, 1)[0].strip(): float(row.split()[-1]) for row in rows}
    for step, minutes in step_minutes(teardown).items():
        assert shown[OUTLINE.by_id[step].title] == pytest.approx(minutes, abs=0.051)


@pytest.mark.parametrize("width", [40, 60, 80, 132])
@pytest.mark.parametrize("known", [True, False])
def test_lines_fit(teardown: Session, width: int, known: bool) -> None:
    history = read_session(DEMO / "history" / "invented_03")
    for session in (teardown, history):
        text = session_text(session, OUTLINE if known else None, width)
        assert text.isascii()
        assert max(map(len, text.splitlines())) <= width


def test_what_was_not_understood_has_its_clip(tmp_path: Path) -> None:
    session = job(tmp_path, "blah foo bar", "take a note", "seen it before", "five tenths end play")
    text = session_text(session, OUTLINE)
    assert '"blah foo bar" [clips/0001.flac]' in section(text, "Not understood")
    assert '"five tenths end play" [clips/0004.flac]' in section(text, "Not understood")
    assert 'note: "seen it before" [clips/0003.flac]' in text


def test_a_warning_goes_when_the_count_is_made_up(tmp_path: Path) -> None:
    said = ("seven bolts off the end cover", "three bolts off the end cover")
    first = job(tmp_path / "a", said[0])
    both = job(tmp_path / "b", *said)
    assert "10 bolts expected, 7 said" in session_text(first, OUTLINE)
    assert "expected" not in session_text(both, OUTLINE)


def test_limits_stay_on_the_sheet(tmp_path: Path) -> None:
    text = flat(session_text(job(tmp_path, "backlash is fourteen thou"), OUTLINE))
    assert "! backlash 14 thou: limit 6 to 12 thou (invented for the demo)" in text


def test_the_last_word_on_a_part_counts(tmp_path: Path) -> None:
    session = job(tmp_path, "replace the spool", "reuse the spool", "reuse the relief valve spring",
                  "replace the relief valve spring")  # fmt: skip
    parts = section(session_text(session, OUTLINE), "Parts to replace or order")
    assert "spool" not in parts
    assert "relief valve spring" in parts
    again = job(tmp_path / "b", "replace the spool", "replace the detent spring",
                "order the spool")  # fmt: skip
    parts = section(session_text(again, OUTLINE), "Parts to replace or order")
    assert parts.split() == ["replace", "detent", "spring", "order", "spool"]


def test_interruptions_and_damage_are_shown(tmp_path: Path) -> None:
    session = job(tmp_path, "start the pump", "six bolts off the pump", gap=50 * 60)
    text = session_text(session, OUTLINE)
    assert "0:50 with nothing said, not counted" in flat(section(text, "Interruptions"))


def test_invented_data_is_marked(tmp_path: Path) -> None:
    header = Header(job="J", invented=True)
    assert "INVENTED" in session_text(job(tmp_path / "a", "drain plug out", header=header))
    assert "INVENTED" not in session_text(job(tmp_path / "b", "drain plug out"))


@given(st.integers(0, 5999))
def test_times_agree_with_the_standard_library(minutes: int) -> None:
    # Reference: datetime.timedelta's own text, "H:MM:SS", within a day.
    if minutes < 1440:
        assert hours(minutes) == str(timedelta(minutes=minutes)).removesuffix(":00")
        assert clock(minutes * 60 + 7.9) == str(timedelta(minutes=minutes, seconds=7))


@given(st.text())
def test_plain_is_printable_ascii(text: str) -> None:
    shown = plain(text)
    assert shown.isascii()
    assert all(char.isprintable() for char in shown)
    assert plain(shown) == shown


@given(st.text(max_size=200), st.integers(20, 100))
def test_wrapped_keeps_all_words(text: str, width: int) -> None:
    lines = wrapped("  - ", text, width)
    assert all(len(line) <= width for line in lines)
    assert "".join("".join(lines).split())[1:] == "".join(plain(text).split())


@given(
    st.lists(st.tuples(st.text("abc ", max_size=60), st.text("123", max_size=8)), min_size=1),
    st.integers(20, 90),
)
def test_columns_fit(rows: list[tuple[str, str]], width: int) -> None:
    assert all(len(line) <= width for line in columns(rows, width))


@given(
    st.text(max_size=120), st.text(max_size=40), st.sampled_from(["finding", "noted", "unclear"])
)
def test_any_words_can_be_shown(heard: str, part: str, kind: str) -> None:
    entry = Entry(
        seq=1,
        sitting=1,
        t=1.0,
        wall="?",
        kind=kind,
        remark=Remark(heard=heard),
        findings=(Finding(part=part, count=2),),
        warnings=(heard,),
    )
    session = Session(
        folder=Path("x"),
        header=Header(job=heard),
        sittings=(Sitting(number=1, opened=heard),),
        entries=(entry,),
    )
    for shown in (session, replace(session, sittings=())):
        text = session_text(shown)
        assert text.isascii()
        assert max(map(len, text.splitlines())) <= 80


def test_the_sheet_ends_with_what_is_not_back_in_as_it_came(tmp_path: Path) -> None:
    off = ("twelve bolts off the front cover", "eight bolts off the side cover", "drain plug out")
    assert "Not back in" not in session_text(job(tmp_path / "apart", *off), OUTLINE)
    back = ("covers on", "eleven bolts in the front cover", "nine bolts in the side cover")
    text = session_text(job(tmp_path / "together", *off, *back), OUTLINE)
    assert [" ".join(line.split()) for line in section(text, "Not back in as it came").splitlines()
            if "gasket" not in line and "washer" not in line] == [
        "! sump: 1 drain plug came out, none gone in",
        "! side cover: 8 bolts came out, 9 gone in",
        "! front cover: 12 bolts came out, 11 gone in",
    ]  # fmt: skip
    # what is always renewed has to go in too
    assert "Front cover off: 1 front cover gasket expected, none gone in" in flat(text)


def test_what_went_in_after_it_was_short_is_not_warned_of_on_the_sheet(tmp_path: Path) -> None:
    said = ("twelve bolts off the front cover", "covers on", "eleven bolts in the front cover")
    short = "front cover: 12 bolts came out, 11 gone in"
    assert short in flat(session_text(job(tmp_path / "short", *said), OUTLINE))
    whole = job(tmp_path / "whole", *said, "one bolt in the front cover")
    assert "12 bolts came out" not in flat(session_text(whole, OUTLINE))


def test_so_it_is_without_an_outline(tmp_path: Path) -> None:
    pack = load_pack()
    parser = Parser(pack)

    def told(name: str, *said: str) -> Session:
        state = State()
        wall = ScriptedClock(datetime(2026, 3, 2, 8, 0, tzinfo=UTC)).clock
        with Journal.create(tmp_path / name, Header(job="J 1"), wall) as journal:
            for text in said:
                state, event = advance(state, parser.parse(text), pack, journal.elapsed())
                journal.append_event(event)
        return read_session(tmp_path / name)

    said = ("start the pump", "six bolts off", "start putting it together", "five bolts in")
    short = "pump: 6 bolts came out, 5 gone in"
    for name, more, stands in (("short", (), True), ("whole", ("one bolt in",), False)):
        session = told(name, *said, *more)
        assert (short in flat(session_text(session))) == stands
        facts = Facts(session, None)
        warnings = [text for entry in session.entries for text in facts.warnings(entry)]
        assert (short in warnings) == stands
