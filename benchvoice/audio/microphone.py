"""Microphones, real and from a file, as a stream of 16 kHz mono blocks."""

from __future__ import annotations

import queue
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol, Self

from benchvoice.audio.portaudio import first_line, load_sounddevice, look_again
from benchvoice.audio.reading import read_blocks
from benchvoice.audio.samples import QUIETEST_DBFS, SAMPLE_RATE, Normaliser, Samples, level_dbfs
from benchvoice.errors import AudioError

_BLOCK_SECONDS = 0.1
_BUFFER_SECONDS = 0.5
"""What the driver holds: hearing an utterance can keep its callback waiting for so long."""
_QUEUE_SECONDS = 30.0
"""How long the reader may be busy before sound is lost."""


class MicrophoneLike(Protocol):
    """What a microphone gives: blocks while it is open, and a level for a meter."""

    @property
    def level(self) -> float:
        """Level of the last block, dBFS."""

    @property
    def overflows(self) -> int:
        """How often sound was lost."""

    @property
    def behind(self) -> float:
        """How long ago the end of the last block was recorded, seconds."""

    def blocks(self) -> Iterator[Samples]:
        """Yield 16 kHz mono blocks of about 0.1 s until `stop`."""

    def stop(self) -> None:
        """End `blocks` after what is already recorded; may come from another thread."""

    def __enter__(self) -> Self:
        """Open it."""

    def __exit__(self, *error: object) -> None:
        """Close it."""


@dataclass(frozen=True)
class MicrophoneInfo:
    """A microphone the system knows; `rate` is its own in Hz, `default` the one used unasked."""

    index: int
    name: str
    channels: int
    rate: float
    default: bool


def list_microphones(backend: Any = None) -> tuple[MicrophoneInfo, ...]:
    """List the devices that can record.  Raises AudioError when PortAudio is missing."""
    sound = backend or load_sounddevice()
    chosen = sound.default.device[0]
    return tuple(
        MicrophoneInfo(
            index,
            device["name"],
            device["max_input_channels"],
            device["default_samplerate"],
            index == chosen,
        )
        for index, device in enumerate(sound.query_devices())
        if device["max_input_channels"] > 0
    )


class Microphone:
    """A microphone by index or part of its name, None for the default one.

    A context manager.  The device is opened at 16 kHz, or at its own rate
    when it refuses that.  The driver's callback only puts a copy in a queue;
    when the queue is full the block is dropped and counted in `overflows`.
    Raises AudioError when PortAudio, the device or access to it is missing.
    `backend` stands in for the sounddevice module, `clock` counts seconds.
    """

    def __init__(
        self,
        device: int | str | None = None,
        *,
        backend: Any = None,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self.device = device
        self._clock = clock
        self._recorded = clock()
        self.rate = float(SAMPLE_RATE)
        self._backend = backend
        self._level = QUIETEST_DBFS
        self._overflows = 0
        self._queue: queue.Queue[Any] = queue.Queue(round(_QUEUE_SECONDS / _BLOCK_SECONDS))
        self._stopped = False
        self._stream: Any = None

    @property
    def level(self) -> float:
        """Level of the last block, dBFS."""
        return self._level

    @property
    def overflows(self) -> int:
        """How often sound was lost, here or in the driver."""
        return self._overflows

    @property
    def behind(self) -> float:
        """How long ago the end of the last block was recorded, seconds."""
        return max(0.0, self._clock() - self._recorded)

    def __enter__(self) -> Self:
        """Open the device and start recording."""
        sound = self._backend or load_sounddevice()
        try:
            try:
                self._start(sound)
            except (sound.PortAudioError, ValueError):
                look_again(sound)  # it may have been plugged in since
                self._start(sound)
        except (sound.PortAudioError, ValueError) as error:
            wanted = "default microphone" if self.device is None else f'microphone "{self.device}"'
            raise AudioError(
                f"the {wanted} cannot be opened ({first_line(error)})",
                mend="plug it in, or choose another with --device",
            ) from None
        return self

    def __exit__(self, *error: object) -> None:
        """Stop recording and free the device."""
        self.stop()
        if self._stream is not None:
            self._stream.close()
            self._stream = None

    def stop(self) -> None:
        """End `blocks` after what is already recorded; may come from another thread."""
        self._stopped = True

    def blocks(self) -> Iterator[Samples]:
        """Yield 16 kHz mono blocks until `stop`; an unplugged device ends them with AudioError."""
        normaliser = Normaliser(self.rate)
        while True:
            try:
                raw, self._recorded = self._queue.get(timeout=_BLOCK_SECONDS)
            except queue.Empty:
                if self._stopped:
                    return
                if self._stream is None or not self._stream.active:
                    raise AudioError(
                        "the microphone stopped giving sound", mend="plug it in again"
                    ) from None
                continue
            samples = normaliser.push(raw)
            self._level = level_dbfs(samples)
            if samples.size:
                yield samples

    def _start(self, sound: Any) -> None:
        stream = self._open(sound, sound.query_devices(self.device, "input"))
        try:
            stream.start()
        except BaseException:
            stream.close()
            raise
        self._stream = stream

    def _open(self, sound: Any, info: Any) -> Any:
        """Open at 16 kHz mono, else at the device's own rate, else with all its channels."""
        own = float(info["default_samplerate"])
        tries = [(float(SAMPLE_RATE), 1), (own, 1), (own, int(info["max_input_channels"]))]
        for rate, channels in tries:
            try:
                stream = sound.InputStream(
                    device=self.device,
                    samplerate=rate,
                    channels=channels,
                    dtype="float32",
                    blocksize=round(rate * _BLOCK_SECONDS),
                    callback=self._on_sound,
                    latency=_BUFFER_SECONDS,
                )
            except sound.PortAudioError as error:
                refused = error
                continue
            self.rate = rate
            return stream
        raise refused

    def _on_sound(self, block: Any, frames: int, when: Any, status: Any) -> None:
        if status and status.input_overflow:
            self._overflows += 1
        try:
            self._queue.put_nowait((block.copy(), self._clock()))
        except queue.Full:
            self._overflows += 1


class FileMicrophone:
    """A recording played as if it came from a microphone; for trying out and for tests.

    With `realtime` the blocks come as fast as they would be spoken, paced by
    `sleep` and `clock`.
    """

    def __init__(
        self,
        path: Path,
        realtime: bool = False,
        *,
        sleep: Callable[[float], None] = time.sleep,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self.path = path
        self._realtime = realtime
        self._sleep = sleep
        self._clock = clock
        self._stopped = False
        self._level = QUIETEST_DBFS

    @property
    def level(self) -> float:
        """Level of the last block, dBFS."""
        return self._level

    @property
    def overflows(self) -> int:
        """Always 0: a file waits."""
        return 0

    @property
    def behind(self) -> float:
        """Always 0: a block is recorded when it is asked for."""
        return 0.0

    def __enter__(self) -> Self:
        """Nothing to open yet."""
        return self

    def __exit__(self, *error: object) -> None:
        """Stop."""
        self.stop()

    def stop(self) -> None:
        """End `blocks` at the next block."""
        self._stopped = True

    def blocks(self) -> Iterator[Samples]:
        """Yield the recording in blocks of about 0.1 s; raises AudioError as `read_blocks` does."""
        began, played = self._clock(), 0
        for block in read_blocks(self.path, _BLOCK_SECONDS):
            if self._stopped:
                return
            played += block.size
            if self._realtime:
                ahead = began + played / SAMPLE_RATE - self._clock()
                self._sleep(max(0.0, ahead))
            self._level = level_dbfs(block)
            yield block
