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
    (
        "inner race spun on the shaft",
        [{"part": "inner bearing race", "condition": "spun in its seat"}],
        "",
    ),
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
    ("no play in the bearing", [{"place": "bearing", "condition": "no play"}], ""),
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
    ("bushing turned in its bore", [{"part": "bushing", "condition": "spun in its seat"}], ""),
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
    # END
]


@pytest.mark.parametrize(("say", "found", "left"), CASES)
def test_what_is_said_is_found_and_the_rest_is_left_over(
    say: str, found: list[dict[str, Any]], left: str
) -> None:
    remark = parse(say)
    assert facts(remark) == found
    assert " | ".join(remark.unparsed) == left
