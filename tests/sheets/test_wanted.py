"""What a job wants: nothing that was said to be replaced or worked on is left out or listed twice.

The right lists were written by hand from what was said; trade ways of talking, common practice.
"""

from __future__ import annotations

from pathlib import Path

import pytest
import sheet_help
from sheet_help import job, pack

from benchvoice.grammar import Hardware, Outline, Stage, Step, load_pack
from benchvoice.language import Parser
from benchvoice.sheets.book import book_of
from benchvoice.sheets.parts_sheet import parts_sheet
from benchvoice.sheets.wanted import NOT_NAMED, Wanted, wanted


def of(folder: Path, *said: str) -> list[Wanted]:
    return [
        one for one in wanted(job(folder, *said), pack().outline) if one.disposition != "always"
    ]


@pytest.mark.parametrize("word", ["weld it", "it needs welding"])
def test_it_is_what_was_named_before(tmp_path: Path, word: str) -> None:
    (case,) = of(tmp_path, "check the case", "crack in the case by the mounting foot", word)
    assert (case.disposition, case.conditions) == ("machine", ("cracked",))
    assert (case.part, case.place) == ("case", "by mounting foot")


def test_them_are_as_many_as_were_named(tmp_path: Path) -> None:
    (gears,) = of(tmp_path, "check the gears", "two gears chipped", "replace them")
    assert (gears.part, gears.count, gears.conditions) == ("gear", 2, ("chipped",))


def test_what_is_of_a_place_alone_is_wanted(tmp_path: Path) -> None:
    (case,) = of(tmp_path, "crack in the case, weld it")
    assert (case.part, case.disposition) == ("case", "machine")


def test_what_was_never_named_is_still_told(tmp_path: Path) -> None:
    (unknown,) = of(tmp_path, "needs a new one")
    assert (unknown.part, unknown.disposition) == (NOT_NAMED, "replace")


def test_a_part_wanted_where_it_came_off_and_where_it_was_checked_is_one(tmp_path: Path) -> None:
    (rotor,) = of(
        tmp_path, "strip the pump", "inner rotor scored, replace", "check the pump",
        "inner rotor replace",
    )  # fmt: skip
    assert (rotor.part, rotor.expected) == ("inner rotor", 1)


def test_what_is_found_of_it_later_is_why_and_orders_none_more(tmp_path: Path) -> None:
    (seals,) = (
        one
        for one in wanted(
            job(
                tmp_path,
                "start the forward piston", "two piston seals out, replace",
                "check the plates", "forward piston seals were cracked", "replace them",
            ),
            pack().outline,
        )
        if "seal" in one.part
    )  # fmt: skip
    assert (seals.conditions, seals.step) == (("cracked",), "forward_piston")
    assert (seals.count, seals.counted, seals.expected) == (None, 2, 2)


def test_what_was_found_of_what_is_always_replaced_is_told(tmp_path: Path) -> None:
    session = job(
        tmp_path, "start the pump strip", "pump shaft seal out, lip in", "check the pump",
        "pump shaft seal was cracked", "pump shaft seal is clean",
    )  # fmt: skip
    (seal,) = (one for one in wanted(session, pack().outline) if one.part == "pump shaft seal")
    assert (seal.disposition, seal.conditions, seal.expected) == ("always", ("cracked",), 1)


@pytest.mark.parametrize(
    ("said", "why"),
    [
        (("flange grooved", "output flange needs machining"), ("grooved",)),
        (("flange grooved", "output flange rusty, needs machining"), ("grooved", "rusty")),
        (("flange grooved", "input flange ok", "output flange needs machining"), ()),
    ],
)
def test_a_short_name_is_of_the_one_part_that_it_may_be(
    tmp_path: Path, said: tuple[str, ...], why: tuple[str, ...]
) -> None:
    (flange,) = of(tmp_path, "start the output flange", *said)
    assert (flange.part, flange.disposition) == ("output flange", "machine")
    assert flange.conditions == why


