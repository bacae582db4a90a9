"""The thread that says what waits to be said, so that the bench never waits for it."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from benchvoice.errors import AudioError
from benchvoice.saying.lines import Line
from benchvoice.saying.pending import Pending
from benchvoice.saying.speakers import Speaker

_POLL = 0.05
_MANNERS = 3.0
"""Seconds for which somebody who is talking is not talked over; a noise that is taken for a voice
must not silence a warning for longer."""


def _nothing(at: float) -> None:
    pass


@dataclass(frozen=True)
class Ties:
    """How a voice is tied to the bench.

    `clock` gives seconds of the sitting.  `begins` and `ends` are told when
    it speaks, so that the microphone can be deaf; `busy` tells whether
    somebody is talking; `failed` is told once when nothing can be said.
    """

    clock: Callable[[], float]
    begins: Callable[[float], None] = _nothing
    ends: Callable[[float], None] = _nothing
    busy: Callable[[], bool] = lambda: False
    failed: Callable[[str], None] = lambda text: None


class Voice:
    """Says lines by a speaker, from `start` to `stop`."""

    def __init__(self, speaker: Speaker, ties: Ties) -> None:
        self._speaker = speaker
        self._ties = ties
        self._pending = Pending()
        self._changed = threading.Condition()
        self._ending = False
        self._speaking: Line | None = None
        self._told = False
        self._thread = threading.Thread(target=self._run, name="voice", daemon=True)

    @property
    def name(self) -> str:
        """The speaker's name."""
        return self._speaker.name

    @property
    def speaking(self) -> bool:
        """Whether something is being said."""
        return self._speaking is not None

    def start(self) -> None:
        """Begin to say what is told."""
        self._thread.start()

    def tell(self, lines: Iterable[Line]) -> None:
        """Have lines said in their turn; returns at once.

        What is pressing cuts short what is not.
        """
        with self._changed:
            urgent = False
            for line in lines:
                self._pending.put(line, self._ties.clock())
                urgent = urgent or line.urgency.pressing
            self._changed.notify()
            cut = urgent and self._speaking is not None and not self._speaking.urgency.pressing
        if cut:
            self._speaker.stop()

    def use(self, speaker: Speaker) -> None:
        """Go on with another speaker."""
        self._speaker = speaker
        self._told = False

    def hush(self) -> None:
        """Cut short what is being said and forget what waits."""
        with self._changed:
            self._pending.clear()
            speaking = self._speaking
        if speaking is not None:
            self._speaker.stop()

    def stop(self) -> None:
        """Say no more, and end."""
        with self._changed:
            self._ending = True
            self._changed.notify()
        self.hush()
        if self._thread.is_alive():
            self._thread.join()

    def wait_until_said(self) -> None:
        """Block until nothing waits and nothing is being said."""
        with self._changed:
            self._changed.wait_for(lambda: not self._pending and self._speaking is None)

    def _run(self) -> None:
        while (line := self._next()) is not None:
            began = self._ties.clock()
            self._ties.begins(began)
            try:
                self._speaker.say(line.text, line.urgency.pressing)
            except AudioError as error:
                if not self._told:
                    self._ties.failed(str(error))
                self._told = True
            finally:
                self._ties.ends(self._ties.clock())
                with self._changed:
                    self._speaking = None
                    self._changed.notify_all()

    def _next(self) -> Line | None:
        """Wait for a line and for a moment in which nobody talks; None at the end."""
        waited = 0.0
        with self._changed:
            while not self._ending:
                if not self._pending:
                    waited = 0.0
                    self._changed.wait()
                elif waited < _MANNERS and self._ties.busy():
                    self._changed.wait(_POLL)
                    waited += _POLL
                else:
                    line = self._pending.take(self._ties.clock())
                    if line is not None:
                        self._speaking = line
                        return line
                    self._changed.notify_all()
        return None
