"""Remarks as they are said over a unit: what each says, and what of it is left over.

Made up in the way of the trade; what they mean is common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest
from language_help import facts, parse

CASES: list[tuple[str, list[dict[str, Any]], str]] = [
    # What is undone again is as it was told last; what is put away is not in.
    (
        "put in the wrong seal took it out again",
        [{"part": "seal", "condition": "wrong", "action": "removed"}],
        "",
    ),
    ("took the cover off and put it back on", [{"part": "cover", "action": "installed"}], ""),
    (
        "pulled the bearing then pressed it back in",
        [{"part": "bearing", "action": "pressed in"}],
        "",
    ),
    (
        "bolts out and put in bag two",
        [{"part": "bolt", "action": "removed", "container": "bag 2"}],
        "",
    ),
    (
        "cover off, put it on the bench",
        [{"part": "cover", "place": "bench", "action": "removed"}],
        "",
    ),
    (
        "came out lip in, going in lip out",
        [{"action": "removed", "orientation": "lip in"}],
        "going in lip out",
    ),
    # With what it went in is no other part.
    ("o rings in with grease", [{"part": "o ring"}], "grease"),
    ("gasket on with sealant", [{"part": "gasket"}], "sealant"),
    # "Sixteen inch" after a fraction is a thread and an inch.
    (
        "three eighths sixteen inch long bolts",
        [{"part": "bolt", "size": {"thread": "3/8-16", "length": {"value": 1.0, "unit": "in"}}}],
        "",
    ),
    (
        "six quarter twenty inch long bolts",
        [
            {
                "part": "bolt",
                "count": 6,
                "size": {"thread": "1/4-20", "length": {"value": 1.0, "unit": "in"}},
            }
        ],
        "",
    ),
    (
        "three quarter ten inch long bolts",
        [{"part": "bolt", "size": {"length": {"value": 10.0, "unit": "in"}}}],
        "three quarter",
    ),
    # From one place to another nothing is taken off.
    ("bolts from the front to the back", [{"part": "bolt"}], "from the front to the back"),
    (
        "six bolts from the front to the rear",
        [{"part": "bolt", "count": 6}],
        "from the front to the rear",
    ),
    # Working words.
    ("bent the tab over", [{"action": "installed"}], ""),
    ("oiled the seals", [{"part": "seal", "action": "oiled"}], ""),
    ("spin test good", [{"condition": "good", "action": "tested"}], ""),
    ("air test the pump", [{"part": "pump"}], "air test"),
    # What can not be found.
    ("cannot find the lock nut", [{"part": "lock nut", "condition": "missing"}], ""),
    (
        "can not find two of the washers",
        [{"part": "washer", "count": 2, "condition": "missing"}],
        "",
    ),
    ("can not find any cracks", [{"condition": "not cracked"}], ""),
    ("washers missing bag two", [{"part": "washer", "condition": "missing"}], "bag two"),
    ("bolts in the wrong bag", [{"part": "bolt"}], "wrong bag"),
    # Orders of a stack in few words.
    ("tab washer then lock nut", [{"stack": ["tab washer", "lock nut"]}], ""),
    ("nut washer gear shim", [{"stack": ["nut", "washer", "gear", "shim"]}], ""),
    ("front cover then the gasket", [{"part": "front cover"}, {"part": "gasket"}], ""),
    ("stack order is snap ring shim bearing", [{"stack": ["snap ring", "shim", "bearing"]}], ""),
    ("washer nut off", [{"part": "washer"}, {"part": "nut", "action": "removed"}], ""),
    # Which one it was measured on, and what it was not.
    (
        "forward pack clearance twelve thou",
        [
            {
                "place": "forward",
                "action": "measured",
                "measure": {"quantity": "pack clearance", "value": 12, "unit": "thou"},
            }
        ],
        "",
    ),
    (
        "outer clearance six thou inner clearance four thou",
        [
            {
                "place": "outer",
                "action": "measured",
                "measure": {"quantity": "clearance", "value": 6, "unit": "thou"},
            },
            {
                "place": "inner",
                "action": "measured",
                "measure": {"quantity": "clearance", "value": 4, "unit": "thou"},
            },
        ],
        "",
    ),
    (
        "end play six thou ten bolts still to torque",
        [
            {"action": "measured", "measure": {"quantity": "end play", "value": 6, "unit": "thou"}},
            {"part": "bolt"},
        ],
        "ten | still | torque",
    ),
    # END
]


@pytest.mark.parametrize(("say", "found", "left"), CASES)
def test_what_is_said_is_found_and_the_rest_is_left_over(
    say: str, found: list[dict[str, Any]], left: str
) -> None:
    remark = parse(say)
    assert facts(remark) == found
    assert " | ".join(remark.unparsed) == left
