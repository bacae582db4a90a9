"""The live bench: microphone and keyboard into one queue, one worker at the desk."""

from __future__ import annotations

import queue
import threading
from collections.abc import Callable
from dataclasses import dataclass

from benchvoice.audio import CutSettings, MicrophoneLike, Utterance
from benchvoice.audio.denoise import Denoiser
from benchvoice.bench.desk import Desk, Recorded
from benchvoice.bench.gate import Gate, Mode
from benchvoice.bench.intake import Intake
from benchvoice.bench.talkback import TalkBack
from benchvoice.errors import AudioError, BadInput

OpenMicrophone = Callable[[], MicrophoneLike]

_RETRY_SECONDS = 2.0

_MODES: dict[str, Mode] = {
    "open ear": "open",
    "wait for the word": "attention",
    "hold to talk": "hold",
}
"""Commands that change the way of talking."""


@dataclass(frozen=True, slots=True)
class Told:
    """Something to tell the user that is no event ("the microphone is gone")."""

    text: str


@dataclass(frozen=True, slots=True)
class _Typed:
    text: str


@dataclass(frozen=True, slots=True)
class _Likely:
    utterance: Utterance


@dataclass(frozen=True, slots=True)
class _Stop:
    pass


Show = Callable[[Recorded | Told], None]


