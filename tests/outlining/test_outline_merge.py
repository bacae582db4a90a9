"""What several sessions did differently, and one outline out of them."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path
from statistics import median

import pytest
from hypothesis import given
from hypothesis import strategies as st
from outlining_help import job

from benchvoice.grammar import load_outline
from benchvoice.outlining import (
    compare,
    comparison_text,
    draft,
    facts_of,
    look_through,
    merge,
    toml_of,
)
from benchvoice.outlining.compare import majority_order
from benchvoice.outlining.regroup import regrouped
from benchvoice.session import Session, find_sessions, read_session

HISTORY = Path(__file__).parents[2] / "demo_sessions" / "history"

ONE = ("start the front cover", "eight bolts off", "start the sump", "six bolts off")
OTHER = ("start the sump", "six bolts off", "two studs off",
         "start the front cover", "nine bolts off")  # fmt: skip


@pytest.fixture
def three(tmp_path: Path) -> list[Session]:
    said = {"a": (ONE, 60.0), "b": (ONE, 120.0), "c": (OTHER, 60.0)}
    return [job(tmp_path / name, *words, gap=gap) for name, (words, gap) in said.items()]


def test_differences_are_told(three: list[Session]) -> None:
    found = compare([facts_of(session, None) for session in three])
    (moved,) = found.displaced
    assert set(moved.after) == {"c"} and moved.of == 3
    (number,) = found.differing
    assert number.key == ("front_cover", "bolt", None)
    assert number.numbers == {8: 2, 9: 1}
    assert ("sump", "stud", None) in {one.key for one in found.extra}
    cover = next(one for one in found.times if one.step == "front_cover")
    minutes = [facts_of(session, None).minutes["front_cover"] for session in three]
    assert (cover.low, cover.middle, cover.high) == (
        min(minutes), pytest.approx(median(minutes)), max(minutes)
    )  # fmt: skip
    text = comparison_text(found)
    assert "3 sessions compared" in text
    assert "8 in 2, 9 in 1" in text


def test_the_merged_outline_has_the_usual_order_and_counts(
    three: list[Session], tmp_path: Path
) -> None:
    path = tmp_path / "merged.toml"
    path.write_text(toml_of(merge(three, None, "merged")), encoding="utf-8")
    assert look_through(path).problems == ()
    outline = load_outline(path)
    assert [step.id for step in outline.steps()] == ["front_cover", "sump"]
    (bolt,) = outline.by_id["front_cover"].hardware
    assert bolt.count == 8
    # seen in one of three: a comment, and no hardware
    assert [item.part for item in outline.by_id["sump"].hardware] == ["bolt"]
    assert "# in 1 of 3 sessions: stud (2)" in path.read_text("utf-8")


def test_one_session_merged_is_its_draft(three: list[Session]) -> None:
    alone, drafted = merge(three[:1], None, "p").outline, draft(three[0], None, "p").outline
    assert alone == drafted


def test_the_demo_history_merges_into_its_own_outline() -> None:
    sessions = [read_session(folder) for folder in find_sessions([HISTORY])]
    base = load_outline("reversing_gearbox")
    merged = merge(sessions, base, "merged").outline
    place = {step.id: number for number, step in enumerate(merged.steps())}
    assert place.keys() == base.by_id.keys()
    for stage in merged.stage:
        for step in stage.step:
            for before in step.after:
                assert place[before] < place[step.id]
            assert step.limit == base.by_id[step.id].limit
    bolts = {item.place: item.count for item in merged.by_id["front_cover"].hardware}
    assert bolts["front cover"] in (3, 12)  # three shims, twelve bolts: the outline's own numbers


def test_order_is_that_of_the_majority() -> None:
    # Reference: with a majority for each pair and no circle, the order is the one that the pairs
    # make (Condorcet 1785); here worked out by trying all orders.
    orders = ["abcd", "abdc", "bacd"]
    wins = {
        pair: sum(order.index(pair[0]) < order.index(pair[1]) for order in orders)
        for pair in permutations("abcd", 2)
    }
    right = [
        order
        for order in permutations("abcd")
        if all(wins[one, two] > 1 for at, one in enumerate(order) for two in order[at + 1 :])
    ]
    assert [majority_order(orders, {})] == right


@given(st.lists(st.permutations("abcde"), min_size=1, max_size=5), st.booleans())
def test_what_comes_first_comes_first(orders: list[list[str]], circle: bool) -> None:
    after = {"a": ["e"], "b": ["a"], "e": ["b"] if circle else []}
    found = majority_order(orders, after)
    assert sorted(found) == list("abcde")
    if not circle:
        assert found.index("e") < found.index("a") < found.index("b")


def test_a_session_before_the_outline_and_one_on_it_have_the_same_steps(tmp_path: Path) -> None:
    first = job(tmp_path / "a", "start the front cover", "eight bolts off", "start the sump")
    path = tmp_path / "cover.toml"
    path.write_text(toml_of(draft(first, None, "cover")), encoding="utf-8")
    outline = load_outline(path)
    again = job(tmp_path / "b", "start the front cover", "nine bolts off", outline=str(path))
    found = compare([facts_of(one, outline) for one in (first, again)])
    (number,) = found.differing
    assert (number.key, number.numbers) == (("front_cover", "bolt", None), {8: 1, 9: 1})
    assert found.extra == ()


def test_what_the_outline_lists_without_a_number_is_no_extra(tmp_path: Path) -> None:
    first = job(tmp_path / "a", "start the front cover", "bolts off", "start the sump")
    path = tmp_path / "cover.toml"
    path.write_text(toml_of(draft(first, None, "cover")), encoding="utf-8")
    outline = load_outline(path)
    assert outline.by_id["front_cover"].hardware[0].expected is None
    again = job(tmp_path / "b", "start the front cover", "nine bolts off", outline=str(path))
    found = compare([facts_of(one, outline) for one in (first, again)])
    assert (found.extra, found.differing) == ((), ())
    (bolt,) = merge((first, again), outline, "cover").outline.by_id["front_cover"].hardware
    assert (bolt.part, bolt.expected) == ("bolt", 9)


def test_what_went_back_on_before_there_was_an_outline_is_of_the_step_that_puts_it_back(
    tmp_path: Path,
) -> None:
    said = ("start the drain", "drain plug out", "start the pump cover", "five cap screws off",
            "start putting it together", "five cap screws in")  # fmt: skip
    session = job(tmp_path / "first", *said)
    toml = tmp_path / "drafted.toml"
    toml.write_text(toml_of(draft(session, None, "drafted")), "utf-8")
    placed, _ = regrouped(session, load_outline(str(toml)))
    assert placed.entries[-1].step == "pump_cover_on"
    assert placed.entries[3].step == "pump_cover"


BEFORE = (
    "start the drain", "drain plug out and sealing washer, replace the washer",
    "start the rear cover", "ten bolts off the rear cover",
    "six short ones at the top, four long ones at the bottom",
    "start putting it together", "ten bolts in the rear cover", "start the drain", "two plugs in",
)  # fmt: skip


def test_what_goes_back_is_no_extra_and_comments_are_kept(tmp_path: Path) -> None:
    """What two jobs said of a part is told of both together; what went in came off before."""
    first = job(tmp_path / "a", *BEFORE)
    path = tmp_path / "p.toml"
    path.write_text(toml_of(draft(first, None, "p")), encoding="utf-8")
    outline = load_outline(path)
    second = job(tmp_path / "b", *BEFORE[:4], "start rear cover on", "nine bolts in",
                 outline=str(path))  # fmt: skip
    found = compare([facts_of(one, outline) for one in (first, second)])
    assert (found.extra, found.differing) == ((), ())
    text = toml_of(merge([first, second], outline, "q"))
    assert "# replaced in 2 of 2 sessions; if it always is: always_replace = true" in text
    assert '# lengths said; measure them: lengths = [{ count = 6, length = "? (short)"' in text
