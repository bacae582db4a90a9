"""Lists as they are said when a unit goes together: each thing is one, and keeps what is its own.

Remarks made up in the way of the trade; what they mean is common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest
from language_help import facts, parse

from benchvoice.remark import Amount

CASES: list[tuple[str, list[dict[str, Any]]]] = [
    (
        "nine bolts, dowels, gasket",
        [{"part": "bolt", "count": 9}, {"part": "dowel pin"}, {"part": "gasket"}],
    ),
    ("four bolts, o ring", [{"part": "bolt", "count": 4}, {"part": "o ring"}]),
    ("lock nut, o ring", [{"part": "lock nut"}, {"part": "o ring"}]),
    ("4 bolts, side cover", [{"part": "bolt", "count": 4, "place": "side cover"}]),
    (
        "spool in, both springs, ball, two plugs",
        [
            {"part": "spool"},
            {"part": "spring", "count": 2},
            {"part": "ball"},
            {"part": "plug", "count": 2},
        ],
    ),
    (
        "end cover on, nine bolts, gasket",
        [
            {"part": "end cover"},
            {"part": "bolt", "count": 9, "place": "end cover"},
            {"part": "gasket"},
        ],
    ),
    ("gasket, twelve bolts", [{"part": "gasket"}, {"part": "bolt", "count": 12}]),
    (
        "pressure plate first, steel plate last",
        [{"part": "pressure plate", "ordinal": 1}, {"part": "steel plate", "ordinal": -1}],
    ),
    (
        "key rolled on one edge, replace",
        [{"part": "key", "condition": "rolled", "place": "edge", "disposition": "replace"}],
    ),
    ("rust on one bolt", [{"part": "bolt", "count": 1, "condition": "rusty"}]),
    (
        "crack in the case, weld it",
        [{"condition": "cracked", "place": "case", "disposition": "machine"}],
    ),
    ("found the other check ball", [{"part": "check ball", "count": 1}]),
    (
        "one seal torn, the other good",
        [
            {"part": "seal", "count": 1, "condition": "torn"},
            {"part": "seal", "count": 1, "condition": "good"},
        ],
    ),
    ("other check balls are good", [{"part": "check ball", "condition": "good"}]),
    ("check ball on the other side", [{"part": "check ball", "side": "far side"}]),
    (
        "ten bolts off, short ones at the bottom",
        [
            {"part": "bolt", "count": 10, "action": "removed"},
            {"part": "bolt", "size": {"relative": "short"}, "place": "bottom"},
        ],
    ),
    (
        "pressure plate on top then friction plate then steel plate",
        [{"stack": ["pressure plate", "friction plate", "steel plate"]}],
    ),
    (
        "pressure plate first then friction plate then steel plate",
        [{"stack": ["pressure plate", "friction plate", "steel plate"]}],
    ),
    (
        "long ones at the bottom, four short on top",
        [
            {"size": {"relative": "long"}, "place": "bottom"},
            {"count": 4, "size": {"relative": "short"}, "place": "top"},
        ],
    ),
    (
        "front bearing rough, other one ok",
        [
            {"part": "front bearing", "count": 1, "condition": "rough"},
            {"part": "bearing", "count": 1, "condition": "ok"},  # the rear one, or a second
        ],
    ),
    (
        "outer rotor good the other one scored",
        [
            {"part": "outer rotor", "count": 1, "condition": "good"},
            {"part": "rotor", "count": 1, "condition": "scored"},
        ],
    ),
    (
        "two inner seals, one torn the other good",
        [
            {"part": "inner seal", "count": 2},
            {"part": "inner seal", "count": 1, "condition": "torn"},
            {"part": "inner seal", "count": 1, "condition": "good"},
        ],
    ),
    ("two shims each side", [{"part": "shim", "count": 4}]),
    ("shims: two each side", [{"part": "shim", "count": 4}]),
    ("sixteen bolts, 8 a side", [{"part": "bolt", "count": 16}]),
    ("a side cover bolt", [{"part": "bolt", "count": 1, "place": "side cover"}]),
    (
        "two short bolts and six long",
        [
            {"part": "bolt", "count": 2, "size": {"relative": "short"}},
            {"part": "bolt", "count": 6, "size": {"relative": "long"}},
        ],
    ),
    (
        "one bearing of the first worm replace",
        [{"part": "bearing", "count": 1, "place": "first worm", "disposition": "replace"}],
    ),
    (
        "four bolts off the second cover",
        [{"part": "bolt", "count": 4, "place": "second cover", "action": "removed"}],
    ),
    (
        "replace the seal, gasket is good",
        [
            {"part": "seal", "disposition": "replace"},
            {"part": "gasket", "condition": "good"},
        ],
    ),
    (
        "pulled the seal and the bearing is rough",
        [{"part": "seal", "action": "removed"}, {"part": "bearing", "condition": "rough"}],
    ),
    (
        "replace the seal and the gasket, both hard",
        [
            {"part": "seal", "condition": "hard", "disposition": "replace"},
            {"part": "gasket", "condition": "hard", "disposition": "replace"},
        ],
    ),
    (
        "took the pump out of the case gears are scored",
        [
            {"part": "pump", "place": "case", "action": "removed"},
            {"part": "gear", "condition": "scored"},
        ],
    ),
    (
        "two bolts short one long",
        [
            {"part": "bolt", "count": 2, "size": {"relative": "short"}},
            {"part": "bolt", "count": 1, "size": {"relative": "long"}},
        ],
    ),
    (
        "one short one long",
        [
            {"count": 1, "size": {"relative": "short"}},
            {"count": 1, "size": {"relative": "long"}},
        ],
    ),
    (
        "four long two short one bent",
        [
            {"count": 4, "size": {"relative": "long"}},
            {"count": 2, "size": {"relative": "short"}},
            {"count": 1, "condition": "bent"},
        ],
    ),
    ("both the seals good", [{"part": "seal", "count": 2, "condition": "good"}]),
]


@pytest.mark.parametrize(("say", "meant"), CASES)
def test_each_thing_of_a_list_is_one(say: str, meant: list[dict[str, Any]]) -> None:
    assert facts(parse(say)) == meant


@pytest.mark.parametrize(
    ("say", "meant"),
    [
        ("seal in lip out", {"part": "seal", "orientation": "lip out"}),
        ("seal in lip in", {"part": "seal", "orientation": "lip in"}),
        ("seal out lip in", {"part": "seal", "action": "removed", "orientation": "lip in"}),
        (
            "put the seal in lip out",
            {"part": "seal", "action": "installed", "orientation": "lip out"},
        ),
    ],
)
def test_the_way_round_is_no_place_and_takes_nothing_off(say: str, meant: dict[str, Any]) -> None:
    assert facts(parse(say)) == [meant]


def test_a_new_part_is_counted_and_noted() -> None:
    piston, seal = parse("two pistons in, four new seals lip up").findings
    assert (piston.count, piston.orientation) == (2, None)
    assert (seal.count, seal.orientation, seal.notes) == (4, "lip up", ("new",))


def test_a_length_said_after_longer_is_its_length() -> None:
    (finding,) = parse("one is longer, two and a quarter inch").findings
    assert finding.size is not None
    assert (finding.size.relative, finding.size.length) == (
        "long",
        Amount(value=2.25, unit="in", text="2 1/4 in"),
    )


@pytest.mark.parametrize("said", ["one is an inch and three quarters", "one of them is longer"])
def test_the_size_of_one_of_them_is_no_bolt_more(said: str) -> None:
    off, odd = parse(f"eleven bolts off front cover, {said}").findings
    assert (off.count, off.size) == (11, None)
    assert (odd.part, odd.count, odd.notes) == ("bolt", None, ("1 of them",))
    assert odd.size is not None


def test_what_is_off_is_not_in_the_bag_of_the_next() -> None:
    impeller, key = parse("impeller off, key in bag two").findings
    assert (impeller.action, impeller.container, key.container) == ("removed", None, "bag 2")
    both = parse("bolts and washers off, in tray two").findings
    assert [one.container for one in both] == ["tray 2", "tray 2"]


def test_a_left_hand_thread_is_no_part_that_came_off() -> None:
    assert facts(parse("impeller nut off, left hand thread")) == [
        {
            "part": "nut",
            "place": "impeller",
            "action": "removed",
            "condition": "left hand thread",
        }
    ]


def test_a_length_without_a_unit_is_no_count() -> None:
    remark = parse("four bolts off the adapter, 35 long")
    assert [(one.part, one.count) for one in remark.findings] == [("bolt", 4)]
    assert [one.readings for one in remark.ambiguous] == [("35 of them", "a length of 35")]


@pytest.mark.parametrize("said", ["no, six of them", "that's wrong, six of em"])
def test_a_count_of_them_puts_the_last_right(said: str) -> None:
    remark = parse(said)
    assert (remark.command, remark.number) == ("recount", 6)


@pytest.mark.parametrize(
    ("said", "part", "place"),
    [
        ("wear on the gear is 0.55 mm", None, "gear"),
        ("wear on the big gear is 0.55 mm", None, "gear"),
        ("gear worn 0.55 mm", "gear", None),
        ("0.55 mm of wear", None, None),
    ],
)
def test_a_length_said_with_wear_is_how_deep_it_is(
    said: str, part: str | None, place: str | None
) -> None:
    (finding,) = parse(said).findings
    assert (finding.part, finding.place) == (part, place)
    assert (finding.condition, finding.action) == ("worn", "measured")
    assert finding.measure is not None
    assert (finding.measure.quantity, finding.measure.value) == ("wear depth", 0.55)


@pytest.mark.parametrize("said", ["one dowel in, other dowel in", "a dowel, another dowel"])
def test_the_other_one_is_not_the_same_said_twice(said: str) -> None:
    assert [(one.part, one.count) for one in parse(said).findings] == [("dowel pin", 1)] * 2


@pytest.mark.parametrize(
    "said", ["right, putting her back together now", "start putting her together"]
)
def test_the_unit_is_it_or_she(said: str) -> None:
    assert parse(said).command == "put together"


@pytest.mark.parametrize(
    ("said", "found"),
    [
        ("rear bearing spalled, front ok", [("rear bearing", "spalled"), ("front bearing", "ok")]),
        ("rear bearing spalled front ok", [("rear bearing", "spalled"), ("front bearing", "ok")]),
        ("rear spalled front ok", [("rear", "spalled"), ("front", "ok")]),
        ("bearing spalled front", [("bearing", "spalled")]),  # where it is, nothing of another
        ("two burnt, rest ok", [(None, "burnt"), (None, "ok")]),
        ("one friction burnt others ok", [("friction plate", "burnt"), ("friction plate", "ok")]),
    ],
)
def test_what_is_found_of_one_is_not_of_the_other(
    said: str, found: list[tuple[str | None, str]]
) -> None:
    remark = parse(said)
    assert [(one.part, one.condition) for one in remark.findings] == found
    assert not any(one.conditions for one in remark.findings)
    assert remark.unparsed == ()


def test_left_is_not_right() -> None:
    found = parse("left side cover cracked right good").findings
    assert [(one.part, one.side, one.condition) for one in found] == [
        ("side cover", "left", "cracked"),
        ("side cover", "right", "good"),
    ]


@pytest.mark.parametrize("said", ["10 of 16 in", "ten of the sixteen are in", "10 of 16"])
def test_so_many_of_so_many_are_no_inches(said: str) -> None:
    (found,) = parse(said).findings
    assert (found.count, found.size, found.measure, found.notes) == (10, None, None, ("of 16",))


@pytest.mark.parametrize(
    ("said", "readings"),
    [
        ("output shaft runout is 2", ("2 thou", "2 mm")),
        ("line pressure 200", ("200 psi", "200 bar")),
        ("end play is 0.5", ("0.5 in", "0.5 mm")),
    ],
)
def test_a_number_after_what_was_measured_counts_nothing(
    said: str, readings: tuple[str, ...]
) -> None:
    remark = parse(said)
    assert [one.readings for one in remark.ambiguous] == [readings]
    assert not any(one.count for one in remark.findings)


@pytest.mark.parametrize(
    ("said", "parts"),
    [
        ("forward and reverse shafts lifted out", ["forward shaft", "reverse shaft"]),
        ("inner and outer rotor out", ["inner rotor", "outer rotor"]),
        ("front and rear bearing out", ["front bearing", "rear bearing"]),
    ],
)
def test_what_tells_one_of_two_apart_is_of_the_same_head(said: str, parts: list[str]) -> None:
    remark = parse(said)
    assert [(one.part, one.action) for one in remark.findings] == [
        (part, "removed") for part in parts
    ]
    assert remark.unparsed == ()


def test_so_many_of_so_many_are_of_what_holds_a_cover() -> None:
    cover, held, sheared = parse("front cover off, eleven of twelve, one sheared").findings
    assert (cover.part, cover.condition, cover.count) == ("front cover", None, None)
    assert (held.place, held.count, held.action, held.notes) == (
        *("front cover", 11, "removed"),
        ("of 12",),
    )
    assert (sheared.part, sheared.count, sheared.condition) == (None, 1, "sheared")


@pytest.mark.parametrize(
    "said", ["front cover off, eleven of twelve bolts", "front cover off, 11 of the 12 bolts out"]
)
def test_so_many_of_so_many_that_are_named_are_of_them(said: str) -> None:
    cover, bolts = parse(said).findings
    assert (cover.part, cover.count, cover.notes) == ("front cover", None, ())
    assert (bolts.part, bolts.count, bolts.place, bolts.notes) == (
        *("bolt", 11, "front cover"),
        ("of 12",),
    )


def test_what_is_named_again_alone_shares_nothing_with_the_list() -> None:
    found = parse("2 banjo bolts and four washers off, washers to replace").findings
    assert [(one.part, one.count, one.disposition) for one in found][:1] == [
        ("banjo bolt", 2, None)
    ]
    assert ("washer", "replace") in [(one.part, one.disposition) for one in found]


def test_what_is_on_a_valve_is_said_after_it() -> None:
    valve, screws = parse("control valve off, 8 cap screws in bag 3").findings
    assert (valve.part, screws.part, screws.place) == (
        "control valve",
        "cap screw",
        "control valve",
    )