def test_without_an_outline_it_is_what_came_off_under_that_name(tmp_path: Path) -> None:
    session = job(
        tmp_path, "start the front", "two lip seals out, replace", "start the inspection",
        "lip seals were torn", "lip seals replace", "bolt bent, replace",
    )  # fmt: skip
    rows = [(one.part, one.counted, one.conditions) for one in wanted(session, None)]
    assert rows == [("lip seal", 2, ("torn",)), ("bolt", None, ("bent",))]


def test_some_that_are_bad_are_not_how_many_all_are(tmp_path: Path) -> None:
    (plates,) = of(tmp_path, "check the plates", "two frictions burnt", "friction plates replace")
    assert (plates.count, plates.counted) == (None, None)


def test_both_shaft_seals_are_not_ordered_beside_the_outlines_two(tmp_path: Path) -> None:
    session = job(tmp_path, "seals out", "both shaft seals replace")
    seals = wanted(session, pack().outline)
    assert [(one.part, one.count, one.disposition) for one in seals] == [
        ("input shaft seal", 1, "replace"), ("output shaft seal", 1, "replace"),
    ]  # fmt: skip


def test_a_part_is_called_what_the_outline_calls_it(tmp_path: Path) -> None:
    """Else the quote has it twice, once as quoted and once as found."""
    (gasket,) = of(tmp_path, "start the front cover", "front gasket torn, replace")
    assert (gasket.part, gasket.always) == ("front cover gasket", True)


def test_one_seal_of_two_leaves_the_outlines_two(tmp_path: Path) -> None:
    """Which of them it is was not said: better asked twice than left out."""
    session = job(tmp_path, "seals out", "one shaft seal torn, replace")
    parts = [(one.part, one.disposition) for one in wanted(session, pack().outline)]
    assert parts == [
        ("shaft seal", "replace"), ("input shaft seal", "always"), ("output shaft seal", "always"),
    ]  # fmt: skip


def test_a_key_rolled_on_one_edge_is_the_key(tmp_path: Path) -> None:
    (key,) = of(tmp_path, "coupling off", "key is rolled on one edge, replace")
    assert (key.part, key.expected, key.conditions) == ("key", 1, ("rolled",))


def test_one_and_the_other_replaced_in_one_breath_are_two(tmp_path: Path) -> None:
    (bearings,) = of(
        tmp_path, "start the inspection",
        "output bearings: one spalled one good, replace both",
    )  # fmt: skip
    assert (bearings.count, bearings.conditions) == (2, ("spalled",))


def test_more_than_there_are_of_one_elsewhere_are_others(tmp_path: Path) -> None:
    (pins,) = of(tmp_path, "start the pump", "ten dowel pins out of the filter housing, replace")
    assert (pins.count, pins.step, pins.home) == (10, "pump", None)


@pytest.mark.parametrize(("listed", "expected"), [({"count": 8}, 8), ({"uncounted": True}, None)])
def test_what_the_outline_lists_is_found_with_a_number_and_without(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, listed: dict[str, int], expected: int | None
) -> None:
    bolts = Hardware(part="bolt", place="pump cover", **listed)
    off = Step(id="cover", title="Pump cover off", hardware=(bolts,))
    look = Step(id="look", title="Check the pump cover bolts")
    stages = (
        Stage(id="strip", title="Strip", kind="strip", step=(off,)),
        Stage(id="inspect", title="Inspect", kind="inspect", step=(look,)),
    )
    outline = Outline(name="p", title="Invented pump", unit="pump", stage=stages)
    own = load_pack(outline)
    monkeypatch.setattr(sheet_help, "pack", lambda: own)
    monkeypatch.setattr(sheet_help, "parser", lambda: Parser(own))
    said = ("start pump cover off", "eight bolts off the pump cover")
    said += ("start check the pump cover bolts", "three pump cover bolts replace")
    (bolt,) = wanted(job(tmp_path / "s", *said), outline)
    assert (bolt.step, bolt.home, bolt.count, bolt.expected) == ("cover", "pump cover", 3, expected)


