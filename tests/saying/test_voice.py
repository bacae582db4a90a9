from __future__ import annotations

import threading

from benchvoice.errors import AudioError
from benchvoice.saying import FakeSpeaker, Line, Ties, Urgency, Voice

WARNING = Line("nine of ten", Urgency.WARNING)
ENTRY = Line("nine bolts", Urgency.ENTRY)


def test_lines_are_said_in_their_turn_and_the_bench_is_told_of_begin_and_end() -> None:
    times: list[tuple[str, float]] = []
    now = [100.0]
    speaker = FakeSpeaker(lambda text: now.__setitem__(0, now[0] + 2.0))
    ties = Ties(
        clock=lambda: now[0],
        begins=lambda at: times.append(("begins", at)),
        ends=lambda at: times.append(("ends", at)),
    )
    voice = Voice(speaker, ties)
    voice.tell([ENTRY, WARNING])
    voice.start()
    voice.wait_until_said()
    voice.stop()
    assert speaker.said == [("nine of ten", True), ("nine bolts", False)]
    assert times == [("begins", 100.0), ("ends", 102.0), ("begins", 102.0), ("ends", 104.0)]


def test_what_is_being_said_is_cut_short_by_hush_and_by_a_warning() -> None:
    inside, go_on = threading.Event(), threading.Event()

    def say(text: str) -> None:
        inside.set()
        go_on.wait(5.0)

    speaker = FakeSpeaker(say)
    voice = Voice(speaker, Ties(clock=lambda: 0.0))
    voice.start()
    voice.tell([ENTRY])
    assert inside.wait(5.0)
    assert voice.speaking
    voice.tell([ENTRY])
    assert speaker.stops == 0
    voice.tell([WARNING])
    assert speaker.stops == 1
    voice.hush()
    assert speaker.stops == 2
    go_on.set()
    voice.wait_until_said()
    voice.stop()
    assert speaker.said == [("nine bolts", False)]  # hush forgot what waited


def test_nobody_is_talked_over_but_a_noise_does_not_silence_it_for_good() -> None:
    asked = []

    def busy() -> bool:
        asked.append(1)
        return len(asked) < 4

    speaker = FakeSpeaker()
    voice = Voice(speaker, Ties(clock=lambda: 0.0, busy=busy))
    voice.start()
    voice.tell([WARNING])
    voice.wait_until_said()
    voice.stop()
    assert speaker.said == [("nine of ten", True)]
    assert len(asked) == 4


def test_a_speaker_that_fails_is_told_of_once_and_the_rest_goes_on() -> None:
    def fail(text: str) -> None:
        raise AudioError("nothing can be played", mend="choose --say off")

    told: list[str] = []
    speaker = FakeSpeaker(fail)
    voice = Voice(speaker, Ties(clock=lambda: 0.0, failed=told.append))
    voice.start()
    for number in range(3):
        voice.tell([Line(f"{number} of ten", Urgency.WARNING)])
    voice.wait_until_said()
    voice.stop()
    assert len(speaker.said) == 3
    assert told == ["nothing can be played; choose --say off"]
