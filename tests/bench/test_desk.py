from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from unittest.mock import Mock

import numpy as np
import pytest
import soundfile

from benchvoice.audio import SAMPLE_RATE, FileMicrophone, Samples, Utterance
from benchvoice.bench.desk import Desk, Recorded
from benchvoice.bench.ears import Ears
from benchvoice.bench.live import LiveBench, Told
from benchvoice.bench.past import past_times
from benchvoice.bench.replay import replay
from benchvoice.errors import AudioError, SessionError
from benchvoice.grammar import Outline, load_outline, load_pack
from benchvoice.hearing import Heard, ScriptedEngine
from benchvoice.session import Header, Journal, ScriptedClock, read_session

START = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
RECORDINGS = Path(__file__).parents[1] / "recordings"


@pytest.fixture(scope="module")
def outline() -> Outline:
    return load_outline("reversing_gearbox")


def ears(outline: Outline, *texts: str) -> Ears:
    return Ears(load_pack(outline), ScriptedEngine(texts))


def utterance(start: float, seconds: float = 1.0) -> Utterance:
    samples = np.zeros(round(seconds * SAMPLE_RATE), dtype=np.int16)
    return Utterance(samples=samples, start=start, end=start + seconds)


def journal(folder: Path) -> list[dict[str, object]]:
    lines = (folder / "session.jsonl").read_text(encoding="utf-8").splitlines()
    return [json.loads(line) for line in lines]


def test_heard_and_typed_are_on_the_disk_with_the_clip(outline: Outline, tmp_path: Path) -> None:
    clock = ScriptedClock(START)
    with Desk.open(
        ears(outline, "nine bolts off the end cover"), tmp_path, Header(), clock.clock
    ) as desk:
        first = desk.heard(utterance(12.0))
        assert first is not None
        clock.advance(60)
        second = desk.typed("one seal cracked")
        on_disk = [line for line in journal(tmp_path) if line.get("record") == "event"]
        assert [line["seq"] for line in on_disk] == [first.event.seq, second.event.seq]
    assert "10 bolts expected, 9 said" in first.event.warnings[0]
    clip, rate = soundfile.read(tmp_path / str(first.clip))
    assert (clip.size, rate) == (SAMPLE_RATE, SAMPLE_RATE)
    assert (on_disk[0]["t"], on_disk[0]["end"], on_disk[1]["t"]) == (12.0, 13.0, 60.0)
    assert on_disk[1]["remark"]["confidence"] is None  # type: ignore[index]


def test_what_is_not_understood_is_kept_with_its_clip(outline: Outline, tmp_path: Path) -> None:
    with Desk.open(
        ears(outline, "the of two and"), tmp_path, Header(), ScriptedClock(START).clock
    ) as desk:
        found = desk.heard(utterance(1.0))
    assert found is not None
    assert found.event.kind == "unclear"
    assert (tmp_path / str(found.clip)).is_file()


def test_be_quiet_hears_nothing_until_listen_again(outline: Outline, tmp_path: Path) -> None:
    said = ("be quiet", "eight bolts", "listen again", "one seal cracked")
    with Desk.open(ears(outline, *said), tmp_path, Header(), ScriptedClock(START).clock) as desk:
        found = [desk.heard(utterance(float(at))) for at in range(4)]
    assert [one is None for one in found] == [False, True, False, False]


class Unclear(ScriptedEngine):
    """Is not sure of anything."""

    def hear(self, samples: Samples) -> Heard:
        heard = super().hear(samples)
        unsure = (replace(one, confidence=0.3 * one.confidence) for one in heard.hypotheses)
        return replace(heard, hypotheses=tuple(unsure))


def test_be_quiet_is_to_be_heard_clearly_or_twice(outline: Outline, tmp_path: Path) -> None:
    """A radio that is taken for it must not end all listening."""
    engine = Unclear(("be quiet", "eight bolts", "be quiet", "be quiet", "one seal cracked"))
    unsure = Ears(load_pack(outline), engine)
    with Desk.open(unsure, tmp_path, Header(), ScriptedClock(START).clock) as desk:
        found = [desk.heard(utterance(float(at))) for at in range(5)]
    assert [one and one.event.kind for one in found] == [
        *("unclear", "finding", "unclear", "voice"),
        None,
    ]


