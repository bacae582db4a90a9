"""An outline drafted from a session: it loads, says what was found, and makes nothing up."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from outlining_help import job

from benchvoice.errors import BadInput
from benchvoice.follow import State, advance
from benchvoice.grammar import Hardware, Outline, Step, load_outline, load_pack
from benchvoice.language import Parser
from benchvoice.outlining import draft, look_through, toml_of
from benchvoice.outlining.values import Drafted
from benchvoice.session import Session, step_minutes

FREE = (
    "start the front cover", "eight bolts off three eighths sixteen in tray one",
    "front cover gasket torn replace it", "finish the front cover",
    "four studs off the oil pump", "impeller removed paint mark on it", "finish this step",
    "start the rear bearing", "snap ring out", "end play is twelve thou",
    "start the front cover", "eight bolts installed in the front cover",
)  # fmt: skip


def loaded(folder: Path, drafted: Drafted) -> Outline:
    path = folder / "drafted.toml"
    path.write_text(toml_of(drafted), encoding="utf-8")
    assert look_through(path).problems == ()
    return load_outline(path)


def by_part(step: Step) -> dict[str, Hardware]:
    return {item.part: item for item in step.hardware}


def test_a_free_session_becomes_steps_with_what_was_found(tmp_path: Path) -> None:
    outline = loaded(tmp_path, draft(job(tmp_path / "s", *FREE), None, "my pump"))
    steps = outline.by_id
    assert list(steps) == ["front_cover", "oil_pump", "rear_bearing", "front_cover_on"]
    assert outline.name == "my_pump"
    bolt = by_part(steps["front_cover"])["bolt"]
    assert (bolt.count, bolt.thread) == (8, "3/8-16")
    assert by_part(steps["oil_pump"])["stud"].count == 4
    assert by_part(steps["oil_pump"])["impeller"].mark == "paint mark"
    assert "snap ring" in by_part(steps["rear_bearing"])
    assert outline.kind_of["front_cover_on"] == "assemble"
    assert steps["front_cover_on"].puts_back == ("front_cover",)
    assert steps["front_cover"].say == ("front cover",)


def test_no_limit_is_ever_made_from_a_measure(tmp_path: Path) -> None:
    drafted = draft(job(tmp_path / "s", *FREE), None, "p")
    outline = loaded(tmp_path, drafted)
    assert not any(step.limit for step in outline.steps())
    text = toml_of(drafted)
    assert "# measured: end play 12 thou; its limit is in the manual:" in text
    assert "limit" not in str(tomllib.loads(text))


def test_minutes_are_those_worked_and_marked_as_of_one_session(tmp_path: Path) -> None:
    drafted = draft(job(tmp_path / "s", *FREE), None, "p")
    # twelve remarks a minute apart: eleven minutes between them, before the first nothing was begun
    assert sum(step.minutes or 0 for step in drafted.outline.steps()) == pytest.approx(11, abs=0.2)
    assert toml_of(drafted).count("  # from one session\n") == 4


def test_an_outline_that_was_left_keeps_what_it_has(tmp_path: Path) -> None:
    session = job(
        tmp_path / "s",
        *("start the end cover", "nine bolts off the end cover", "three shims off the end cover"),
        outline="reversing_gearbox",
    )
    base = load_outline("reversing_gearbox")
    drafted = draft(session, base, "mine")
    outline = loaded(tmp_path, drafted)
    assert [step.id for step in outline.steps()] == [step.id for step in base.steps()]
    assert [step.limit for step in outline.steps()] == [step.limit for step in base.steps()]
    assert [step.cautions for step in outline.steps()] == [step.cautions for step in base.steps()]
    found = by_part(outline.by_id["end_cover"])
    assert (found["bolt"].count, found["shim"].count) == (9, 3)
    assert drafted.hardware["end_cover", "bolt", "end cover"] == (
        "the outline had 10, 9 were found",
    )
    times = step_minutes(session)
    assert outline.by_id["end_cover"].minutes == pytest.approx(times["end_cover"], abs=0.05)
    assert outline.by_id["drain"].minutes == base.by_id["drain"].minutes
    assert outline.invented


def test_what_was_struck_is_not_in_it(tmp_path: Path) -> None:
    session = job(
        tmp_path / "s", "start the sump", "six bolts off", "nine studs off", "strike that"
    )
    outline = loaded(tmp_path, draft(session, None, "p"))
    assert [item.part for item in outline.by_id["sump"].hardware] == ["bolt"]


def test_several_lengths_are_told_of_not_guessed(tmp_path: Path) -> None:
    session = job(
        tmp_path / "s",
        *("start the end cover", "six bolts off one inch long", "four bolts off two inches long"),
    )
    drafted = draft(session, None, "p")
    (bolt,) = loaded(tmp_path, drafted).by_id["end_cover"].hardware
    assert (bolt.count, bolt.length, bolt.lengths) == (10, None, ())
    (note,) = drafted.hardware["end_cover", "bolt", None]
    assert "6 of 1 in" in note and "4 of 2 in" in note


def test_nothing_said_is_nothing_to_draft_from(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="no steps and no findings"):
        draft(job(tmp_path / "s"), None, "p")


_SAID = st.sampled_from(
    [
        *FREE, "five tenths end play", "blah blah", "strike that", "make it nine", "next step",
        "stop the clock", "start the clock", "two seals cracked", "case is not cracked",
        "stack order is snap ring shim bearing", "seal lip toward the case", "in tray four",
        "go to the sump", "take a note", "ten bolts in the front cover",
    ]
)  # fmt: skip


@settings(max_examples=20, deadline=None)
@given(st.lists(_SAID, min_size=1, max_size=12))
def test_whatever_was_said_the_draft_loads(
    tmp_path_factory: pytest.TempPathFactory, said: list[str]
) -> None:
    folder = tmp_path_factory.mktemp("any")
    session: Session = job(folder / "s", *said)
    try:
        drafted = draft(session, None, "p")
    except BadInput:
        return
    outline = loaded(folder, drafted)
    assert not any(step.limit for step in outline.steps())


@given(st.text(max_size=40))
def test_comments_and_titles_cannot_become_toml(text: str) -> None:
    outline = Outline(name="p", title=text, unit=text, caution=(text,), stage=())
    drafted = Drafted(outline=outline, top=(text,))
    # Reference: the standard library's own TOML 1.0 reader.
    assert tomllib.loads(toml_of(drafted)) == {
        "name": "p", "title": text, "unit": text, "caution": [text]
    }  # fmt: skip


def test_a_size_said_after_its_bolts_and_a_part_in_a_bag_are_drafted(tmp_path: Path) -> None:
    session = job(
        tmp_path, "start the front cover", "eight bolts off front cover", "m eight by thirty",
        "key in bag two",
    )  # fmt: skip
    (step,) = draft(session, None, "p").outline.steps()
    bolt, key = step.hardware
    assert (bolt.part, bolt.count, bolt.thread, bolt.length) == ("bolt", 8, "M8", "30 mm")
    assert (key.part, key.count) == ("key", 1)


def test_some_of_them_and_which_are_long_are_no_parts_of_their_own(tmp_path: Path) -> None:
    said = (
        "start the discharge side", "8 nuts off the discharge cover", "2 of the nuts rounded",
        "start the back cover", "10 bolts off the back cover, eight short ones and two long",
    )  # fmt: skip
    outline = loaded(tmp_path, draft(job(tmp_path / "s", *said), None, "p"))
    listed = {
        (step.id, item.part, item.count) for step in outline.steps() for item in step.hardware
    }
    assert listed == {("discharge_side", "nut", 8), ("back_cover", "bolt", 10)}


def test_where_was_only_looked_and_decided_nothing_comes_off(tmp_path: Path) -> None:
    said = ("start the crank", "crankshaft out", "start the inspection", "case cracked, weld it")
    outline = loaded(tmp_path, draft(job(tmp_path / "s", *said), None, "p"))
    assert outline.kind_of == {"crank": "strip", "inspection": "inspect"}
    assert outline.by_id["inspection"].hardware == ()


def test_a_gear_and_a_ring_gear_that_both_came_off_are_two_parts(tmp_path: Path) -> None:
    said = ("start the shaft", "gear off", "ring gear off", "gear worn, replace it")
    outline = loaded(tmp_path, draft(job(tmp_path / "s", *said), None, "p"))
    assert [item.part for item in outline.by_id["shaft"].hardware] == ["gear", "ring gear"]


def test_what_a_part_has_is_no_part_of_the_outline(tmp_path: Path) -> None:
    said = ("start the shaft", "gear off", "gear tooth chipped", "bore worn", "shim fine")
    outline = loaded(tmp_path, draft(job(tmp_path / "s", *said), None, "p"))
    assert [item.part for item in outline.by_id["shaft"].hardware] == ["gear", "shim"]


def test_a_number_that_nobody_said_is_not_expected(tmp_path: Path) -> None:
    said = ("start the pump", "bolts off the pump cover", "impeller out")
    outline = loaded(tmp_path, draft(job(tmp_path / "s", *said), None, "p"))
    bolts, impeller = outline.by_id["pump"].hardware
    assert (bolts.part, bolts.expected) == ("bolt", None)
    assert (impeller.part, impeller.expected) == ("impeller", 1)  # named in the singular
    pack = load_pack(outline)
    state, warnings = State(), []
    for text in ("start the pump", "eight bolts off the pump cover", "next step"):
        state, event = advance(state, Parser(pack).parse(text), pack, 0.0)
        warnings += event.warnings
    assert warnings == ["Pump: 1 impeller expected, not mentioned"]


UNKNOWN = (
    "start the drain", "drain plug out and copper washer, replace the washer",
    "start the rear cover", "ten bolts off the rear cover",
    "six short ones at the top, four long ones at the bottom", "rear cover gasket torn",
    "case cracked", "start the pump", "four cap screws off the pump", "inner rotor scored",
    "pump gasket", "start the clutch", "snap ring out", "five friction plates six steel plates",
    "pressure plate, friction plate, steel plate, friction plate, steel plate",
    "start putting it together", "snap ring in", "retaining plate in", "six steel plates in",
)  # fmt: skip


def test_what_was_only_named_or_only_went_in_is_in_the_draft(tmp_path: Path) -> None:
    """What the next job is to be counted against must not lack a part (common practice)."""
    drafted = draft(job(tmp_path / "s", *UNKNOWN), None, "p")
    outline = loaded(tmp_path, drafted)
    parts = {step.id: [item.part for item in step.hardware] for step in outline.steps()}
    assert parts["drain"] == ["drain plug", "sealing washer"]
    assert parts["rear_cover"] == ["bolt", "rear cover gasket"]
    assert parts["pump"] == ["cap screw", "inner rotor", "pump gasket"]
    assert "# lengths said; measure them: lengths = [{ count = 6, length =" in toml_of(drafted)


def test_a_stack_is_listed_in_its_order_so_that_the_next_job_is_held_to_it(tmp_path: Path) -> None:
    outline = loaded(tmp_path, draft(job(tmp_path / "s", *UNKNOWN), None, "p"))
    clutch = outline.by_id["clutch"]
    assert [item.part for item in clutch.hardware][:4] == [
        "snap ring", "pressure plate", "friction plate", "steel plate",
    ]  # fmt: skip
    assert [(stack.first, stack.last) for stack in clutch.stack] == [
        ("pressure plate", "steel plate")
    ]
    pack = load_pack(outline)
    state = State()
    for text, wrong in (
        ("start the clutch", False),
        ("pressure plate, friction plate, steel plate, friction plate, steel plate", False),
        ("friction plate, steel plate, pressure plate, friction plate, steel plate", True),
    ):
        state, event = advance(state, Parser(pack).parse(text), pack, 1.0)
        assert any("stack" in one for one in event.warnings) is wrong
