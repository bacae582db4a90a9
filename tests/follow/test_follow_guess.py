"""Steps guessed and named.  What belongs where is common practice, no source."""

from __future__ import annotations

import pytest
from follow_help import pack_of, parser_of
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.follow import find_step, guess_step
from benchvoice.follow.naming import step_names
from benchvoice.grammar import Outline, load_outline
from benchvoice.remark import Remark

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
    ids = [step.id for step in outline.steps()]
    wrong = []
    for say, current, truth in WORM:
        remark = parser_of("worm_reducer").parse(say)
        begun = ids[: ids.index(current) + 1] if current else []
        guess = guess_step(remark, outline, current, started=begun)
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
