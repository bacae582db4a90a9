"""Texts of talk that is not for the bench, by kind, in two halves that share nothing.

Everyday talk and a story (`tests/remarks`, `tests/recordings`), what
`chatter.toml` draws, and example sentences of WordNet where its database is
there (`apt install wordnet-base`; the texts are not kept here).
"""

from __future__ import annotations

import random
import re
import tomllib
from pathlib import Path
from typing import Literal

from hearing_sets import chatter

Half = Literal["dev", "test"]
WORDNET = Path("/usr/share/wordnet")
_CHOICE = re.compile(r"\[([^\]]*)\]")
_EXAMPLE = re.compile(r'"([A-Za-z][a-z ,\']+[a-z.!?])"')
_FEWEST_WORDS, _MOST_WORDS = 4, 16


def talk(half: Half, sentences: int, draws: int = 3) -> dict[str, list[str]]:
    """Give texts by kind: as many `sentences` of WordNet, and `draws` of each invented line."""
    found = {"told": chatter(half), **_invented(half, draws)}
    examples = _examples(half)
    rng = random.Random(f"{half} sentences")
    return found | {"sentences": rng.sample(examples, min(sentences, len(examples)))}


def _invented(half: Half, draws: int) -> dict[str, list[str]]:
    path = Path(__file__).with_suffix(".toml")
    table = tomllib.loads(path.read_text(encoding="utf-8"))[half]
    rng = random.Random(f"{half} invented")

    def draw(line: str) -> str:
        return _CHOICE.sub(lambda found: rng.choice(found[1].split("|")), line)

    return {
        kind: sorted({draw(line) for line in lines for _ in range(draws)})
        for kind, lines in table.items()
    }


def _examples(half: Half) -> list[str]:
    """Give the example sentences of the entries whose offset is odd (test) or even (dev)."""
    found: dict[str, bool] = {}
    for path in sorted(WORDNET.glob("data.*")):
        for line in path.read_text(encoding="latin-1").splitlines():
            odd = line[:8].isdigit() and int(line[:8]) % 2 == 1
            for text in _EXAMPLE.findall(line):
                if _FEWEST_WORDS <= len(text.split()) <= _MOST_WORDS:
                    found.setdefault(text.lower().rstrip(".!?"), odd)
    return [text for text, odd in found.items() if odd == (half == "test")]
