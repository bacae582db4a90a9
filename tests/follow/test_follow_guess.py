"""Steps guessed and named.  What belongs where is common practice, no source."""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

import pytest
from follow_help import pack_of, parser_of, tell
from hypothesis import given
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "benchmarks"))

from step_accuracy import score
from step_sessions import OUTLINES, Bench, Rates

from benchvoice.follow import find_step, guess_step
from benchvoice.follow.align import Item, aligner_of
from benchvoice.follow.guess import UNSURE
from benchvoice.follow.naming import step_names
from benchvoice.grammar import Outline, load_outline
from benchvoice.remark import Remark

WANTED = 0.92
"""Share of the remarks of generated jobs that have to be right, looking back."""

WORM = [
    # written before any tuning on this outline; each remark stands alone
    ("two drain plugs out", None, "drain"),
    ("breather is blocked", None, "drain"),
    ("four bolts off the motor adapter", "drain", "motor_adapter"),
    ("coupling insert cracked replace", "motor_adapter", "motor_adapter"),
    ("six bolts off the first stage", "motor_adapter", "first_stage_off"),
    ("eight cap screws off the first stage cover", "first_stage_off", "first_cover"),
    ("snap ring off the worm shaft", "first_cover", "first_worm"),
    ("four shims off the side cover", "first_wheel", "second_covers"),
    ("two dowel pins off the side cover", "second_covers", "second_covers"),
    ("tab washer off the worm shaft", "second_wheel", "second_worm"),
    ("four bolts off the end cover", "second_wheel", "second_worm"),
    ("wear depth is point three millimetres", "wash", "check_wheels"),
    ("runout is point zero two millimetres", "check_wheels", "check_worms"),
    ("bearings are pitted replace", "check_worms", "check_bearings"),
    ("no cracks in the case", "check_bearings", "check_cases"),
    ("backlash is point two millimetres", "second_worm_in", "second_wheel_in"),
    ("turning torque is two newton meters", "adapter_on", "fill"),
]


def test_steps_of_the_other_outline(capsys: pytest.CaptureFixture[str]) -> None:
    outline = load_outline("worm_reducer")
    wrong = []
    for say, current, truth in WORM:
        remark = parser_of("worm_reducer").parse(say)
        guess = guess_step(remark, outline, current)
        if guess is None or guess.id != truth:
            wrong.append(f"  {say}: {guess}, should be {truth}")
    with capsys.disabled():
        print(
            f"\nworm reducer: {len(WORM) - len(wrong)} of {len(WORM)} steps right", *wrong, sep="\n"
        )
    assert len(wrong) <= 0.15 * len(WORM)


def gearbox() -> Outline:
    outline = pack_of().outline
    assert outline is not None
    return outline


def test_nothing_alike() -> None:
    assert guess_step(Remark(heard="good morning", kind="remark"), gearbox(), None) is None
    stays = guess_step(Remark(heard="good morning", kind="remark"), gearbox(), "pump")
    assert stays is not None
    assert stays.id == "pump"
    assert stays.score < 50


def test_a_place_tells_covers_apart() -> None:
    # "bolts" alone could be any cover; the place decides against the step under way
    for place in ("side cover", "end cover", "front cover"):
        remark = parser_of().parse(f"bolts off the {place}")
        for current in (None, "side_cover", "end_cover", "front_cover"):
            guess = guess_step(remark, gearbox(), current)
            assert guess is not None
            assert guess.id == place.replace(" ", "_")


def test_same_parts_go_to_the_step_under_way() -> None:
    remark = parser_of().parse("snap ring out")
    for current in ("forward_clutch", "reverse_clutch", "forward_piston", "reverse_piston"):
        guess = guess_step(remark, gearbox(), current)
        assert guess is not None
        assert guess.id == current


@pytest.mark.parametrize("name", ["reversing_gearbox", "worm_reducer"])
def test_every_name_of_a_step_finds_it(name: str) -> None:
    outline = load_outline(name)
    for step in outline.steps():
        for said in step_names(step):
            found = find_step(said, outline)
            assert step.id in [guess.id for guess in found], said
            assert found[0].score == 100.0


