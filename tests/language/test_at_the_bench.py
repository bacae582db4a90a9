"""Remarks as they are said over a unit: what each says, and what of it is left over.

Made up in the way of the trade; what they mean is common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest
from language_help import told

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
    # What nobody knows ends what leads a list, has what is told of it, and how many it is.
    (
        "keep the gears ditch the bearings",
        [{"part": "gear", "disposition": "reuse"}, {"part": "bearing"}],
        "ditch",
    ),
    ("cylinder has a lump missing", [], "lump missing"),
    ("eight heads on the wheel hub", [], "eight | wheel"),
    (
        "new frictions reuse steels",
        [{"part": "friction plate"}, {"part": "steel plate", "disposition": "reuse"}],
        "",
    ),
    # What holds a cover is counted after it.
    (
        "cover off eight in a tray",
        [
            {"part": "cover", "action": "removed"},
            {"count": 8, "place": "cover", "action": "removed", "container": "tray"},
        ],
        "",
    ),
    (
        "cover off, six long two short",
        [
            {"part": "cover", "action": "removed"},
            {"count": 6, "size": {"relative": "long"}, "place": "cover", "action": "removed"},
            {"count": 2, "size": {"relative": "short"}},
        ],
        "",
    ),
    (
        "six bolts top cover all the same length",
        [{"part": "bolt", "count": 6, "place": "top cover"}],
        "length",
    ),
    # Too few of them.
    ("two plates short", [{"part": "plate"}], "short"),
    ("short two bolts", [{"part": "bolt"}], "short two"),
    ("short one spring", [{"part": "spring"}], "short one"),
    ("two short bolts", [{"part": "bolt", "count": 2, "size": {"relative": "short"}}], ""),
    # Causes, purposes and tools are no places and no parts.
    (
        "clutch hub grooved by the plates",
        [{"part": "clutch hub", "condition": "grooved"}],
        "by the plates",
    ),
    (
        "take the shaft to the machine shop for a sleeve",
        [{"part": "shaft", "disposition": "machine"}, {"part": "sleeve", "count": 1}],
        "",
    ),
    ("broke a puller", [{"tool": "puller"}], "broke"),
    ("ball rolled under the bench", [{"part": "ball", "place": "under bench"}], "rolled"),
    ("relief lifted at two hundred and sixty", [], "relief lifted | two hundred and sixty"),
    # Things that sound like what is done.
    (
        "bearing housing drain weeping",
        [{"part": "bearing carrier", "condition": "leaking"}],
        "drain",
    ),
    ("bearing fit loose", [{"part": "bearing", "condition": "loose"}], "fit"),
    ("one stud pulled its thread", [{"part": "stud", "count": 1, "condition": "stripped"}], ""),
    ("spun the bearing", [{"part": "bearing", "action": "turned"}], ""),
    ("spool has a score mark", [{"part": "spool", "condition": "scored"}], ""),
    ("relief valve stuck open", [{"part": "relief valve", "condition": "stuck"}], ""),
    # "Each other", and the thin one after the thick one.
    ("washers facing each other", [{"part": "washer"}], "facing each other"),
    (
        "thick washer goes first then the thin",
        [
            {"part": "washer", "size": {"relative": "thick"}},
            {"part": "washer", "size": {"relative": "thin"}},
        ],
        "first",
    ),
    ("washers on each bolt", [{"part": "washer", "place": "bolt"}], ""),
    # Put right since, not done, and still to do.
    (
        "spool sticky cleaned it and it's free now",
        [{"part": "spool", "condition": "free", "action": "cleaned"}],
        "sticky",
    ),
    (
        "case won't split one bolt left in",
        [{"part": "case"}, {"part": "bolt"}],
        "will | split one | left in",
    ),
    ("couldn't get the seal out without damage", [], "could not get | out without damage"),
    ("bolts need torqued", [], "need torqued"),
    ("everything goes in shelf three", [{"container": "shelf 3"}], ""),
    # What is wanted.
    (
        "need three seals two gaskets and a bearing",
        [
            {"part": "seal", "count": 3, "disposition": "order"},
            {"part": "gasket", "count": 2, "disposition": "order"},
            {"part": "bearing", "count": 1, "disposition": "order"},
        ],
        "",
    ),
    ("i need a snap ring", [{"part": "snap ring", "count": 1, "disposition": "order"}], ""),
    ("still need the front cover gasket", [], "still need"),
    ("cover needs six bolts", [], "needs six"),
    # What ought to be.
    (
        "rotor clearance eight thou book says six max",
        [
            {
                "part": "rotor",
                "action": "measured",
                "measure": {"quantity": "clearance", "value": 8, "unit": "thou"},
            }
        ],
        "book says six max",
    ),
    ("eleven springs should be twelve", [{"part": "spring", "count": 11}], "should | twelve"),
    ("wear limit is ninety thou", [], "wear limit | ninety thou"),
    ("torqued to the book", [{"action": "tightened"}], "book"),
    (
        "cover bolts torqued thirty five",
        [{"part": "bolt", "place": "cover", "action": "tightened"}],
        "thirty five",
    ),
    # Play, teeth, and what is left.
    ("some play in the rear bearing", [{"place": "rear bearing", "condition": "loose"}], ""),
    (
        "tooth off the reverse gear",
        [{"part": "tooth", "place": "reverse gear", "condition": "missing"}],
        "",
    ),
    (
        "seals hard everything else good",
        [{"part": "seal", "condition": "hard"}, {"part": "seal", "condition": "good"}],
        "",
    ),
    # Sides, rows and what something is held against.
    (
        "two bolts on the left three on the right",
        [
            {"part": "bolt", "count": 2, "side": "left"},
            {"part": "bolt", "count": 3, "side": "right"},
        ],
        "",
    ),
    (
        "top four bolts are longer than the bottom four",
        [{"part": "bolt", "count": 4, "size": {"relative": "long"}, "place": "top"}],
        "than the bottom four",
    ),
    (
        "left bearing cap bolts torqued right bearing cap bolts loose",
        [
            {"part": "bolt", "place": "bearing cap", "action": "tightened", "side": "left"},
            {"part": "bolt", "place": "bearing cap", "condition": "loose", "side": "right"},
        ],
        "",
    ),
    # So many on each are not so many.
    ("each bolt has a washer", [{"part": "bolt"}, {"part": "washer"}], ""),
    (
        "every bolt has a washer and a spacer",
        [{"part": "bolt"}, {"part": "washer"}, {"part": "spacer"}],
        "",
    ),
    ("chipped tooth nine", [{"part": "tooth", "condition": "chipped"}], "nine"),
    # Each is in or on, and none in the next.
    ("key in gear on nut on", [{"part": "key"}, {"part": "gear"}, {"part": "nut"}], ""),
    ("snap ring in groove", [{"part": "snap ring", "place": "groove"}], ""),
    # It is so no more.
    (
        "one passage blocked now clear",
        [{"part": "oil passage", "count": 1, "condition": "clear"}],
        "blocked",
    ),
]


@pytest.mark.parametrize(("say", "found", "left"), CASES)
def test_what_is_said_is_found_and_the_rest_is_left_over(
    say: str, found: list[dict[str, Any]], left: str
) -> None:
    assert told(say, " | ") == (found, left)
