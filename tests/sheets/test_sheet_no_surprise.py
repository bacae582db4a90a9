"""What the sheets say of what went out, was ordered, measured again or may be told of falsely."""

from __future__ import annotations

from pathlib import Path

from sheet_help import job, pack

from benchvoice.sheets.book import book_of
from benchvoice.sheets.hardware import hardware_sheet
from benchvoice.sheets.parts_sheet import parts_sheet
from benchvoice.sheets.reassembly import reassembly_sheet
from benchvoice.sheets.teardown import teardown_sheet


def test_what_went_out_is_asked_for_before_it_is_missed(tmp_path: Path) -> None:
    """Common practice, no source: a unit cannot go together while a part is at the machine shop."""
    session = job(
        tmp_path, "start the output flange", "lock nut off", "flange grooved machine it",
        "start check the case", "case cracked at the mounting foot", "send out the case",
    )  # fmt: skip
    sheet = reassembly_sheet(book_of(session, pack()))
    back = "it was to go out: is it back, and right?"
    assert sum(back in text for text in sheet.before) == 2
    fits = (fit for step in sheet.steps for fit in step.fits)
    assert back in next(fit for fit in fits if fit.what == "flange").look
    case = next(row for row in parts_sheet(book_of(session, pack())).send_out if row.part == "case")
    assert case.why == ("cracked",)


def test_where_only_hand_tools_may_be_used_is_on_the_sheet(tmp_path: Path) -> None:
    """What the outline has of power tools is a caution, shown before the step (its own word)."""
    session = job(tmp_path, "start the pump", "six bolts off", "start the side cover", "bolts off")
    sheet = reassembly_sheet(book_of(session, pack()))
    hand = {step.title: step.cautions for step in sheet.steps}
    assert hand["Covers on, end play set"][-1].startswith("Hand tools only from here on")
    assert hand["Pump, valve and strainer on"][-1] == "Hand tools only here."
    assert sum("from here on" in text for texts in hand.values() for text in texts) == 1


def test_a_bolt_of_several_lengths_is_ordered_with_the_lengths_it_may_have(tmp_path: Path) -> None:
    """What is ordered has to be told whole (common practice, no source)."""
    session = job(tmp_path, "start the end cover", "nine bolts off", "order one end cover bolt")
    (row,) = (row for row in parts_sheet(book_of(session, pack())).order if row.part == "bolt")
    assert row.size == ("3/8-16", "9/16 in across flats", "1 1/4 in or 2 in long")
    session = job(tmp_path / "b", "start the end cover", "order one end cover bolt two inch long")
    (row,) = (row for row in parts_sheet(book_of(session, pack())).order if row.part == "bolt")
    assert (row.size, row.size_by) == (("2 in long",), "said")


def test_drained_oil_is_nothing_that_does_not_add_up(tmp_path: Path) -> None:
    session = job(tmp_path, "drain the oil", "oil drained", "two washers out")
    steps = hardware_sheet(book_of(session, pack())).steps
    odd = {row.part: row.odd for step in steps for row in step.rows}
    assert odd["oil"] == ()
    assert any("by the outline" in text for text in odd["sealing washer"])


def test_a_measure_that_was_put_right_is_told_as_measured_again(tmp_path: Path) -> None:
    """While a unit goes together the last measure counts: it was shimmed in between."""
    session = job(
        tmp_path, "start the side cover", "eight bolts off", "covers on", "end play eleven thou",
        "end play seven thou",
    )  # fmt: skip
    sheet = teardown_sheet(book_of(session, pack()))
    assert [(one.verdict, one.again) for one in sheet.measures] == [
        ("outside", True), ("within", False),
    ]  # fmt: skip
    session = job(tmp_path / "b", "check the gears", "backlash fourteen thou", "backlash ten thou")
    sheet = teardown_sheet(book_of(session, pack()))
    assert [one.again for one in sheet.measures] == [False, False]