def test_one_of_two_alike_is_ordered_once_when_it_is_told_which(tmp_path: Path) -> None:
    said = (
        "forward piston", "piston good", "reverse piston", "piston scored", "parts list",
        "clutch piston replace",
    )  # fmt: skip
    (piston,) = of(tmp_path / "which", *said)
    assert (piston.home, piston.maybe) == (None, ("forward_piston", "reverse_piston"))
    (piston,) = of(tmp_path / "told", *said, "reverse piston replace")
    assert (piston.step, piston.expected, piston.maybe) == ("reverse_piston", 1, ())


def test_what_a_check_wants_is_no_reason_to_have_renewed_the_part(tmp_path: Path) -> None:
    """The seal that is dry after the run is the new one (common practice, no source)."""
    said = ("input shaft seal hard", "start the leak check", "input seal dry")
    session = job(tmp_path, *said)
    seals = [one for one in wanted(session, pack().outline) if one.part == "input shaft seal"]
    assert [one.conditions for one in seals] == [("hard",)]


def test_a_new_part_that_is_bad_is_ordered_once_more(tmp_path: Path) -> None:
    """Two seals are used up: the one that was renewed, and the one instead of it."""
    session = job(
        tmp_path, "start seals out", "output seal out", "input seal out", "flange on",
        "output seal in", "input seal in", "start the leak check",
        "output seal weeping, replace it", "input seal dry",
    )  # fmt: skip
    seals = [one for one in wanted(session, pack().outline) if one.part == "output shaft seal"]
    assert [(one.disposition, one.conditions, one.again) for one in seals] == [
        ("replace", ("leaking",), True), ("always", (), False),
    ]  # fmt: skip
    (text,) = (text for row in parts_sheet(book_of(session, pack())).order for text in row.check)
    assert text == "once more: said of the one that was put in"


def test_what_is_said_before_it_is_put_in_is_of_the_one_that_came_off(tmp_path: Path) -> None:
    said = ("start seals out", "output seal out, replace it", "flange on", "output seal in")
    session = job(tmp_path, *said)
    seals = [one for one in wanted(session, pack().outline) if one.part == "output shaft seal"]
    assert [(one.disposition, one.again) for one in seals] == [("replace", False)]


@pytest.mark.parametrize(("said", "count"), [("replace both", 2), ("replace them", 2),
                                             ("replace it", 1)])  # fmt: skip
def test_both_are_all_that_were_found_bad_one_after_another(
    tmp_path: Path, said: str, count: int
) -> None:
    found = ("start the bearings", "six bearings off", "one bearing pitted", "one bearing rough")
    (bearing,) = of(tmp_path, *found, said)
    assert (bearing.part, bearing.count) == ("bearing", count)


def test_more_of_a_part_are_ordered_beside_those_before(tmp_path: Path) -> None:
    """Sums are plain arithmetic; said over again in the same words it is the same (no source)."""
    said = ("start the forward clutch", "eight friction plates and eight steels off",
            "two friction plates burnt replace", "three friction plates glazed replace",
            "one steel plate warped replace", "one more steel plate warped replace")  # fmt: skip
    assert [(one.part, one.count) for one in of(tmp_path / "a", *said)] == [
        ("friction plate", 5), ("steel plate", 2),
    ]  # fmt: skip
    again = of(tmp_path / "b", *said[:3], "two friction plates burnt replace")
    assert [one.count for one in again] == [2]
    last = of(tmp_path / "c", *said[:4], "replace all eight friction plates")
    assert [one.count for one in last] == [8]


def test_what_is_ordered_in_a_greater_number_is_not_ordered_by_the_outline_too(
    tmp_path: Path,
) -> None:
    said = ("start the strainer", "o ring off", "start the parts list", "order two o rings")
    rings = [
        row
        for row in parts_sheet(book_of(job(tmp_path, *said), pack())).rows
        if row.part == "o ring"
    ]
    assert [(row.quantity, row.action) for row in rings] == [(2, "order")]
    assert any("the outline has 1" in text for text in rings[0].check)
