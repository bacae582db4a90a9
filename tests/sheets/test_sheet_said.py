"""Warnings that a sheet repeats, and those that it drops because they were put right."""

from __future__ import annotations

from pathlib import Path

from sheet_help import job

from benchvoice.remark import Remark
from benchvoice.session import Entry
from benchvoice.sheets.said import entry_texts, standing_warnings, with_title

TOO_MANY = "pump: 6 bolts expected, 12 said"


def test_a_count_said_twice_is_repeated_only_while_it_does_not_add_up() -> None:
    asked = f"{TOO_MANY}, 6 before and 6 now: said twice?"
    entry = Entry(
        seq=2,
        sitting=1,
        t=20.0,
        wall="2026-03-02T08:00:20+00:00",
        kind="finding",
        remark=Remark(heard="six bolts off the pump"),
        warnings=(asked, "bolt: thread 3/8-16 expected, 5/16-18 said"),
    )
    assert standing_warnings(entry, {TOO_MANY}) == list(entry.warnings)
    assert standing_warnings(entry, set()) == [entry.warnings[1]]


def test_a_step_that_was_held_is_said_not_to_be_finished(tmp_path: Path) -> None:
    session = job(tmp_path, "start covers on", "end play twenty thou", "finish this step")
    assert session.entries[-1].kind == "held"
    assert entry_texts(session.entries[-1]) == ["not finished: out of its limit"]


def test_a_step_is_not_named_twice() -> None:
    titles = {"front": "Front end"}
    assert with_title("front", "Front end: 3 bolts expected, 4 said", titles).count("Front") == 1
    assert with_title("front", "key: rolled", titles) == "Front end: key: rolled"