class LiveBench:
    """Runs a desk from a microphone and typed lines until `stop`.

    All remarks pass one worker thread in the order they came, so the desk is
    never used by two.  A microphone that is lost is told of and tried again;
    the session goes on by keyboard meanwhile.  `gate` says what counts, `talkback`
    says aloud what comes of it; without them all counts and nothing is said.
    """

    def __init__(
        self,
        desk: Desk,
        show: Show,
        microphone: OpenMicrophone | None = None,
        settings: CutSettings | None = None,
        denoiser: Denoiser | None = None,
        *,
        gate: Gate | None = None,
        talkback: TalkBack | None = None,
        retry_seconds: float = _RETRY_SECONDS,
    ) -> None:
        self._desk = desk
        self._show = show
        self._open = microphone
        self._settings = settings
        self._denoiser = denoiser
        self.gate = gate or Gate()
        """What counts of what is said."""
        self._back = talkback
        self._retry_seconds = retry_seconds
        self._queue: queue.Queue[Utterance | _Likely | _Typed | Told | _Stop] = queue.Queue()
        self._ending = threading.Event()
        self._failed: BaseException | None = None
        self._ear: threading.Thread | None = None
        self._worker = threading.Thread(target=self._work, name="desk", daemon=True)
        self._microphone: MicrophoneLike | None = None
        self._intake: Intake | None = None
        self.overflows = 0
        """How often sound of the microphone was lost."""
        self.passed_over = 0
        """How many utterances did not count: they were not for the bench."""

    @property
    def level(self) -> float | None:
        """Level of the microphone in dBFS; None without one."""
        return None if self._microphone is None else self._microphone.level

    @property
    def speaking(self) -> bool:
        """Whether the bench itself is speaking, and so does not listen."""
        return self._back is not None and self._back.speaking

    def start(self) -> None:
        """Begin to listen and to work."""
        if self._back is not None:
            self._back.start(self._desk, self.gate, self._somebody_talks, self._tell)
        self._worker.start()
        if self._open is not None:
            self._ear = threading.Thread(target=self._listen, name="ear", daemon=True)
            self._ear.start()

    def typed(self, text: str) -> None:
        """Put in a typed line."""
        self._queue.put(_Typed(text))

    def heard(self, utterance: Utterance) -> None:
        """Put in an utterance; its times are seconds of the sitting."""
        self._queue.put(utterance)

    def typing(self) -> None:
        """The user has begun to type: what is being said is cut short."""
        if self._back is not None:
            self._back.hush()

    def key(self) -> None:
        """The hold-to-talk key was pressed or has repeated itself."""
        self.typing()
        self.gate.press(self._desk.elapsed)

    def switch(self, mode: Mode) -> None:
        """Change the way of talking, and tell so."""
        self._tell(self.gate.switch(mode) or way_of_talking(self.gate))

    def wait_for_microphone(self) -> None:
        """Block until the microphone has ended by itself (a recording as microphone)."""
        if self._ear is not None:
            self._ear.join()

    def stop(self) -> None:
        """Take in what was said so far, end, and raise what the worker failed of."""
        self._ending.set()
        if self._microphone is not None:
            self._microphone.stop()
        if self._ear is not None:
            self._ear.join()
        self._queue.put(_Stop())
        self._worker.join()
        if self._back is not None:
            self._back.stop()
        if self._failed is not None:
            raise self._failed

    def _tell(self, text: str) -> None:
        self._queue.put(Told(text))

    def _somebody_talks(self) -> bool:
        intake = self._intake
        return intake is not None and intake.speaking

    def _work(self) -> None:
        try:
            while True:
                item = self._queue.get()
                if isinstance(item, _Stop):
                    return
                if isinstance(item, Told):
                    self._show(item)
                    continue
                if isinstance(item, _Likely):
                    if self._queue.empty():  # else there is better to do
                        self._desk.expect(item.utterance)
                    continue
                try:
                    self._take_in_one(item)
                except BadInput as error:  # as a full disk: the next may find room again
                    self._failed = error
                    what = f'"{item.text}"' if isinstance(item, _Typed) else "what was said"
                    self._show(Told(f"NOT RECORDED, {what}: {error}"))
        except BaseException as error:
            self._failed = error
            self._show(Told(f"{error}; nothing more is recorded, leave and start again"))

    def _take_in_one(self, item: Utterance | _Typed) -> None:
        if isinstance(item, _Typed):
            self._take_up(self._desk.typed(item.text))
        elif (done := self._desk.heard(item, self.gate)) is not None:
            self._take_up(done)
        elif not self.gate.is_open(item.end):
            self.passed_over += 1

    def _take_up(self, done: Recorded) -> None:
        """Show an entry, do what it says about listening and speaking, and speak of it."""
        self._show(done)
        mode = _MODES.get(done.event.remark.command or "")
        if mode is not None and done.event.kind == "voice":
            self._show(Told(self.gate.switch(mode) or way_of_talking(self.gate)))
        if done.question is not None:
            self.gate.asked(self._desk.elapsed)
        if self._back is not None:
            self._back.take(done)

    def _listen(self) -> None:
        lost = False
        while not self._ending.is_set():
            try:
                assert self._open is not None
                with self._open() as microphone:
                    self._microphone = microphone
                    if lost:
                        self._tell("the microphone is back")
                    lost = False
                    self._take_in(microphone)
                return
            except AudioError as error:
                if not lost:
                    self._tell(f"{error}; the keyboard goes on")
                lost = True
                self._ending.wait(self._retry_seconds)
            except Exception as error:  # ours: the user has to know that nobody listens any more
                self._failed = error
                self._tell(f"listening has ended ({error!r}); the keyboard goes on")
                return
            finally:
                self._microphone = None

    def _take_in(self, microphone: MicrophoneLike) -> None:
        """Cut the stream; what was said when it breaks off is kept too."""
        intake = self._intake = Intake(self.gate, self._settings, self._denoiser)
        lost = 0
        try:
            for block in microphone.blocks():
                for utterance in intake.push(block, self._desk.elapsed - microphone.behind):
                    self.heard(utterance)
                if (likely := intake.likely()) is not None:
                    self._queue.put(_Likely(likely))
                if microphone.overflows > lost:
                    self._sound_lost(microphone.overflows - lost)
                    lost = microphone.overflows
        finally:
            self._intake = None
            for utterance in intake.flush():
                self.heard(utterance)

    def _sound_lost(self, times: int) -> None:
        """Tell of the first loss and of each tenfold: telling of all would be no help."""
        before, self.overflows = self.overflows, self.overflows + times
        if len(str(self.overflows)) > len(str(before)) or not before:
            self._tell(
                f"sound was lost ({self.overflows}x so far), the machine is too busy: "
                "look at what was heard last"
            )


def way_of_talking(gate: Gate) -> str:
    """Say in words what counts now."""
    if gate.mode == "attention":
        return f'only what begins with "{gate.word}" counts now'
    if gate.mode == "hold":
        return "only what is said while the key is held counts now (or tap it on and off)"
    return "the microphone is open: all that is said counts"
