"""Remarks and chatter to be spoken for the hearing benchmarks, with what they mean.

There is a development set, which settings may be chosen on, and a test set
that shares no text with it.  What was drawn from the grammar stands in a file, so that figures can
be compared after the grammar has changed; where it has changed much, draw anew:

    python tests/benchmarks/hearing_sets.py
"""

from __future__ import annotations

import random
import re
import sys
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import msgspec

ROOT = Path(__file__).resolve().parents[2]
HERE = ("remarks", "recordings", "grammar")
sys.path[:0] = [str(ROOT), *(str(ROOT / "tests" / name) for name in HERE)]

from scoring import Truth, load_not_ours, load_remarks  # noqa: E402
from truth import generate_with_truth  # noqa: E402
from voices import PACES, VOICES  # noqa: E402

from benchvoice.grammar import Pack, load_outline, load_pack  # noqa: E402
from benchvoice.remark import Finding  # noqa: E402

OUTLINE = "reversing_gearbox"
DRAWN = ROOT / "tests" / "benchmarks" / "hearing_drawn.jsonl"
_SEEDS = {"dev": 3000, "test": 3001}
_KEPT = 400
"""How many remarks of each set are drawn."""
_DIGIT = re.compile(r"[\d/]")


@dataclass(frozen=True)
class Said:
    """One remark in one voice; `pace` is its length against the voice's own."""

    truth: Truth
    voice: str
    pace: float


def bench_pack() -> Pack:
    """The pack with the outline of the demo, with which everything is heard."""
    return load_pack(load_outline(OUTLINE))


class Drawn(msgspec.Struct, frozen=True):
    """A remark drawn from the grammar, and what it says."""

    which: str
    say: str
    find: dict[str, Any]


def remarks(which: str, count: int, voices: Sequence[str] = VOICES) -> list[Said]:
    """Give `count` remarks of the set "dev" or "test": a third each from the three sources.

    Voices go round by turns, paces likewise.
    """
    rng = random.Random(f"{which} remarks")
    held = which == "test"
    script = _script()[held::2]
    written = [t for t in load_remarks(held=held) if not t.clumsy and not _DIGIT.search(t.say)]
    drawn = _drawn(which)
    sources = [rng.sample(one, min(len(one), -(-count // 3))) for one in (script, written, drawn)]
    truths = [truth for group in zip(*sources, strict=False) for truth in group]
    truths += [truth for truth in drawn if truth not in truths][: count - len(truths)]
    rng.shuffle(truths)  # so that no voice has one source only
    return [
        Said(truth, voices[at % len(voices)], PACES[at // len(voices) % len(PACES)])
        for at, truth in enumerate(truths[:count])
    ]


def chatter(which: str) -> list[str]:
    """Give texts of ordinary English that are no remarks: everyday talk and a story."""
    story = (ROOT / "tests" / "recordings" / "story.txt").read_text(encoding="utf-8")
    texts = [*load_not_ours(), *story.splitlines()]
    return [text for text in texts[which == "test" :: 2] if text.strip()]


def plain(text: str) -> str:
    """Take out what is not heard: capitals and punctuation."""
    return " ".join(re.sub(r"[^a-z' ]", " ", text.lower()).split())


def _script() -> list[Truth]:
    table = tomllib.loads((ROOT / "demo_sessions" / "script.toml").read_text(encoding="utf-8"))
    return [
        msgspec.convert(
            {
                "say": one["say"],
                "kind": one["kind"],
                "command": one.get("command"),
                "number": one.get("number"),
                "find": one.get("finding", ()),
            },
            Truth,
        )
        for one in table["remark"]
    ]


def _drawn(which: str) -> list[Truth]:
    lines = msgspec.json.Decoder(Drawn).decode_lines(DRAWN.read_bytes())
    return [
        Truth(say=one.say, find=(msgspec.convert(one.find, Finding),))
        for one in lines
        if one.which == which
    ]


def draw(pack: Pack) -> None:
    """Draw both sets from the grammar as it is, into the file."""
    found = [
        Drawn(which, say, fields)
        for which, seed in _SEEDS.items()
        for say, fields in generate_with_truth(pack, _KEPT, seed)
    ]
    DRAWN.write_bytes(msgspec.json.Encoder().encode_lines(found))


if __name__ == "__main__":
    draw(bench_pack())
