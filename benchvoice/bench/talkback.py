"""What the bench says aloud of the events, at the level that the user chose."""

from __future__ import annotations

from collections.abc import Callable

from benchvoice.bench.desk import Desk, Recorded
from benchvoice.bench.gate import Gate
from benchvoice.errors import AudioError
from benchvoice.grammar import Pack
from benchvoice.saying import Say, Speaker, Ties, Voice, lines_of, open_speaker, unit_words

OpenSpeaker = Callable[[Say], Speaker]


class TalkBack:
    """Says events by a voice, and keeps the gate deaf while it does.

    `say` is the level to begin with.  Raises AudioError when there is no speaker for it.
    """

    def __init__(self, pack: Pack, say: Say, speaker_for: OpenSpeaker = open_speaker) -> None:
        self._say: Say = say
        self._muted = False
        self._units = unit_words(pack)
        self._speaker_for = speaker_for
        self._speaker = speaker_for(say)
        self._voice: Voice | None = None
        self._tell: Callable[[str], None] = print

    @property
    def say(self) -> Say:
        """How much is said now."""
        return "off" if self._muted else self._say

    @property
    def speaking(self) -> bool:
        """Whether something is being said."""
        return self._voice is not None and self._voice.speaking

    def start(
        self, desk: Desk, gate: Gate, busy: Callable[[], bool], tell: Callable[[str], None]
    ) -> None:
        """Begin; `busy` says whether somebody talks, `tell` what could not be said."""
        self._tell = tell
        self._voice = Voice(
            self._speaker,
            Ties(
                clock=lambda: desk.elapsed,
                begins=gate.speaks,
                ends=gate.spoke,
                busy=busy,
                failed=tell,
            ),
        )
        self._voice.start()

    def take(self, done: Recorded) -> None:
        """Say what is to be said of an entry, after doing what it asks of the voice."""
        command = done.event.remark.command if done.event.kind == "voice" else None
        if command in ("quiet", "listen"):
            self._muted = command == "quiet"
        elif command == "silent":
            self._say = "off"
        elif command == "speak":
            self._speak()
        if self.say == "off":
            self.hush()
        elif self._voice is not None:
            self._voice.tell(lines_of(done.event, self.say, self._units, done.question))

    def hush(self) -> None:
        """Cut short what is being said, and say no more of what has been."""
        if self._voice is not None:
            self._voice.hush()

    def stop(self) -> None:
        """End."""
        if self._voice is not None:
            self._voice.stop()

    def wait_until_said(self) -> None:
        """Block until all has been said."""
        if self._voice is not None:
            self._voice.wait_until_said()

    def _speak(self) -> None:
        """Begin to speak in words, if there is a voice."""
        self._muted = False
        if self._say in ("warnings", "all"):
            return
        try:
            speaker = self._speaker_for("warnings")
        except AudioError as error:
            self._tell(str(error))
            return
        self._say = "warnings"
        if self._voice is not None:
            self._voice.use(speaker)