def placed_at(*said: str) -> list[tuple[str | None, ...]]:
    """Say one thing after another; give the steps of the findings of each."""
    _, events = tell(*said)
    return [
        tuple(finding.own_step or event.step for finding in event.remark.findings)
        for event in events
    ]


def test_a_number_of_damaged_parts_is_no_sign_of_a_step_that_has_so_many() -> None:
    # the pump has six bolts, the cover under way ten; six of those can be stripped
    said = ("six bolts off the pump", "ten bolts off the end cover")
    assert placed_at(*said, "six of the bolts are stripped")[2] == ("end_cover",)


def test_a_part_checked_after_stripping_is_at_its_inspection() -> None:
    said = ("two plugs out of the control valve", "spool is out", "gears and shafts washed")
    assert placed_at(*said, "spool checked")[3] == ("check_valve",)


def test_findings_of_two_steps_in_one_remark_go_each_to_its_own() -> None:
    said = "four bolts off the strainer and the drain plug is out"
    assert placed_at("sealing washer off the sump", said)[1] == ("strainer", "drain")


UNCLEAR = ("six cap screws off the coupling", "sealing washers are in jar two")


def test_between_two_steps_it_is_asked() -> None:
    # there are piston seals in both clutches, and neither was begun
    _, events = tell("reverse shaft out", "piston seal is torn")
    step = events[1].remark.step
    assert step is not None
    assert {step.id, *step.others} == {"forward_piston", "reverse_piston"}
    assert step.margin is not None
    assert step.margin < UNSURE
    titles = [gearbox().by_id[one].title for one in (step.id, *step.others)]
    assert events[1].answer == f"Which step: {titles[0]} or {titles[1]}?"
    assert events[0].answer is None


@pytest.mark.parametrize(
    ("after", "step"),
    [
        ("drain plug out of the sump", "drain"),
        ("two banjo bolts off the oil cooler", "cooler_lines"),
    ],
)
def test_later_remarks_mend_earlier_guesses(after: str, step: str) -> None:
    places = aligner_of(gearbox()).place_all([item(text) for text in (*UNCLEAR, after)])
    assert [place.step for place in places] == ["coupling", step, step]
    assert places[1].chance > 0.7


def item(text: str) -> Item:
    remark = parser_of().parse(text)
    return Item(remark.findings, remark.heard)


def test_a_step_that_is_known_is_a_fixed_point() -> None:
    known = Item(item("pressure plate is warped").findings, "", step="reverse_clutch")
    after = item("eight friction plates out of the forward clutch")
    places = aligner_of(gearbox()).place_all([known, after])
    assert [place.step for place in places] == ["reverse_clutch", "forward_clutch"]
    assert places[0].chance > 0.99


@pytest.mark.parametrize("name", list(OUTLINES))
def test_generated_jobs_are_followed_better_than_remark_by_remark(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    # seeds that the weights were not learned on; two of the outlines neither
    bench = Bench(name, 7)
    total: Counter[str] = Counter()
    for _ in range(2):
        total += score(bench, bench.session(Rates()))
    with capsys.disabled():
        print(f"\n{name}: {dict(total)}")
    assert total["offline"] >= total["by remark"] > total["fuzzy"]
    assert total["offline"] >= WANTED * total["all"]


def test_in_and_out_are_different_steps() -> None:
    assert [g.id for g in find_step("seals out", gearbox())] == ["seals_out"]
    assert [g.id for g in find_step("the seals in", gearbox())] == ["seals_in"]
    assert [g.id for g in find_step("bearings on", gearbox())] == ["bearings_on"]


def test_what_is_like_several_steps_is_not_guessed() -> None:
    for words in ("clutch pack", "piston", "clutch"):
        assert len(find_step(words, gearbox())) != 1, words
    assert find_step("lunch", gearbox()) == ()


@given(st.text(max_size=60), st.sampled_from([None, "pump", "drain", "no such step"]))
def test_guessing_is_total(text: str, current: str | None) -> None:
    guess = guess_step(parser_of().parse(text), gearbox(), current)
    assert guess is None or 0 <= guess.score <= 100
    assert find_step(text, gearbox()) is not None
