"""The live bench with microphones, speakers and engines that are told what to do."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Self

import numpy as np
import pytest

from benchvoice.audio import SAMPLE_RATE, Samples, Utterance, read_blocks
from benchvoice.bench.desk import Desk, Recorded
from benchvoice.bench.ears import Ears
from benchvoice.bench.gate import Gate
from benchvoice.bench.live import LiveBench, Told
from benchvoice.bench.talkback import TalkBack
from benchvoice.errors import AudioError
from benchvoice.grammar import Outline, load_outline, load_pack
from benchvoice.hearing import Heard, Hypothesis, ScriptedEngine
from benchvoice.remark import doubt
from benchvoice.saying import FakeSpeaker, Say
from benchvoice.session import Header, ScriptedClock, read_session

START = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
RECORDINGS = Path(__file__).parents[1] / "recordings"


@pytest.fixture(scope="module")
def outline() -> Outline:
    return load_outline("reversing_gearbox")


class Engine(ScriptedEngine):
    """Gives its texts with one confidence each, over two readings that mean different things."""

    def __init__(self, *texts: tuple[str, float]) -> None:
        super().__init__(text for text, _ in texts)
        self._said = iter(texts)

    def hear(self, samples: Samples) -> Heard:
        text, confidence = next(self._said)
        return Heard((Hypothesis(text, confidence, 0.0),))


class Plugged:
    """A microphone that gives some blocks and is then pulled out, or ends."""

    level = -20.0
    behind = 0.0

    def __init__(self, blocks: list[Samples], *, pulled: bool, losses: int = 0) -> None:
        self._blocks, self._pulled, self._losses = blocks, pulled, losses
        self.overflows = 0

    def blocks(self) -> Iterator[Samples]:
        for block in self._blocks:
            self.overflows += self._losses
            yield block
        if self._pulled:
            raise AudioError("the microphone stopped giving sound", mend="plug it in again")

    def stop(self) -> None:
        pass

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        pass


def spoken() -> list[Samples]:
    """The first remark of the recording, to the middle of it and from there on."""
    samples = np.concatenate(list(read_blocks(RECORDINGS / "bench_piper.flac")))
    return [samples[at : at + 1600] for at in range(0, 3 * SAMPLE_RATE, 1600)]


def desk_of(outline: Outline, folder: Path, *texts: tuple[str, float]) -> Desk:
    ears = Ears(load_pack(outline), Engine(*texts))
    return Desk.open(ears, folder, Header(), ScriptedClock(START).clock, asks=True)


def test_a_microphone_pulled_out_and_back_loses_nothing_and_is_told_of_once(
    outline: Outline, tmp_path: Path
) -> None:
    blocks = spoken()
    dies = Plugged(blocks[:22], pulled=True)  # in the middle of the first remark
    absent = [AudioError("it cannot be opened", mend="plug it in") for _ in range(3)]
    microphones: list[Plugged | AudioError] = [dies, *absent, Plugged(blocks, pulled=False)]
    typed = threading.Event()

    def plug() -> Plugged:
        found = microphones.pop(0)
        if isinstance(found, AudioError):
            typed.wait(5.0)
            raise found
        return found

    shown: list[Recorded | Told] = []
    said = (("eight bolts off the front cover", 0.9), ("one seal cracked", 0.9))
    with desk_of(outline, tmp_path, *said) as desk:
        bench = LiveBench(desk, shown.append, plug, retry_seconds=0.01)
        bench.start()
        bench.typed("two dowel pins off the end cover")
        typed.set()
        bench.wait_for_microphone()
        bench.stop()
    told = [one.text for one in shown if isinstance(one, Told)]
    assert [text.partition(";")[0] for text in told] == [
        *("the microphone stopped giving sound", "the microphone is back"),
    ]
    heard = {one.event.remark.heard for one in shown if isinstance(one, Recorded)}
    assert heard == {*(text for text, _ in said), "two dowel pins off the end cover"}


def test_a_fault_of_listening_is_told_of_and_raised_at_the_end(
    outline: Outline, tmp_path: Path
) -> None:
    def broken() -> Plugged:
        raise ValueError("no such thing")

    shown: list[Recorded | Told] = []
    with desk_of(outline, tmp_path) as desk:
        bench = LiveBench(desk, shown.append, broken)
        bench.start()
        bench.wait_for_microphone()
        bench.typed("two dowel pins off the end cover")
        with pytest.raises(ValueError, match="no such thing"):
            bench.stop()
    told = [one.text for one in shown if isinstance(one, Told)]
    assert told == ["listening has ended (ValueError('no such thing')); the keyboard goes on"]
    assert [one.event.kind for one in shown if isinstance(one, Recorded)] == ["finding"]


def test_lost_sound_is_counted_and_told_of_rarely(outline: Outline, tmp_path: Path) -> None:
    shown: list[Recorded | Told] = []
    quiet = [np.zeros(1600, dtype=np.int16)] * 40
    with desk_of(outline, tmp_path) as desk:
        bench = LiveBench(desk, shown.append, lambda: Plugged(quiet, pulled=False, losses=1))
        bench.start()
        bench.wait_for_microphone()
        bench.stop()
    told = [one.text for one in shown if isinstance(one, Told)]
    assert bench.overflows == 40
    assert [text.partition(",")[0] for text in told] == [
        *("sound was lost (1x so far)", "sound was lost (10x so far)"),
    ]


def test_what_was_not_heard_clearly_is_asked_about_and_settled(
    outline: Outline, tmp_path: Path
) -> None:
    shown: list[Recorded | Told] = []
    speaker = FakeSpeaker()
    said = (("nine bolts off the end cover", 0.1), ("one seal cracked", 0.1))
    with desk_of(outline, tmp_path, *said) as desk:
        back = TalkBack(load_pack(outline), "warnings", lambda say: speaker)
        bench = LiveBench(desk, shown.append, talkback=back)
        bench.start()
        for text in ("", "yes", "", "no"):
            if text:
                bench.typed(text)
            else:
                bench.heard(_utterance())
        bench.stop()
    asked = [one.question for one in shown if isinstance(one, Recorded)]
    assert asked == ["9 bolts, end cover, removed, right?", None, "1 seal, cracked, right?", None]
    entries = read_session(tmp_path).entries
    assert [(entry.kind, entry.amends) for entry in entries] == [
        *(("finding", None), ("answered", 1), ("finding", None), ("struck", 3)),
    ]
    assert [entry.struck for entry in entries] == [False, False, True, False]
    assert [entry.confirmed for entry in entries] == [True, False, False, False]
    assert doubt(entries[0].remark) is None


def test_a_question_is_no_more_open_after_a_minute(outline: Outline, tmp_path: Path) -> None:
    clock = ScriptedClock(START)
    ears = Ears(load_pack(outline), Engine(("nine bolts off the end cover", 0.1)))
    with Desk.open(ears, tmp_path, Header(), clock.clock, asks=True) as desk:
        first = desk.heard(_utterance())
        assert first is not None and first.question is not None
        clock.advance(61)
        assert desk.typed("yes").event.amends is None


def test_nothing_is_asked_of_a_recording(outline: Outline, tmp_path: Path) -> None:
    ears = Ears(load_pack(outline), Engine(("nine bolts off the end cover", 0.1)))
    with Desk.open(ears, tmp_path, Header(), ScriptedClock(START).clock) as desk:
        found = desk.heard(_utterance())
    assert found is not None and found.question is None


def test_the_way_of_talking_is_changed_by_a_command(outline: Outline, tmp_path: Path) -> None:
    shown: list[Recorded | Told] = []
    gate = Gate("open", "ladybug")
    said = (("eight bolts", 0.9), ("ladybug one seal cracked", 0.9), ("two gears pitted", 0.9))
    with desk_of(outline, tmp_path, *said) as desk:
        bench = LiveBench(desk, shown.append, gate=gate)
        bench.start()
        bench.typed("hold to talk")
        bench.typed("wait for the word")
        for start in (10.0, 20.0, 60.0):
            bench.heard(_utterance(start))
        bench.typed("open the microphone")
        bench.stop()
    told = [one.text for one in shown if isinstance(one, Told)]
    assert "--hold" in told[0]
    assert '"ladybug"' in told[1]
    assert "open" in told[2]
    found = [one.event.remark.heard for one in shown if isinstance(one, Recorded)]
    assert found[2:-1] == ["one seal cracked"]
    assert bench.passed_over == 2


def test_the_voice_is_muted_by_quiet_changed_by_command_and_cut_by_typing(
    outline: Outline, tmp_path: Path
) -> None:
    levels: list[Say] = []
    speaker = FakeSpeaker()

    def speaker_for(say: Say) -> FakeSpeaker:
        levels.append(say)
        return speaker

    with desk_of(outline, tmp_path) as desk:
        back = TalkBack(load_pack(outline), "off", speaker_for)
        bench = LiveBench(desk, lambda item: None, talkback=back)
        bench.start()
        for text in ("nine bolts off the end cover", "speak to me", "what comes next"):
            bench.typed(text)
        bench.typed("be quiet")
        bench.typed("eight bolts off the end cover")
        bench.typed("listen again")
        assert back.say in ("off", "warnings")
        bench.typing()
        bench.stop()
    assert levels == ["off", "warnings"]
    assert back.say == "warnings"
    assert not any("nine said" in text or "eight said" in text for text, _ in speaker.said)


def test_a_warning_is_cut_short_by_typing_and_the_bench_never_waits_for_it(
    outline: Outline, tmp_path: Path
) -> None:
    inside, go_on = threading.Event(), threading.Event()

    def say(text: str) -> None:
        inside.set()
        go_on.wait(10.0)

    speaker = FakeSpeaker(say)
    shown: list[Recorded | Told] = []
    with desk_of(outline, tmp_path) as desk:
        back = TalkBack(load_pack(outline), "warnings", lambda say: speaker)
        bench = LiveBench(desk, shown.append, talkback=back)
        bench.start()
        bench.typed("nine bolts off the end cover")
        assert inside.wait(10.0)
        assert bench.speaking
        assert not bench.gate.sound(desk.elapsed, desk.elapsed + 0.1)
        bench.typed("two dowel pins off the end cover")  # taken in while it speaks
        bench.typing()
        assert speaker.stops == 1
        while len(shown) < 2:
            go_on.wait(0.01)
        go_on.set()
        bench.stop()
    assert [one.event.kind for one in shown if isinstance(one, Recorded)] == ["finding", "finding"]


def _utterance(start: float = 1.0) -> Utterance:
    return Utterance(np.zeros(SAMPLE_RATE, dtype=np.int16), start, start + 1.0)
