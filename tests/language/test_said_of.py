"""What is said is of the part that it was said of, and of no other.  Common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest
from language_help import parse, told

CASES: list[tuple[str, list[dict[str, Any]], str]] = [
    (
        "pump off five cap screws and the gasket is torn",
        [
            {"part": "pump", "action": "removed"},
            {"part": "cap screw", "count": 5},
            {"part": "gasket", "condition": "torn"},
        ],
        "",
    ),
    ("top plate burnt", [{"part": "top plate", "condition": "burnt"}], ""),  # of a pack: no cover
    ("leaks from the front seal", [{"place": "front seal", "condition": "leaking"}], ""),
    (
        "flange has a groove from the seal",
        [{"part": "flange", "place": "seal", "condition": "grooved"}],
        "",
    ),
    (
        "bearing is rough well not rough but notchy",
        [{"part": "bearing", "condition": "not rough", "conditions": ["not rough", "notchy"]}],
        "",
    ),
    ("passage was blocked now clear", [{"part": "oil passage", "condition": "clear"}], "blocked"),
    (
        "plates good two that are burnt",
        [
            {"part": "plate", "condition": "good"},
            {"part": "plate", "count": 2, "condition": "burnt"},
        ],
        "",
    ),
    (
        "took out one shim end play is now eight thou",
        [
            {"part": "shim", "count": 1, "action": "removed"},
            {
                "action": "measured",
                "measure": {"quantity": "end play", "value": 8, "unit": "thou"},
            },
        ],
        "",
    ),
    (
        "one friction plate burnt replace the friction plates",
        [
            {"part": "friction plate", "count": 1, "condition": "burnt"},
            {"part": "friction plate", "disposition": "replace"},
        ],
        "",
    ),
    (
        "two seals torn replace all the seals",
        [
            {"part": "seal", "count": 2, "condition": "torn"},
            {"part": "seal", "disposition": "replace"},
        ],
        "",
    ),
    (
        "plungers scored all three replace",
        [{"part": "plunger", "count": 3, "condition": "scored", "disposition": "replace"}],
        "",
    ),
    (
        "the four short ones in bag two the long ones in bag three",
        [
            {"count": 4, "size": {"relative": "short"}, "container": "bag 2"},
            {"size": {"relative": "long"}, "container": "bag 3"},
        ],
        "",
    ),
    (
        "long ones top short ones bottom",
        [
            {"size": {"relative": "long"}, "place": "top"},
            {"size": {"relative": "short"}, "place": "bottom"},
        ],
        "",
    ),
    (
        "lock nut came off with the big socket",
        [{"part": "lock nut", "action": "removed", "tool": "socket"}],
        "",
    ),
    (
        "hub worn a bit on one side",
        [{"part": "hub", "condition": "worn"}],
        "one side",
    ),
    (
        "gear is tight pressed it off at six tons",
        [{"part": "gear", "condition": "tight", "action": "pressed out"}],
        "six tons",
    ),
    (
        "eight bolts keep the two long ones apart",
        [{"part": "bolt", "count": 8}, {"part": "bolt", "count": 2, "size": {"relative": "long"}}],
        "keep apart",
    ),
    ("tapered roller worn", [{"part": "roller", "condition": "worn"}], "tapered"),
    (
        "tapered roller cups left in the case",
        [{"part": "roller", "place": "case"}],
        "tapered cups left",
    ),
    (
        "cover off, dropped a washer in the case",
        [{"part": "cover", "action": "removed"}],
        "dropped washer in the case",
    ),
    ("dropped the gear in", [{"part": "gear", "action": "installed"}], ""),
    ("used the wrong bolts, wrong bag", [{"part": "bolt", "condition": "wrong"}], "wrong bag"),
    ("bolts in the wrong bag", [{"part": "bolt"}], "wrong bag"),
    ("washers in the clean tray", [{"part": "washer", "container": "tray"}], "clean"),
    (
        "input gear punch mark on the front face",
        [{"part": "input gear", "mark": "punch mark"}],
        "on the front face",
    ),
    (
        "seal in lip to the oil",
        [{"part": "seal", "orientation": "lip toward oil"}],
        "",
    ),
    ("seal goes lip to the oil", [{"part": "seal", "orientation": "lip toward oil"}], ""),
    ("lip to the face twelve thou", [{"part": "lip", "place": "face"}], "twelve thou"),
    ("took the cover back off", [{"part": "cover", "action": "removed"}], ""),
    ("bearing on the back off", [{"part": "bearing", "place": "rear", "action": "removed"}], ""),
    ("twenty three tooth gear worn", [{"part": "tooth gear", "condition": "worn"}], "twenty three"),
    ("four bolt cover off", [{"part": "bolt cover", "action": "removed"}], "four"),
    ("two tooth chipped", [{"part": "tooth", "count": 2, "condition": "chipped"}], ""),
    ("nut backed off a flat", [{"part": "nut", "action": "loosened"}], "flat"),
    (
        "gear from the lip to the face twelve thou",
        [{"part": "gear"}],
        "from the lip to the face twelve thou",
    ),
    ("teeth stripped in two holes", [{"part": "tooth", "condition": "stripped"}], "in two holes"),
    ("snap ring in two pieces", [{"part": "snap ring", "condition": "broken"}], "pieces"),
    ("every other plate burnt", [{"part": "plate", "condition": "burnt"}], "other"),
    ("every second plate burnt", [{"part": "plate", "condition": "burnt"}], "second"),
    (
        "pump off, oil two litres low",
        [{"part": "pump", "action": "removed"}, {"part": "oil"}],
        "two litres low",
    ),
    ("paint mark on tooth six", [{"place": "tooth", "mark": "paint mark"}], "six"),
    ("shims out, two tens and a five", [{"part": "shim", "action": "removed"}], "two tens five"),
    (
        "bearing and gear off as one",
        [{"part": "bearing", "action": "removed"}, {"part": "gear", "action": "removed"}],
        "as one",
    ),
    ("washer missing from the set", [{"part": "washer", "condition": "missing"}], "set"),
    ("plates in wrong order", [{"part": "plate"}], "in wrong order"),
    ("the plates came off in that order", [{"part": "plate", "action": "removed"}], ""),
    ("pump bad order the pump", [{"part": "pump", "condition": "bad", "disposition": "order"}], ""),
    ("bearings all done", [{"part": "bearing", "condition": "worn out"}], ""),
    ("bolts off, a dozen", [{"part": "bolt", "count": 12, "action": "removed"}], ""),
    (
        "six short ones from the top two long ones",
        [
            {"count": 6, "size": {"relative": "short"}, "place": "top", "action": "removed"},
            {"count": 2, "size": {"relative": "long"}},
        ],
        "",
    ),
    ("nuts on the front cover finger tight", [{"part": "nut", "place": "front cover"}],
     "finger tight"),
    ("plate worn forty thou left", [{"part": "plate", "condition": "worn"}], "forty thou left"),
    ("right, eight bolts off", [{"part": "bolt", "count": 8, "action": "removed"}], ""),
    ("dished spring cup side down", [{"part": "belleville spring"}], "cup side down"),
    (
        "studs two came out the other eight stayed in",
        [{"part": "stud", "count": 2, "action": "removed"}],
        "other eight stayed in",
    ),
    (
        "housing off six bolts bearing stayed on the shaft",
        [
            {"part": "housing", "action": "removed"},
            {"part": "bolt", "count": 6},
            {"part": "bearing", "place": "shaft"},
        ],
        "stayed",
    ),
    (
        "pulled the pump and the drive key stayed in the shaft",
        [{"part": "pump", "action": "removed"}, {"part": "key", "place": "shaft"}],
        "stayed",
    ),
    (
        "took the cover off two bolts were already loose",
        [
            {"part": "cover", "action": "removed"},
            {"part": "bolt", "count": 2, "condition": "loose"},
        ],
        "already",
    ),
    (
        "old seal was hard new seal in",
        [{"part": "seal", "condition": "hard"}, {"part": "seal"}],
        "",
    ),
    ("new bearing in old one was spalled", [{"part": "bearing"}], "spalled"),
    ("all plates but two burnt", [{"part": "plate", "condition": "burnt"}], "but two"),
    (
        "the third plate from the top is cracked",
        [{"part": "plate", "ordinal": 3, "place": "top", "condition": "cracked"}],
        "",
    ),
    ("replaced the seal, cover off", [{"part": "seal"}, {"part": "cover", "action": "removed"}],
     "replaced"),
    (
        "torqued all twelve to thirty five foot pounds",
        [{"action": "tightened"}],
        "twelve to thirty five foot pounds",
    ),
    (
        "steels all clean reuse them frictions burnt replace",
        [
            {"part": "steel plate", "condition": "clean", "disposition": "reuse"},
            {"part": "friction plate", "condition": "burnt", "disposition": "replace"},
        ],
        "",
    ),
    (
        "outer piston seal torn inner one ok",
        [{"part": "outer piston seal", "condition": "torn"}],
        "inner one ok",
    ),
    (
        "all bearings good not the front one",
        [{"part": "bearing", "condition": "good"}],
        "front one",
    ),
    (
        "put the cover on and cracked the case",
        [{"part": "cover", "action": "installed"}, {"part": "case", "condition": "cracked"}],
        "",
    ),
    ("split the case, gasket torn", [{"part": "case"}, {"part": "gasket", "condition": "torn"}],
     "split"),
    ("seal split", [{"part": "seal", "condition": "cracked"}], ""),
    (
        "six bolts front four rear",
        [
            {"part": "bolt", "count": 6, "place": "front"},
            {"part": "bolt", "count": 4, "place": "rear"},
        ],
        "",
    ),
    (
        "bearing front rough rear ok",
        [
            {"part": "bearing", "place": "front", "condition": "rough"},
            {"part": "bearing", "place": "rear", "condition": "ok"},
        ],
        "",
    ),
    (
        "gasket between the pump and the case torn",
        [{"part": "gasket", "place": "between pump and case", "condition": "torn"}],
        "",
    ),
    (
        "eight bolts cover is off gasket is good",
        [
            {"part": "bolt", "count": 8},
            {"part": "cover", "action": "removed"},
            {"part": "gasket", "condition": "good"},
        ],
        "",
    ),
    ("bolts one inch too long", [{"part": "bolt"}], "one inch too long"),
    (
        "clutch pack clearance forty thou too tight",
        [
            {
                "part": "clutch pack",
                "condition": "tight",
                "action": "measured",
                "measure": {"quantity": "clearance", "value": 40, "unit": "thou"},
            }
        ],
        "",
    ),
    ("bearing came straight out of the housing",
     [{"part": "bearing", "place": "housing", "action": "removed"}], "straight"),
    ("case warped six thou over the length", [{"part": "case", "condition": "warped"}],
     "six thou length"),
    ("plate worn new is eighty", [{"part": "plate", "condition": "worn"}], "new eighty"),
]  # fmt: skip


@pytest.mark.parametrize(("say", "found", "left"), CASES)
def test_what_is_said_is_of_what_it_was_said_of(
    say: str, found: list[dict[str, Any]], left: str
) -> None:
    assert told(say) == (found, left)


def test_a_torque_without_its_unit_is_no_count() -> None:
    remark = parse("torqued the flange nut two hundred and twenty")
    assert [one.count for one in remark.findings] == [None]
    assert remark.ambiguous[0].readings == ("220 ft-lb", "220 Nm")


def test_the_size_of_heads_is_across_their_flats() -> None:
    (bolt,) = parse("bolt heads half inch").findings
    assert bolt.size is not None and bolt.size.across_flats is not None
    assert (bolt.size.length, bolt.size.across_flats.value) == (None, 0.5)


def test_a_right_side_is_one() -> None:
    assert [one.side for one in parse("right bearing rough").findings] == ["right"]


@pytest.mark.parametrize("say", ["all done on the cover", "bag split"])
def test_work_that_is_done_and_a_bag_that_split_are_no_state_of_a_part(say: str) -> None:
    assert all(one.condition is None for one in parse(say).findings)
