"""Words that mean another thing where they stand, orders, ways to face, values and tools.

Remarks made up in the way of the trade; what they mean is common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest
from language_help import told

CASES: list[tuple[str, list[dict[str, Any]], str]] = [
    # Other sense.
    ("cut a new gasket", [{"part": "gasket", "count": 1}], "cut"),
    ("scratch polished out", [{"condition": "scratched", "action": "lapped"}], ""),
    ("seal in two mil proud", [{"part": "seal"}], "in two mil proud"),
    ("seals in with a bit of oil", [{"part": "seal"}], "of oil"),
    (
        "pulled the gear off the shaft with the bearing",
        [
            {"part": "gear", "place": "shaft", "action": "removed"},
            {"part": "bearing", "action": "removed"},
        ],
        "",
    ),
    (
        "pressed it out the bearing with the arbor press",
        [{"part": "bearing", "action": "pressed out", "tool": "press"}],
        "",
    ),
    ("bolts are metric", [{"part": "bolt"}], "metric"),
    (
        "sun gear fine races fine ring gear chipped",
        [
            {"part": "sun gear", "condition": "good"},
            {"part": "bearing race", "condition": "good"},
            {"part": "ring gear", "condition": "chipped"},
        ],
        "",
    ),
    ("filter full of brass", [{"part": "filter", "condition": "metal on it"}], ""),
    # Orders told from one end.
    (
        "from the top snap ring washer spring piston",
        [{"stack": ["snap ring", "washer", "spring", "piston"]}],
        "from the top",
    ),
    (
        "order coming off nut washer key coupling",
        [{"stack": ["nut", "washer", "key", "coupling"]}],
        "",
    ),
    (
        "stack from the bottom backing plate steel friction pressure plate snap ring",
        [
            {
                "stack": [
                    "backing plate",
                    "steel plate",
                    "friction plate",
                    "pressure plate",
                    "snap ring",
                ]
            }
        ],
        "stack from the bottom",
    ),
    ("bolts from the top cover", [{"part": "bolt", "place": "top cover", "action": "removed"}], ""),
    ("steel at each end", [{"part": "steel plate"}], "at each end"),
    # Which way things face.
    ("writing on the bearing faces out", [], "writing | faces out"),
    ("groove up", [{"orientation": "oil groove up"}], ""),
    ("lips back to back", [{"orientation": "lip back to back"}], ""),
    (
        "thin shim left thick shim right",
        [
            {"part": "shim", "size": {"relative": "thin"}, "side": "left"},
            {"part": "shim", "size": {"relative": "thick"}, "side": "right"},
        ],
        "",
    ),
    (
        "left bearing left seal",
        [{"part": "bearing", "side": "left"}, {"part": "seal", "side": "left"}],
        "",
    ),
    # How many each group has.
    ("three rows of four bolts", [{"part": "bolt"}], "three rows | four"),
    # What a value is of.
    (
        "input bearing preload came out at eight inch pounds",
        [
            {
                "part": "input bearing",
                "action": "measured",
                "measure": {"quantity": "preload", "value": 8, "unit": "in-lb"},
            }
        ],
        "came out",
    ),
    ("spring load forty two pounds at one inch", [], "spring load forty two pounds | one inch"),
    (
        "clutch pack clearance eighty five thou should be sixty to ninety",
        [
            {
                "part": "clutch pack",
                "action": "measured",
                "measure": {"quantity": "clearance", "value": 85, "unit": "thou"},
            }
        ],
        "should | sixty to ninety",
    ),
    # Put right in the same breath.
    ("bearing good no bearing rough", [{"part": "bearing", "condition": "rough"}], ""),
    ("bearing good, no, it's got a rough spot", [{"part": "bearing", "condition": "rough"}], ""),
    ("cracked no that's just a scratch", [{"condition": "scratched"}], ""),
    (
        "cracked no scratches",
        [{"condition": "cracked", "conditions": ["cracked", "not scratched"]}],
        "",
    ),
    ("is cracked no it's not cracked", [{"condition": "not cracked"}], ""),
    ("crack tested okay", [{"condition": "ok", "action": "tested"}], ""),
    # What is denied with a verb.
    ("seal doesn't look good", [{"part": "seal", "condition": "not good"}], ""),
    ("doesn't leak", [{"condition": "not leaking"}], ""),
    ("didn't open the relief valve", [{"part": "relief valve"}], "open"),
    ("done for", [], "done"),
    ("a few bolts missing", [{"part": "bolt", "condition": "missing"}], "a few"),
    # Machining, and what is back.
    ("took ten thou off the face", [], "ten thou off the face"),
    ("shaft turned down two thou", [{"part": "shaft"}], "turned down two thou"),
    ("shaft back from the machine shop", [{"part": "shaft"}], "machine shop"),
    ("shaft came back measures right", [{"part": "shaft", "action": "measured"}], "right"),
    (
        "long bolt top left",
        [{"part": "bolt", "size": {"relative": "long"}, "place": "top", "side": "left"}],
        "",
    ),
    (
        "bearings rusted solid cut them off",
        [{"part": "bearing", "condition": "rusty", "action": "removed"}],
        "",
    ),
    # Other places of so many.
    (
        "bolts on the suction flange four on the discharge flange eight",
        [
            {"part": "bolt", "count": 4, "place": "suction flange"},
            {"part": "bolt", "count": 8, "place": "discharge flange"},
        ],
        "",
    ),
    (
        "two shims under the left front foot one under the right",
        [
            {"part": "shim", "count": 2, "place": "under left front mounting foot"},
            {"part": "shim", "count": 1, "side": "right"},
        ],
        "",
    ),
    (
        "shims under the feet front two rear one",
        [{"part": "shim", "count": 2, "place": "under mounting foot front"}],
        "rear one",
    ),
    ("washer between two gears", [{"part": "washer", "place": "between gear"}], ""),
    (
        "non drive end bearing fine",
        [{"part": "bearing", "condition": "good", "side": "non drive side"}],
        "",
    ),
    # Unknown words before a mere "no" are not lost.
    (
        "run up ten minutes no leaks",
        [{"condition": "not leaking", "action": "tested"}],
        "ten minutes",
    ),
    (
        "tested on the stand no leaks",
        [{"place": "stand", "condition": "not leaking", "action": "tested"}],
        "",
    ),
    # What was done by the one who tells it, and what it may be on.
    ("replaced two bolts", [{"part": "bolt", "count": 2}], "replaced"),
    (
        "gasket on cover on bolts finger tight",
        [{"part": "gasket"}],
        "on cover on bolts finger tight",
    ),
    (
        "hose half inch two feet long",
        [{"part": "hose", "size": {"relative": "long"}}],
        "half inch two feet",
    ),
    ("m eight fine", [{"size": {"thread": "M8"}}], "fine"),
    # What they are put into.
    (
        "front bolts left tin back bolts right tin",
        [
            {"part": "bolt", "place": "front", "container": "tin left"},
            {"part": "bolt", "place": "rear", "container": "tin right"},
        ],
        "",
    ),
    ("bolts in the left hand tray", [{"part": "bolt", "container": "tray left"}], ""),
    ("tray one input tray two output", [{"container": "tray 1"}], "input tray two output"),
    (
        "everything from the pump goes in one bag",
        [{"place": "pump", "action": "removed", "container": "bag"}],
        "goes in one",
    ),
    ("keep everything but the seals", [{"disposition": "reuse"}], "everything but the seals"),
    ("all but two of the plates burnt", [{"part": "plate", "condition": "burnt"}], "all but two"),
    (
        "front bolts out, back ones on the right",
        [
            {"part": "bolt", "place": "front", "action": "removed"},
            {"part": "bolt", "place": "rear", "side": "right"},
        ],
        "",
    ),
    (
        "front bolts off the rear ones are stuck",
        [
            {"part": "bolt", "place": "front", "action": "removed"},
            {"part": "bolt", "place": "rear", "condition": "stuck"},
        ],
        "",
    ),
    (
        "case drain fitting cracked",
        [{"part": "case"}, {"part": "fitting", "condition": "cracked"}],
        "drain",
    ),
    ("backed the screw out three turns", [], "backed | three turns"),
    (
        "pried the cover off nicked the face",
        [{"part": "cover", "action": "removed"}, {"part": "face", "condition": "nicked"}],
        "pried",
    ),
    (
        "vent blocked blew the seal out",
        [{"part": "breather", "condition": "plugged"}, {"part": "seal"}],
        "blew",
    ),
    ("seal blew out", [{"part": "seal", "condition": "extruded"}], ""),
    (
        "seal was fitted backwards lip out",
        [{"part": "seal", "orientation": "lip out"}],
        "fitted backwards",
    ),
    ("nut came right off", [{"part": "nut", "action": "removed"}], "right"),
    (
        "replace seals keep gears order bearings",
        [
            {"part": "seal", "disposition": "replace"},
            {"part": "gear", "disposition": "reuse"},
            {"part": "bearing", "disposition": "order"},
        ],
        "",
    ),
    (
        "bolts and washers six of each",
        [{"part": "bolt", "count": 6}, {"part": "washer", "count": 6}],
        "",
    ),
    ("six bolts with two washers each", [{"part": "bolt", "count": 6}, {"part": "washer"}], "two"),
    ("six bolts each with a washer", [{"part": "bolt", "count": 6}, {"part": "washer"}], ""),
    ("arm off its shaft two bolts", [], "arm off its shaft"),
    (
        "ten thou of end play five thou backlash",
        [
            {
                "action": "measured",
                "measure": {"quantity": "end play", "value": 10, "unit": "thou"},
            },
            {"action": "measured", "measure": {"quantity": "backlash", "value": 5, "unit": "thou"}},
        ],
        "",
    ),
    (
        "tried a ten thou shim end play five",
        [{"part": "shim", "action": "checked"}],
        "ten thou | end play five",
    ),
    (
        "tried it without the shim binds",
        [{"condition": "stuck", "action": "checked"}],
        "without the shim",
    ),
    (
        "took the cover off had another look put it back on",
        [{"part": "cover", "action": "installed"}],
        "another look",
    ),
    ("missing bolt found", [{"part": "bolt"}], "missing"),
    ("short a bolt", [{"part": "bolt"}], "short a"),
    (
        "rear seal leaking shaft grooved sleeve it new seal",
        [
            {"part": "rear seal", "condition": "leaking"},
            {"part": "shaft", "condition": "grooved", "disposition": "machine"},
            {"part": "seal"},
        ],
        "",
    ),
    (
        "piston seals hard bore smooth piston good",
        [
            {"part": "piston seal", "condition": "hard"},
            {"part": "bore", "condition": "smooth"},
            {"part": "piston", "condition": "good"},
        ],
        "",
    ),
    (
        "cooler lines four fittings two weeping",
        [
            {"part": "cooler line"},
            {"part": "fitting", "count": 4},
            {"part": "fitting", "count": 2, "condition": "leaking"},
        ],
        "",
    ),
    (
        "bearing pulled rough replace order it",
        [{"part": "bearing", "condition": "rough", "action": "removed", "disposition": "replace"}],
        "order it",
    ),
    (
        "bolts out, studs stay, nuts in the cup",
        [
            {"part": "bolt", "action": "removed"},
            {"part": "stud"},
            {"part": "nut", "container": "cup"},
        ],
        "stay",
    ),
    ("one shim under each bearing cap", [{"part": "shim", "place": "under bearing cap"}], "one"),
]


@pytest.mark.parametrize(("say", "found", "left"), CASES)
def test_what_is_said_is_found_and_the_rest_is_left_over(
    say: str, found: list[dict[str, Any]], left: str
) -> None:
    assert told(say, " | ") == (found, left)