def test_a_header_that_cannot_be_written_leaves_the_session_free(
    outline: Outline, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Desk.open(ears(outline), tmp_path, Header(), ScriptedClock(START).clock):
        pass
    full = SessionError("no space", mend="make room")
    with monkeypatch.context() as patch, pytest.raises(SessionError):
        patch.setattr(Journal, "amend_header", Mock(side_effect=full))
        Desk.open(ears(outline), tmp_path, Header(job="J-2"), ScriptedClock(START).clock)
    with Desk.open(ears(outline), tmp_path, Header(job="J-2"), ScriptedClock(START).clock) as desk:
        desk.typed("drain plug out")
    assert read_session(tmp_path).header.job == "J-2"


def test_a_job_goes_on_another_day_with_the_clock_stopped(outline: Outline, tmp_path: Path) -> None:
    monday = ScriptedClock(START)
    with Desk.open(
        ears(outline), tmp_path, Header(outline="reversing_gearbox", job="J-1"), monday.clock
    ) as desk:
        desk.typed("start the oil drain")
        monday.advance(600)
        desk.typed("drain plug out")
    tuesday = ScriptedClock(datetime(2026, 3, 3, 9, 0, tzinfo=UTC))
    with Desk.open(ears(outline), tmp_path, Header(who="second bench"), tuesday.clock) as desk:
        assert desk.state.current == "drain"
        tuesday.advance(300)
        desk.typed("finish this step")
    session = read_session(tmp_path)
    assert (session.header.job, session.header.who) == ("J-1", "second bench")
    (times,) = past_times([tmp_path], outline)
    assert times.minutes["drain"] == pytest.approx(15.0)


def test_replay_gives_times_of_the_recording_and_refuses_it_twice(
    outline: Outline, tmp_path: Path
) -> None:
    audio = RECORDINGS / "bench_piper.flac"
    script = json.loads((RECORDINGS / "script.json").read_text(encoding="utf-8"))["bench_piper"]
    said = ears(outline, *(one["text"] for one in script))
    told: list[float] = []
    found = list(
        replay(
            said,
            audio,
            tmp_path,
            Header(),
            started=START,
            progress=lambda done, whole: told.append(done / whole),
        )
    )
    assert [one.event.remark.heard for one in found] == [one["text"] for one in script]
    for one, truth in zip(found, script, strict=True):
        assert one.event.at == pytest.approx(truth["start"], abs=0.5)
    assert told[-1] == pytest.approx(1.0)
    assert read_session(tmp_path).sittings[0].closed is not None
    with pytest.raises(SessionError, match="made from this recording already"):
        list(replay(said, audio, tmp_path, Header(), started=START))


def test_a_recording_that_is_not_there_is_said(outline: Outline, tmp_path: Path) -> None:
    made = replay(ears(outline), tmp_path / "none.flac", tmp_path, Header(), started=START)
    with pytest.raises(AudioError, match="there is no such recording"):
        next(made)


def test_the_live_bench_takes_a_microphone_and_the_keyboard(
    outline: Outline, tmp_path: Path
) -> None:
    script = json.loads((RECORDINGS / "script.json").read_text(encoding="utf-8"))["bench_piper"]
    shown: list[Recorded | Told] = []
    with Desk.open(
        ears(outline, *(one["text"] for one in script)),
        tmp_path,
        Header(),
        ScriptedClock(START).clock,
    ) as desk:
        bench = LiveBench(
            desk, shown.append, lambda: FileMicrophone(RECORDINGS / "bench_piper.flac")
        )
        bench.start()
        bench.wait_for_microphone()
        bench.typed("eight bolts off the side cover")
        bench.stop()
    heard = [one.event.remark.heard for one in shown if isinstance(one, Recorded)]
    assert heard == [*(one["text"] for one in script), "eight bolts off the side cover"]


def test_a_lost_microphone_is_told_of_and_the_keyboard_goes_on(
    outline: Outline, tmp_path: Path
) -> None:
    shown: list[Recorded | Told] = []

    def gone() -> FileMicrophone:
        raise AudioError("there is no microphone", mend="plug one in")

    with Desk.open(ears(outline), tmp_path, Header(), ScriptedClock(START).clock) as desk:
        bench = LiveBench(desk, shown.append, gone)
        bench.start()
        bench.typed("one seal cracked")
        bench.stop()
    texts = [one.text for one in shown if isinstance(one, Told)]
    assert any("the keyboard goes on" in text for text in texts)
    assert [one.event.kind for one in shown if isinstance(one, Recorded)] == ["finding"]
