"""The live bench: microphone and keyboard into one queue, one worker at the desk."""

from __future__ import annotations

import queue
import threading
from collections.abc import Callable
from dataclasses import dataclass, replace

from benchvoice.audio import SAMPLE_RATE, CutSettings, Cutter, MicrophoneLike, Utterance
from benchvoice.audio.denoise import Denoiser
from benchvoice.bench.desk import Desk, Recorded
from benchvoice.errors import AudioError

OpenMicrophone = Callable[[], MicrophoneLike]

_RETRY_SECONDS = 2.0


@dataclass(frozen=True, slots=True)
class Told:
    """Something to tell the user that is no event ("the microphone is gone")."""

    text: str


@dataclass(frozen=True, slots=True)
class _Typed:
    text: str


@dataclass(frozen=True, slots=True)
class _Stop:
    pass


Show = Callable[[Recorded | Told], None]


class LiveBench:
    """Runs a desk from a microphone and typed lines until `stop`.

    All remarks pass one worker thread in the order they came, so the desk is
    never used by two.  A microphone that is lost is told of and tried again;
    the session goes on by keyboard meanwhile.
    """

    def __init__(
        self,
        desk: Desk,
        show: Show,
        microphone: OpenMicrophone | None = None,
        settings: CutSettings | None = None,
        denoiser: Denoiser | None = None,
    ) -> None:
        self._desk = desk
        self._show = show
        self._open = microphone
        self._settings = settings
        self._denoiser = denoiser
        self._queue: queue.Queue[Utterance | _Typed | Told | _Stop] = queue.Queue()
        self._ending = threading.Event()
        self._failed: BaseException | None = None
        self._ear: threading.Thread | None = None
        self._worker = threading.Thread(target=self._work, name="desk", daemon=True)
        self._microphone: MicrophoneLike | None = None

    @property
    def level(self) -> float | None:
        """Level of the microphone in dBFS; None without one."""
        return None if self._microphone is None else self._microphone.level

    def start(self) -> None:
        """Begin to listen and to work."""
        self._worker.start()
        if self._open is not None:
            self._ear = threading.Thread(target=self._listen, name="ear", daemon=True)
            self._ear.start()

    def typed(self, text: str) -> None:
        """Put in a typed line."""
        self._queue.put(_Typed(text))

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
        if self._failed is not None:
            raise self._failed

    def _work(self) -> None:
        try:
            while True:
                item = self._queue.get()
                if isinstance(item, _Stop):
                    return
                if isinstance(item, Told):
                    self._show(item)
                    continue
                if isinstance(item, _Typed):
                    done: Recorded | None = self._desk.typed(item.text)
                else:
                    done = self._desk.heard(item)
                if done is not None:
                    self._show(done)
        except BaseException as error:
            self._failed = error
            self._show(Told(f"{error}; nothing more is recorded, leave and start again"))

    def _listen(self) -> None:
        lost = False
        while not self._ending.is_set():
            try:
                assert self._open is not None
                with self._open() as microphone:
                    self._microphone = microphone
                    if lost:
                        self._queue.put(Told("the microphone is back"))
                    lost = False
                    self._take_in(microphone)
                return
            except AudioError as error:
                if not lost:
                    self._queue.put(Told(f"{error}; the keyboard goes on"))
                lost = True
                self._ending.wait(_RETRY_SECONDS)
            finally:
                self._microphone = None

    def _take_in(self, microphone: MicrophoneLike) -> None:
        """Cut the stream; its times are moved onto the clock of the sitting."""
        cutter = Cutter(self._settings, self._denoiser)
        offset: float | None = None
        for block in microphone.blocks():
            if offset is None:
                offset = max(0.0, self._desk.elapsed - block.size / SAMPLE_RATE)
            for utterance in cutter.push(block):
                self._queue.put(_later(utterance, offset))
        for utterance in cutter.flush():
            self._queue.put(_later(utterance, offset or 0.0))


def _later(utterance: Utterance, seconds: float) -> Utterance:
    return replace(utterance, start=utterance.start + seconds, end=utterance.end + seconds)
