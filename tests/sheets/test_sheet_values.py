"""What the sheets say of a job, as values: held to the script of the recorded teardown."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace
from sheet_help import job, pack

from benchvoice.follow import finding_text
from benchvoice.grammar import Outline, load_pack
from benchvoice.session import (
    Corrections,
    Damage,
    Header,
    Session,
    correcting,
    read_session,
    real_clock,
)
from benchvoice.sheets.book import book_of
from benchvoice.sheets.hardware import HardwareRow, HardwareSheet, hardware_sheet
from benchvoice.sheets.parts_sheet import PartRow, parts_sheet
from benchvoice.sheets.reassembly import Fit, ReassemblySheet, reassembly_sheet
from benchvoice.sheets.teardown import teardown_sheet

SCRIPT = Path(__file__).parents[2] / "demo_sessions" / "script.toml"


def script() -> list[dict[str, Any]]:
    remarks: list[dict[str, Any]] = tomllib.loads(SCRIPT.read_text("utf-8"))["remark"]
    return remarks


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Session:
    folder = tmp_path_factory.mktemp("teardown")
    return job(folder, *(remark["say"] for remark in script()), gap=120.0)


def outline() -> Outline:
    found = pack().outline
    assert found is not None
    return found


def rows(sheet: HardwareSheet) -> dict[tuple[str, str | None], HardwareRow]:
    return {(row.part, row.place): row for step in sheet.steps for row in step.rows}


def fits(sheet: ReassemblySheet) -> list[Fit]:
    return [fit for step in sheet.steps for fit in step.fits]


def found(sheet: ReassemblySheet, text: str) -> Fit:
    return next(fit for fit in fits(sheet) if text in fit.what)


def parts(session: Session) -> list[PartRow]:
    return list(parts_sheet(book_of(session, pack())).rows)


# -- teardown


def test_the_record_has_every_finding_in_the_order_of_the_outline(demo: Session) -> None:
    sheet = teardown_sheet(book_of(demo, pack()))
    shown = [text for step in sheet.steps for line in step.lines for text in line.texts]
    for _, findings in demo.findings:
        for finding in findings:
            assert any(text.startswith(finding_text(finding)) for text in shown)
    order = [step.id for step in outline().steps()]
    known = [order.index(step.id) for step in sheet.steps if step.id in order]
    assert known == sorted(known)
    assert [step.id for step in sheet.steps[len(known) :]] in ([], [None])


def test_the_record_has_cautions_counts_containers_and_limits(demo: Session) -> None:
    sheet = teardown_sheet(book_of(demo, pack()))
    for step in sheet.steps:
        if step.id is not None:
            assert step.cautions == outline().by_id[step.id].cautions
    # the script says nine where the outline has ten, and seven where it has eight
    assert {(title, count.part, count.expected, count.said) for title, count in sheet.off} >= {
        ("End cover off", "bolt", 10, 9),
        ("Forward clutch pack apart", "friction plate", 8, 7),
    }
    said = {
        finding["container"]
        for remark in script()
        for finding in remark.get("finding", [])
        if finding.get("container")
    }
    assert {kept.container for kept in sheet.containers} == said
    backlash = next(one for one in sheet.measures if one.said.startswith("backlash"))
    assert (backlash.verdict, backlash.limit, backlash.source) == (
        *("outside", "6 to 12 thou", "invented for the demo"),
    )


def test_a_limit_without_a_source_is_unsourced_and_no_limit_is_made_up(tmp_path: Path) -> None:
    session = job(tmp_path, "backlash is nine thou", "preload is four inch pounds")
    base = outline()
    stages = tuple(
        replace(
            stage,
            step=tuple(
                replace(step, limit=tuple(replace(one, source=None) for one in step.limit))
                for step in stage.step
            ),
        )
        for stage in base.stage
    )
    bare = load_pack(replace(base, stage=stages))
    within, other = teardown_sheet(book_of(session, bare)).measures
    assert (within.verdict, within.source) == (
        *("within", "unsourced: see the unit maker's manual"),
    )
    assert (other.verdict, other.limit, other.source) == ("no limit", None, None)


def test_damage_and_a_lost_outline_are_told_of_at_the_top(demo: Session) -> None:
    broken = replace(demo, damage=(Damage(line=7, what="is not JSON", text="{x"),))
    head = teardown_sheet(book_of(broken, pack())).head
    assert any("1 line of the session file" in text for text in head.warnings)
    lost = replace(demo, header=Header(outline="gone.toml"))
    head = reassembly_sheet(book_of(lost, load_pack())).head
    assert "gone.toml was not found: cautions" in head.warnings[0]
    assert any("manual" in text and "local codes" in text for text in head.defers)


def test_a_corrected_entry_says_what_was_recorded(tmp_path: Path) -> None:
    made = job(tmp_path, "start the end cover", "nine bolts off the end cover")
    ten = replace(made.entries[1].findings[0], count=10)
    with Corrections.open(tmp_path, "me", real_clock()) as desk:
        desk.amend(correcting.edit(made, 2, [ten]))
    (step,) = teardown_sheet(book_of(read_session(tmp_path), pack())).steps
    line = step.lines[-1]
    assert line.texts == ("10 bolts, end cover, removed (corrected by hand)",)
    assert line.recorded == ("nine bolts off the end cover",)
    assert line.clip == "clips/0002.flac"
    assert not any(count.open for count in step.counts)


def test_invented_data_is_marked_on_every_sheet(tmp_path: Path, demo: Session) -> None:
    book = book_of(demo, pack())
    for make in (teardown_sheet, parts_sheet, reassembly_sheet, hardware_sheet):
        assert make(book).head.invented
    plain = job(tmp_path, "drain plug out")
    assert not teardown_sheet(book_of(plain, load_pack())).head.invented


# -- parts


def test_parts_are_what_the_script_wants(demo: Session) -> None:
    sheet = parts_sheet(book_of(demo, pack()))
    wanted = {"replace": sheet.order, "order": sheet.order, "machine": sheet.send_out}
    for remark in script():
        for finding in remark.get("finding", []):
            if finding.get("disposition") in wanted:
                assert any(row.part == finding["part"] for row in wanted[finding["disposition"]]), (
                    finding
                )
    assert not {row.part for row in sheet.send_out} & {row.part for row in sheet.order}


def test_a_row_says_how_many_why_who_and_which_clip(tmp_path: Path) -> None:
    (row, *_) = parts(job(tmp_path, "two piston seals torn replace"))
    assert (row.part, row.quantity, row.quantity_by, row.decided_by) == (
        *("piston seal", 2, "said", "bench"),
    )
    assert "torn" in row.why
    assert row.sources[0].clip == "clips/0001.flac"


def test_always_replaced_is_the_outlines_word(tmp_path: Path) -> None:
    row = next(
        row
        for row in parts(job(tmp_path, "start the side cover", "eight bolts off the side cover"))
        if row.part == "side cover gasket"
    )
    assert (row.decided_by, row.quantity, row.quantity_by, row.sources[0].clip) == (
        *("outline", 1, "outline", None),
    )


def test_reuse_of_what_is_always_replaced_is_to_be_decided(tmp_path: Path) -> None:
    session = job(tmp_path, "start the side cover", "reuse the side cover gasket")
    row = next(row for row in parts(session) if row.part == "side cover gasket")
    assert row.todo == "decide"
    assert any("reuse" in text for text in row.check)


def test_of_two_builds_only_the_one_that_is_there_is_ordered(tmp_path: Path) -> None:
    stages = tuple(
        replace(
            stage,
            step=tuple(
                replace(
                    step,
                    hardware=tuple(
                        replace(item, always_replace=True) if item.build else item
                        for item in step.hardware
                    ),
                )
                for step in stage.step
            ),
        )
        for stage in outline().stage
    )
    both = load_pack(replace(outline(), stage=stages))
    session = job(tmp_path, "start the output shaft", "two thrust washers off the output shaft")
    found = {row.part for row in parts_sheet(book_of(session, both)).order}
    assert "thrust washer" in found
    assert "thrust bearing" not in found


def test_only_the_same_size_is_joined(tmp_path: Path) -> None:
    same = job(
        tmp_path / "a",
        "two bolts three eighths sixteen off the front cover replace",
        "one bolt three eighths sixteen off the end cover replace",
    )
    (row,) = [row for row in parts(same) if row.part == "bolt"]
    assert (row.quantity, row.size, len(row.sources)) == (3, ("3/8-16",), 2)
    unknown = job(
        tmp_path / "b",
        "one sealing washer off the sump replace",
        "four sealing washers off the oil cooler replace",
    )
    washers = [row for row in parts(unknown) if row.part == "sealing washer"]
    assert [row.quantity for row in washers] == [1, 4]


# -- hardware


def test_hardware_is_expected_off_found_and_back(tmp_path: Path) -> None:
    session = job(
        tmp_path,
        *("start the end cover", "nine bolts off the end cover in bag two"),
        *("start the covers on", "eight bolts installed in the end cover"),
    )
    sheet = hardware_sheet(book_of(session, pack()))
    row = rows(sheet)["bolt", "end cover"]
    assert (row.expected, row.off, row.back, row.containers) == (10, 9, 8, ("bag 2",))
    assert "10 by the outline, 9 came off" in row.odd
    assert "10 to go in, 8 went back in" in row.odd
    assert sheet.odd == tuple(f"End cover off: bolt, end cover: {text}" for text in row.odd)


# -- reassembly


def test_reassembly_undoes_what_was_done_backwards(demo: Session) -> None:
    sheet = reassembly_sheet(book_of(demo, pack()))
    steps = outline().by_id
    titles = {step.title: step for step in steps.values()}
    for step in sheet.steps:
        known = titles[step.title]
        assert set(step.undoes) <= {steps[one].title for one in known.puts_back}
    (packs,) = [step for step in sheet.steps if step.title == "Clutch packs together"]
    # forward was taken apart before reverse in the script
    assert packs.undoes == ("Reverse clutch pack apart", "Forward clutch pack apart")
    assert found(sheet, "12 return springs").container == "box 3"
    assert (found(sheet, "1 input shaft seal").orientation or "").startswith("lip")


def test_cautions_stand_before_and_readings_have_a_blank_and_a_source(demo: Session) -> None:
    sheet = reassembly_sheet(book_of(demo, pack()))
    pistons = next(step for step in sheet.steps if step.title.startswith("Pistons"))
    assert "Springs under high load" in " ".join(pistons.cautions)
    readings = [one for step in sheet.steps for one in step.readings if one.unit]
    assert readings
    assert all(one.limit and one.source for one in readings)


def test_what_nobody_spoke_of_is_asked_for(demo: Session) -> None:
    sheet = reassembly_sheet(book_of(demo, pack()))
    piston = found(sheet, "1 clutch piston")
    assert piston.look == ("nothing was said of it when it was taken apart: was it there?",)


def test_lengths_have_their_holes_and_containers_how_many(tmp_path: Path) -> None:
    session = job(
        tmp_path,
        *("start the end cover", "six bolts off the end cover one and a quarter long top"),
        "four bolts off the end cover two inch long bottom in bag five",
    )
    bolts = found(reassembly_sheet(book_of(session, pack())), "10 bolts")
    assert bolts.lengths == ("6 of 1 1/4 in: top", "4 of 2 in: bottom")  # as the outline has them
    assert bolts.container == "bag 5 (4 of them)"


def test_new_parts_marks_and_undecided_ones_are_told(tmp_path: Path) -> None:
    session = job(
        tmp_path,
        *("start the pump strip", "inner rotor removed scored", "outer rotor removed punch mark"),
        "pump shaft seal hard replace",
    )
    sheet = reassembly_sheet(book_of(session, pack()))
    assert found(sheet, "outer rotor").mark == "punch mark"
    assert found(sheet, "outer rotor").clips == ("clips/0003.flac",)
    assert found(sheet, "pump shaft seal").renewed == "a NEW one (the old: hard)"
    assert "found scored, and nothing was decided" in found(sheet, "inner rotor").look
    assert any("inner rotor" in text and "scored" in text for text in sheet.before)


@pytest.mark.parametrize("said", ["pressure plate friction plate steel plate",
                                  "steel plate friction plate pressure plate"])  # fmt: skip
def test_a_stack_goes_in_piston_side_first_whichever_end_was_said_first(
    tmp_path: Path, said: str
) -> None:
    session = job(
        tmp_path,
        *("start the forward clutch", "eight steel plates off", f"stack order is {said}"),
    )
    stack = next(fit for fit in fits(reassembly_sheet(book_of(session, pack()))) if fit.stack)
    # the outline: the pressure plate comes off first, a steel lies on the piston
    assert stack.stack == ("steel plate", "friction plate", "pressure plate")


def test_without_an_outline_the_steps_are_undone_in_reverse(tmp_path: Path) -> None:
    session = job(
        tmp_path, "eight bolts off the front cover in bag one", "four studs off the end cover"
    )
    loose = replace(
        session,
        entries=tuple(
            replace(entry, step=name)
            for entry, name in zip(session.entries, ("front", "end"), strict=True)
        ),
    )
    sheet = reassembly_sheet(book_of(loose, load_pack()))
    assert [step.title for step in sheet.steps] == ["end: back together", "front: back together"]
    assert sheet.steps[1].fits[0].container == "bag 1"


def test_a_part_gone_in_the_other_way_round_or_short_is_to_be_looked_at(tmp_path: Path) -> None:
    session = job(
        tmp_path, "strip the pump", "pump seal out lip out", "five cap screws off the pump cover",
        "start putting it together", "pump seal in lip in", "four cap screws in the pump cover",
    )  # fmt: skip
    sheet = reassembly_sheet(book_of(session, pack()))
    looks = {
        fit.what.split(",")[0]: (fit.back, fit.look) for step in sheet.steps for fit in step.fits
    }
    assert looks["1 pump shaft seal"][0] == "1 said to be in, lip in"
    assert "came out lip out, gone in lip in" in looks["1 pump shaft seal"][1]
    assert "4 gone in, 5 to go in" in looks["5 cap screws"][1]


def test_one_bad_bearing_does_not_make_all_of_them_new(tmp_path: Path) -> None:
    session = job(tmp_path, "six bearings off", "one bearing rough, replace")
    sheet = reassembly_sheet(book_of(session, pack()))
    (fit,) = [fit for step in sheet.steps for fit in step.fits if "bearing" in fit.what]
    assert fit.renewed == "NEW for those replaced (1 found rough)"


def test_what_is_always_replaced_and_thrown_away_is_ordered(tmp_path: Path) -> None:
    session = job(tmp_path, "start the pump strip", "pump shaft seal torn, bin it")
    sheet = parts_sheet(book_of(session, pack()))
    assert "pump shaft seal" in [row.part for row in sheet.order]
    assert sheet.discarded == ()


def test_a_part_spoken_of_and_not_said_to_be_off_is_asked_about_so(tmp_path: Path) -> None:
    session = job(tmp_path, "start the forward piston", "clutch piston out", "piston seals torn")
    fit = found(reassembly_sheet(book_of(session, pack())), "piston seals")
    assert "not said to be off when it was taken apart: was it there?" in fit.look


def test_what_was_said_to_a_check_is_on_the_reassembly_sheet(tmp_path: Path) -> None:
    session = job(tmp_path, "start the clutches in", "forward clutch holds air")
    sheet = reassembly_sheet(book_of(session, pack()))
    said = [one.said for step in sheet.steps for one in step.readings if not one.unit]
    assert any(one is not None and "holds" in one for one in said)


def test_oil_that_is_filled_in_is_no_part_to_look_for(tmp_path: Path) -> None:
    session = job(
        tmp_path, "start the drain", "drain plug off", "oil dirty", "start putting it together",
        "fill the oil", "drain plug in", "filled with oil",
    )  # fmt: skip
    book = book_of(session, pack())
    assert "oil" in {line.part for line in book.ledger.lines}
    assert "oil" not in {part for part, _ in rows(hardware_sheet(book))}
    assert not [fit for fit in fits(reassembly_sheet(book)) if fit.what == "oil"]


def test_a_hole_left_empty_is_told_with_the_number_that_goes_in(tmp_path: Path) -> None:
    session = job(
        tmp_path, "start the side cover", "seven bolts off the side cover",
        "start putting it together", "covers on", "seven bolts in the side cover",
    )  # fmt: skip
    row = rows(hardware_sheet(book_of(session, pack())))["bolt", "side cover"]
    assert row.odd == ("8 by the outline, 7 came off", "8 to go in, 7 went back in")
