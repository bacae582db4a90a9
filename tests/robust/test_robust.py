"""Bad input of every kind: an answer or one clear line, never a traceback.

Hypothesis is the reference, and the real files that come along are what is mutated.  A longer run,
led by coverage: tests/benchmarks/fuzz.py.
"""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import numpy as np
import pytest
import soundfile
from hypothesis import example, given, settings
from hypothesis import strategies as st
from robust_help import NASTY, audio, journal, one_line, outline, remark, vocabulary

from benchvoice.bench.ears import Ears
from benchvoice.follow import State
from benchvoice.grammar import load_outline, load_pack
from benchvoice.session import read_session
from benchvoice.session.lines import one_line as journal_line

ROOT = Path(__file__).parents[2]
OUTLINE = (ROOT / "grammars" / "outlines" / "worm_reducer.toml").read_bytes()
TRADE = sorted((ROOT / "grammars" / "trade").glob("*.toml"))
HISTORY = ROOT / "demo_sessions" / "history" / "invented_02" / "session.jsonl"
VALUE = re.compile(rb'"[^"\n]*"|\b\d+(\.\d+)?\b|\[[^\[\]\n]*\](?=\n)')

quick = settings(deadline=None, max_examples=25)


@st.composite
def mutated(draw: st.DrawFn, content: bytes) -> bytes:
    """Put nasty values, or values from elsewhere in it, where others stand in a TOML file."""
    for _ in range(draw(st.integers(1, 3))):
        places = [match.span() for match in VALUE.finditer(content)]
        start, end = draw(st.sampled_from(places))
        other = draw(st.sampled_from(places))
        nasty = st.sampled_from(NASTY).map(str.encode)
        value = draw(nasty | st.just(content[other[0] : other[1]]))
        content = content[:start] + value + content[end:]
    return content


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("robust")


@quick
@example(content=OUTLINE.replace(b'title = "Drain the oil"', b'title = "The"'))
@given(content=mutated(OUTLINE))
def test_any_outline(folder: Path, content: bytes) -> None:
    told = outline(content, folder)
    assert told is None or told.startswith(str(folder / "own.toml"))


@quick
@given(data=st.data())
def test_any_vocabulary(folder: Path, data: st.DataObject) -> None:
    content = data.draw(mutated(data.draw(st.sampled_from(TRADE)).read_bytes()))
    told = vocabulary(content, folder)
    assert told is None or told.startswith(str(folder / "own.toml"))


@pytest.mark.parametrize(
    ("old", "new", "match"),
    [
        ('length = "20 mm"', 'length = "long"', "is no length"),
        ('head = "13 mm"', 'head = "-3 mm"', "is no length"),
        ('thread = "M10x1.5"', 'thread = "coarse"', "is no thread"),
        ("count = 2", "count = 999999999", "count of 1 to"),
        ("minutes = 10", "minutes = inf", "is no time"),
        ('name = "worm_reducer"', 'name = "../worm"', "cannot be part of a file name"),
    ],
)
def test_mistakes_in_an_outline_are_named_by_line(
    folder: Path, old: str, new: str, match: str
) -> None:
    text = OUTLINE.decode()
    assert old in text
    told = outline(text.replace(old, new, 1).encode(), folder)
    assert told is not None
    assert match in told
    assert f":{text[: text.index(old)].count(chr(10)) + 1}:" in told


@quick
@given(data=st.data())
def test_any_journal(folder: Path, data: st.DataObject) -> None:
    """Records that are whole by their checksums may still say anything."""
    lines = HISTORY.read_bytes().splitlines()[: data.draw(st.integers(1, 12))]
    records = [json.loads(line) for line in lines]
    for _ in range(data.draw(st.integers(1, 4))):
        where = data.draw(st.sampled_from(records))
        while isinstance(where, dict):
            key = data.draw(st.sampled_from(sorted(where) or ["record"]))
            if not isinstance(where.get(key), dict) or data.draw(st.booleans()):
                break
            where = where[key]
        anything = st.sampled_from([None, True, -1, 0, 1, 10**20, 1e300, "", "../x", "amendment"])
        where[key] = data.draw(anything | st.lists(st.integers(0, 9)) | st.just({"a": [1]}))
    journal(b"".join(journal_line(one, n) for n, one in enumerate(records, start=1)), folder)


