"""What is still to do, only tried, asked for or not so.  Common practice, no source."""

from __future__ import annotations

import pytest
from language_help import facts, parse


@pytest.mark.parametrize(
    ("say", "left"),
    [
        ("two bolts to come out", "two to come out"),
        ("bolts to be removed", "to be removed"),
        ("seal to be fitted", "to be fitted"),
        ("bearing to be pressed in", "to be pressed in"),
        ("i have to pull the bearing", "to pull"),
        ("about to pull the bearing", "to pull"),
        ("four plates to check", "four to check"),
    ],
)
def test_what_is_still_to_do_is_not_done(say: str, left: str) -> None:
    remark = parse(say)
    assert [one.action for one in remark.findings] == [None]
    assert " ".join(remark.unparsed) == left


@pytest.mark.parametrize(
    "say",
    [
        "front cover almost off",
        "almost got the pump cover off",
        "need to take the front cover off",
        "forgot to remove the snap ring",
        "bearing refused to come out",
        "no need to replace the seal",
        "not going to replace the bearing",
        "the seal does not have to be replaced",
        "if the bearing is worn replace it",
        "replace the seal if torn",
        "not all the bolts are off",
        "bolts not all off",
        "not every bolt is tight",
        "end play should be five thou",
        "wear limit is ninety thou",
        "end play is not twelve thou",
        "need two more bolts",
        "not one plate burnt",
        "not a single plate burnt",
        "bearing not very worn",
        "seal has been replaced",
        "gear used to be worn",
        "can't pull the shaft until the snap ring is out",
        "is the bearing worn",
        "are the bolts off",
        "need a puller to remove the gear",
    ],
)
def test_nothing_is_made_of_what_is_not_so(say: str) -> None:
    remark = parse(say)
    assert remark.unparsed
    assert all(fact.keys() <= {"part"} for fact in facts(remark))


@pytest.mark.parametrize(
    "say",
    [
        "never got the seal out",
        "did not get the inner seal out",
        "could not get the seal out, hub of the shaft is grooved",
        "have not taken the pump off",
    ],
)
def test_what_was_not_done_is_not_recorded(say: str) -> None:
    remark = parse(say)
    assert remark.unparsed
    assert all(one.action is None for one in remark.findings)


@pytest.mark.parametrize("say", ["is not metal on it", "it shaft", "is a bearing"])
def test_what_nobody_says_so_is_not_understood(say: str) -> None:
    assert parse(say).kind == "unclear"


@pytest.mark.parametrize(
    ("say", "found"),
    [
        ("had to press the bearing out", [{"part": "bearing", "action": "pressed out"}]),
        (
            "used a puller to remove the gear",
            [{"part": "gear", "action": "removed", "tool": "puller"}],
        ),
        ("none of the plates are burnt", [{"part": "plate", "condition": "not burnt"}]),
        ("some of the bolts are off", [{"part": "bolt", "action": "removed"}]),
        ("bearing needs replacing", [{"part": "bearing", "disposition": "replace"}]),
        ("has the strainer removed", [{"part": "strainer", "action": "removed"}]),
        ("do not reuse the seal", [{"part": "seal", "disposition": "replace"}]),
        (
            "should be twelve bolts on the front cover only got eleven",
            [{"part": "bolt", "count": 11, "place": "front cover"}],
        ),
    ],
)
def test_what_is_so_is_found(say: str, found: list[dict[str, object]]) -> None:
    assert facts(parse(say)) == found


@pytest.mark.parametrize(
    ("say", "found"),
    [
        (
            "front bearing rough rear bearing not",
            [
                {"part": "front bearing", "condition": "rough"},
                {"part": "rear bearing", "condition": "not rough"},
            ],
        ),
        (
            "first plate burnt the others not",
            [
                {"part": "plate", "ordinal": 1, "condition": "burnt"},
                {"part": "plate", "condition": "not burnt"},
            ],
        ),
        ("seal out but the pump not", [{"part": "seal", "action": "removed"}, {"part": "pump"}]),
        ("not just worn cracked", [{"condition": "worn", "conditions": ["worn", "cracked"]}]),
        (
            "front cover is missing two bolts",
            [{"part": "bolt", "count": 2, "place": "front cover", "condition": "missing"}],
        ),
        (
            "two bolts missing",
            [{"part": "bolt", "count": 2, "condition": "missing"}],
        ),
    ],
)
def test_a_short_word_is_of_the_right_one(say: str, found: list[dict[str, object]]) -> None:
    assert facts(parse(say)) == found


@pytest.mark.parametrize(
    ("say", "found"),
    [
        ("dowels to come out, bolts off", [{}, {"action": "removed"}]),
        ("bolts to come out, cover cracked", [{}, {"condition": "cracked"}]),
        ("dowels to come out, bolts in tray two", [{}, {"container": "tray 2"}]),
        ("no need to replace the seal, bearing rough", [{}, {"condition": "rough"}]),
        ("seal has been replaced, bearing worn", [{}, {"condition": "worn"}]),
        ("bolts almost off, cover cracked", [{}, {"condition": "cracked"}]),
        ("cover off and dowels to come out", [{"action": "removed"}, {}]),
    ],
)
def test_what_is_not_so_shares_nothing_with_the_next(
    say: str, found: list[dict[str, object]]
) -> None:
    told = [
        {name: value for name, value in one.items() if name != "part"} for one in facts(parse(say))
    ]
    assert told == found


@pytest.mark.parametrize("word", ["over", "under", "above"])
def test_a_bound_is_left_over(word: str) -> None:
    remark = parse(f"end play {word} five thou")
    assert facts(remark)[0]["measure"]["value"] == 5
    assert remark.unparsed == (word,)


@pytest.mark.parametrize(
    ("say", "readings"),
    [
        ("bolts torqued to forty", ("40 ft-lb", "40 Nm")),
        ("torqued the bolts to thirty five", ("35 ft-lb", "35 Nm")),
        ("two bolts short", ("2 short ones", "2 too few")),
    ],
)
def test_what_may_be_two_things_is_neither(say: str, readings: tuple[str, str]) -> None:
    remark = parse(say)
    assert [one.count for one in remark.findings] == [None]
    assert [one.readings for one in remark.ambiguous] == [readings]


def test_short_beside_long_is_a_size() -> None:
    found = facts(parse("four bolts short two bolts long"))
    assert [(one["count"], one["size"]["relative"]) for one in found] == [(4, "short"), (2, "long")]
