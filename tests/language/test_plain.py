"""Plain remarks that rules for odder ones must leave alone.

Made up in the way of the trade; what they mean is common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest
from language_help import told

CASES: list[tuple[str, list[dict[str, Any]], str]] = [
    # What turns is the shaft, and what is off is off; only so many turns take nothing off.
    (
        "nut off and the shaft turns free",
        [{"part": "nut", "action": "removed"}, {"part": "shaft", "condition": "free"}],
        "",
    ),
    (
        "took the pump off the shaft turns by hand",
        [{"part": "pump", "action": "removed"}, {"part": "shaft", "condition": "free"}],
        "",
    ),
    # Where a crack is, is a place; a groove by a seal was cut by it.
    ("crack by the bolt hole", [{"place": "by bolt hole", "condition": "cracked"}], ""),
    (
        "case cracked by the dowel",
        [{"part": "case", "place": "by dowel pin", "condition": "cracked"}],
        "",
    ),
    ("leaking by the pump", [{"place": "by pump", "condition": "leaking"}], ""),
    ("shaft grooved by the seal", [{"part": "shaft", "condition": "grooved"}], "by the seal"),
    # How long it was tested is no thing that leaks or does not.
    (
        "tested for ten minutes no leaks",
        [{"condition": "not leaking", "action": "tested"}],
        "ten minutes",
    ),
    ("pump test good", [{"part": "pump", "condition": "good", "action": "tested"}], ""),
    ("cover was put back on", [{"part": "cover", "action": "installed"}], ""),
    ("bolts stretched toss them", [{"part": "bolt", "disposition": "discard"}], "stretched"),
    # What is not needed is not there, nor so many of it.
    ("don't need a gasket", [{"part": "gasket"}], "need a"),
    ("do not need two bolts", [{"part": "bolt"}], "need two"),
    # What is in has nothing of what is told after it.
    (
        "bearing in seal in, pump off",
        [{"part": "bearing"}, {"part": "seal"}, {"part": "pump", "action": "removed"}],
        "",
    ),
    (
        "key in, gear on, bearing tested okay",
        [
            {"part": "key"},
            {"part": "gear"},
            {"part": "bearing", "condition": "ok", "action": "tested"},
        ],
        "",
    ),
    (
        "seven bolts, washers under each bolt",
        [{"part": "bolt", "count": 7}, {"part": "washer", "place": "under bolt"}],
        "",
    ),
    # So many here and so many there are two, if as many or of the same name.
    (
        "two bolts top two bolts bottom",
        [
            {"part": "bolt", "count": 2, "place": "top"},
            {"part": "bolt", "count": 2, "place": "bottom"},
        ],
        "",
    ),
    (
        "one bolt top one bolt bottom",
        [
            {"part": "bolt", "count": 1, "place": "top"},
            {"part": "bolt", "count": 1, "place": "bottom"},
        ],
        "",
    ),
    (
        "two shims left two shims right",
        [
            {"part": "shim", "count": 2, "side": "left"},
            {"part": "shim", "count": 2, "side": "right"},
        ],
        "",
    ),
]


@pytest.mark.parametrize(("say", "found", "left"), CASES)
def test_a_plain_remark_is_read_as_it_is_said(
    say: str, found: list[dict[str, Any]], left: str
) -> None:
    assert told(say, " | ") == (found, left)