@quick
@given(content=st.binary(max_size=300))
def test_any_bytes_as_a_journal(folder: Path, content: bytes) -> None:
    first = journal_line({"schema": 2}, 1)
    journal(content, folder)
    journal(first + content, folder)


@pytest.fixture(scope="module")
def ears() -> Ears:
    return Ears(load_pack(load_outline("worm_reducer")), None)


_WORDS = st.sampled_from(
    "two 3/8-16 M8x1.25 0/0 1/0 99999999999999999999 -3 1e5 \u00bd \u00b2 \u0663 \u2167 \u0130 "
    "bolts off the front cover no make that next half an inch mm ' \" - 10\u00b0 5'' +0.002 1,000 "
    "of by m x point oh hundred strike go to seal \u202e \x00 \ud800 {part} (a|b)".split(" ")
)


@settings(deadline=None, max_examples=150)
@given(text=st.text(max_size=60) | st.lists(_WORDS, max_size=12).map(" ".join))
def test_any_remark(ears: Ears, text: str) -> None:
    assert remark(text, ears, State()) is None


def recording(rate: int, channels: int, kind: str, samples: np.ndarray) -> bytes:  # type: ignore[type-arg]
    file = io.BytesIO()
    wide = np.repeat(samples[:, None], channels, axis=1)
    soundfile.write(file, wide, rate, format=kind, subtype="FLOAT" if kind == "WAV" else "PCM_24")
    return file.getvalue()


@quick
@given(
    rate=st.sampled_from([8_000, 11_025, 16_000, 44_100, 96_000, 192_000]),
    channels=st.integers(1, 8),
    kind=st.sampled_from(["WAV", "FLAC"]),
    data=st.data(),
)
def test_any_recording(
    folder: Path, rate: int, channels: int, kind: str, data: st.DataObject
) -> None:
    value = data.draw(st.sampled_from([0.0, 1.0, -1.0, 0.3, np.nan, np.inf, 1e30]))
    samples = np.full(rate // 4, value, dtype=np.float32)
    samples[:: data.draw(st.integers(2, 50))] *= -1
    if kind == "FLAC":
        samples = np.clip(np.nan_to_num(samples), -1, 1)
    content = recording(rate, channels, kind, samples)
    assert audio(content, folder) is None
    cut = content[: data.draw(st.integers(0, len(content) - 1))]
    audio(cut, folder)
    wrong = bytearray(content)
    for at in data.draw(st.lists(st.integers(0, 80), max_size=6)):
        wrong[at] = data.draw(st.integers(0, 255))
    audio(bytes(wrong), folder)


def test_a_recording_of_one_sample_a_second_is_refused(folder: Path) -> None:
    content = recording(1, 1, "WAV", np.zeros(10, dtype=np.float32))
    told = audio(content, folder)
    assert told is not None
    assert "1 samples a second" in told


def test_bytes_that_are_no_text_are_kept_as_far_as_they_are(ears: Ears, tmp_path: Path) -> None:
    typed = b"\xff\xfe two bolts".decode("utf-8", "surrogateescape")
    assert ears.read(typed).heard == "?? two bolts"
    path = tmp_path / "session.jsonl"
    header = {"record": "header", "job": typed}
    path.write_bytes(journal_line({"schema": 2}, 1) + journal_line(header, 2))
    assert read_session(tmp_path).header.job == "?? two bolts"
    assert one_line(lambda: read_session(tmp_path / typed)) is not None
