"""A small general English speech model: sound in, likelihoods of the next piece of its writing out.

Moonshine's tiny model (Jeffries et al., "Moonshine: speech recognition for live transcription and
voice commands", 2024): an encoder over the sound and a decoder that writes, piece by piece, what a
person would write, with capitals, figures and stops.  It comes inside the package moonshine-voice,
of which only the files are used; onnxruntime runs them.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from importlib import metadata, util
from pathlib import Path
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

from benchvoice.audio.samples import Samples
from benchvoice.errors import EngineError
from benchvoice.hearing.acoustic import Floats

NEEDED = ("onnxruntime", "moonshine_voice")
BEGIN, STOP = 1, 2
"""The pieces that stand before and after every text."""
MOST_PIECES = 64
"""How many pieces a text may have."""
SPACE = "\u2581"
"""Stands for the space in a piece."""
MEND = "pip install 'onnxruntime<1.28' moonshine-voice==0.1.0"
_REPORTING = (1, 28)
_FILES = ("encoder_model.ort", "decoder_model_merged.ort", "tokenizer.bin")
_EDGE = 1600
"""Samples of silence around an utterance: the model was taught with some."""
Encoded: TypeAlias = npt.NDArray[np.float32]
Logits: TypeAlias = npt.NDArray[np.float32]
Arrays: TypeAlias = dict[str, npt.NDArray[np.float32]]


class GeneralModel:
    """The model in a folder; one thread.  Raises EngineError when it cannot be loaded.

    `pieces` are what it writes with, by number; of equal ones the last is the one it uses.
    """

    def __init__(self, folder: Path) -> None:
        self.pieces = _pieces(folder / _FILES[2])
        self._encoder = _graph(folder / _FILES[0])
        self._decoder = _graph(folder / _FILES[1])
        names = [one.name for one in self._decoder.get_inputs()]
        self._past = [name for name in names if name.startswith("past")]
        self._heads, self._size = next(
            (one.shape[1], one.shape[3])
            for one in self._decoder.get_inputs()
            if one.name in self._past
        )

    @cached_property
    def number(self) -> Mapping[str, int]:
        """The number of each piece."""
        return {piece: at for at, piece in enumerate(self.pieces)}

    def encode(self, samples: Samples) -> Encoded:
        """Take in one whole utterance (16 kHz mono); gives (1, T, size).

        Of more than 9 seconds only one row can be written at a time: its files allow no more.
        """
        sound = np.pad(samples, _EDGE).astype(np.float32)[None] / 32768
        mask = np.ones(sound.shape, dtype=np.int64)
        (encoded,) = self._encoder.run(None, {"input_values": sound, "attention_mask": mask})
        whole: Encoded = encoded
        return whole

    def run(self, encoded: Encoded, ids: list[int], past: Arrays) -> tuple[Logits, Arrays]:
        """Run the decoder a piece further in each of B rows; gives logits (B, pieces), and past."""
        rows = len(ids)
        feed: dict[str, Any] = {
            "encoder_attention_mask": np.ones((rows, encoded.shape[1]), dtype=np.int64),
            "input_ids": np.array(ids, dtype=np.int64)[:, None],
            "encoder_hidden_states": encoded.repeat(rows, axis=0),
            "use_cache_branch": np.array([bool(past)]),
        }
        nothing = np.zeros((rows, self._heads, 0, self._size), dtype=np.float32)
        feed |= past or dict.fromkeys(self._past, nothing)
        # what it makes of the sound stays the same, and it is most of what is handed about
        wanted = [name for name in self._past if not past or ".encoder." not in name]
        asked = [name.replace("past_key_values", "present") for name in wanted]
        logits, *present = self._decoder.run(["logits", *asked], feed)
        return logits[:, -1], dict(zip(wanted, present, strict=True))


class Writing:
    """What was written so far, in several rows at a time, of one utterance; nothing at first."""

    def __init__(self, model: GeneralModel, encoded: Encoded) -> None:
        self._model = model
        self._encoded = encoded
        self._of_sound: Arrays = {}
        """What the decoder makes of the sound is the same in all rows; as many as ever were."""
        self._past: Arrays = {}

    def chances(self, ids: list[int], rows: list[int]) -> Floats:
        """Write the pieces `ids` behind the rows `rows` of the last call; those are the rows now.

        Gives the natural log of the chance of each piece to come next, (B, pieces).
        """
        past = {name: values[rows] for name, values in self._past.items()}
        past |= {name: self._wide(name, len(rows)) for name in self._of_sound}
        logits, kept = self._model.run(self._encoded, ids, past)
        if not self._of_sound:
            self._of_sound = {name: kept[name][:1] for name in kept if ".encoder." in name}
        self._past = {name: kept[name] for name in kept if name not in self._of_sound}
        logits -= logits.max(axis=1, keepdims=True)
        logs: Floats = (logits - np.log(np.exp(logits).sum(axis=1, keepdims=True))).astype(float)
        return logs

    def _wide(self, name: str, rows: int) -> npt.NDArray[np.float32]:
        if len(self._of_sound[name]) < rows:
            self._of_sound[name] = self._of_sound[name][:1].repeat(rows, axis=0)
        return self._of_sound[name][:rows]


def freely(writing: Writing) -> float:
    """Write the likeliest piece each time; gives the natural log likelihood of that."""
    likelihood, piece = 0.0, BEGIN
    for _ in range(MOST_PIECES):
        (chances,) = writing.chances([piece], [0])
        piece = int(chances.argmax())
        likelihood += float(chances[piece])
        if piece == STOP:
            break
    return likelihood


def reports_its_use() -> bool:
    """Whether onnxruntime is of a release that tells its maker of its use over the network.

    It does on Linux from 1.29 or 1.30 on, as its files show; 1.28 is the first that is let be.
    """
    try:
        version = metadata.version("onnxruntime")
    except metadata.PackageNotFoundError:
        return False
    return tuple(int(part) for part in version.split(".")[:2]) >= _REPORTING


def general_model_folder() -> Path | None:
    """Find the model's files; None when a package that is needed is not installed.

    A release of onnxruntime that `reports_its_use` is not used.
    """
    if any(util.find_spec(name) is None for name in NEEDED) or reports_its_use():
        return None
    found = util.find_spec(NEEDED[1])
    places = () if found is None else found.submodule_search_locations or ()
    folders = (Path(place, "assets", "tiny-en") for place in places)
    return next((one for one in folders if all((one / name).is_file() for name in _FILES)), None)


def find_general_model() -> GeneralModel | None:
    """Load the model when it is installed, else None.

    Raises EngineError when it is there and does not work.
    """
    folder = general_model_folder()
    return None if folder is None else GeneralModel(folder)


def _graph(path: Path) -> Any:
    import onnxruntime

    onnxruntime.disable_telemetry_events()  # nothing leaves the machine; it has them on Windows
    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = options.inter_op_num_threads = 1
    try:
        return onnxruntime.InferenceSession(str(path), options)
    except Exception as error:  # what the package raises
        raise EngineError(
            f"cannot be loaded ({error})", mend="install the second extra again", file=path
        ) from None


def _pieces(path: Path) -> tuple[str, ...]:
    """Read the pieces: each after its length, which is one byte, or two from 128 on."""
    data = path.read_bytes()
    found: list[str] = []
    at = 0
    while at < len(data):
        length, at = data[at], at + 1
        if length >= 128:
            length, at = length - 128 + 128 * data[at], at + 1
        found.append(data[at : at + length].decode("utf-8", "replace"))
        at += length
    return tuple(found)
