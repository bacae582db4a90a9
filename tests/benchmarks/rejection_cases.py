"""What is known of each utterance that was heard, kept in a file so that fitting is free.

`gather` hears the sounds of `rejection_sounds.py`; a case has the numbers that
`benchvoice/bench/signs.py` goes by, and what would become of the utterance
were nothing refused.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import chain
from pathlib import Path

import msgspec
from chatter import Half
from hearing_noise import Bench
from rejection_sounds import Spoken, people, radio, spoken_remarks, spoken_talk
from scoring import is_exact
from voices import RATE

from benchvoice.bench import signs_weights, signs_weights_second
from benchvoice.bench.signs import Signs, signs_of, weighed


class Case(msgspec.Struct, frozen=True, kw_only=True):
    """One utterance; `confidence` and `entry` are what they were if nothing were refused.

    `exact` tells whether a remark then came out exactly right; `signs` are
    None when nothing was heard.
    """

    source: str
    setting: str
    voice: str
    text: str
    heard: str
    seconds: float
    entry: bool
    confidence: float
    exact: bool
    signs: Signs | None


def gather(
    bench: Bench,
    half: Half,
    *,
    remarks: int,
    sentences: int,
    radio_minutes: int,
    folders: Iterable[Path] = (),
) -> Iterator[Case]:
    """Speak and hear it all: a third of an hour of processor time for an hour of talk."""
    sounds = chain(
        spoken_remarks(half, remarks),
        spoken_talk(half, sentences),
        radio(half, radio_minutes, bench.denoiser),
        *(people(folder, bench.denoiser) for folder in folders),
    )
    return (_heard(bench, one) for one in sounds)


def _heard(bench: Bench, spoken: Spoken) -> Case:
    heard = bench.engine.hear(spoken.samples)
    remark = bench.read(replace(heard, clues=None, trusted=True))
    return Case(
        source=spoken.source,
        setting=spoken.setting,
        voice=spoken.voice,
        text=spoken.text,
        heard=remark.heard,
        seconds=round(spoken.samples.size / RATE, 2),
        entry=remark.kind != "unclear",
        confidence=remark.confidence or 0.0,
        exact=spoken.said is not None and is_exact(spoken.said.truth, remark),
        signs=None if heard.clues is None else signs_of(heard.clues, remark),
    )


def write_cases(path: Path, cases: Iterable[Case]) -> None:
    """Keep cases, a line of JSON each."""
    with path.open("wb") as file:
        for case in cases:
            file.write(msgspec.json.encode(case) + b"\n")


def odds_of(case: Case) -> float:
    """Give the log odds that it was not for the bench; without any signs there is no doubt."""
    if case.signs is None:
        return -math.inf
    fitted = signs_weights_second if case.signs.apart else signs_weights
    return weighed(case.signs, fitted.WEIGHTS, fitted.BIAS)


def read_cases(path: Path) -> list[Case]:
    """Read what `write_cases` kept."""
    return [msgspec.json.decode(line, type=Case) for line in path.read_bytes().splitlines()]
