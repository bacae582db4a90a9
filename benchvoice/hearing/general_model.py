"""A small general English speech model: sound in, likelihoods of the next piece of its writing out.

Moonshine's tiny model (Jeffries et al., "Moonshine: speech recognition for live transcription and
voice commands", 2024): an encoder over the sound and a decoder that writes, piece by piece, what a
person would write, with capitals, figures and stops.  It comes inside the package moonshine-voice,
of which only the files are used; onnxruntime runs them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from importlib import metadata, util
from pathlib import Path
from typing import Any, NamedTuple, TypeAlias

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
_OF_SOUND = ".encoder."
"""In the names of what the decoder makes of the sound."""
_ROWS = 16
"""How many texts are scored at once."""
Singles: TypeAlias = npt.NDArray[np.float32]
Arrays: TypeAlias = dict[str, Singles]


@dataclass(frozen=True, eq=False)
class Encoded:
    """One utterance as the decoder takes it: `states` (1, T, size), and what it makes of them."""

    states: Singles
    keys: Arrays
    _wide: Arrays = field(default_factory=dict, init=False, repr=False)
    """`keys` for as many rows as there ever were: to repeat them each time takes long."""

    def keys_of(self, rows: int) -> Arrays:
        """Give `keys` for so many rows."""
        for name, values in self.keys.items():
            if name not in self._wide or len(self._wide[name]) < rows:
                self._wide[name] = values.repeat(rows, axis=0)
        return {name: values[:rows] for name, values in self._wide.items()}


class Likelihood(NamedTuple):
    """Natural logs: of a text, and of the likeliest piece at each of its places instead."""

    text: float
    likeliest: float


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

    @cached_property
    def unheard(self) -> Encoded:
        """What stands for no sound: with it the likelihoods are those of the writing alone.

        All zeros (Meng et al., "Internal language model estimation for domain-adaptive end-to-end
        speech recognition", 2021).
        """
        keys = {name: self._nothing(1, 1) for name in self._past if _OF_SOUND in name}
        return Encoded(np.zeros((1, 1, self._heads * self._size), dtype=np.float32), keys)

    def encode(self, samples: Samples) -> Encoded:
        """Take in one whole utterance (16 kHz mono).

        Of more than 9 seconds only one row can be written at a time: its files allow no more.
        """
        sound = np.pad(samples, _EDGE).astype(np.float32)[None] / 32768
        mask = np.ones(sound.shape, dtype=np.int64)
        (states,) = self._encoder.run(None, {"input_values": sound, "attention_mask": mask})
        of_sound = [name for name in self._past if _OF_SOUND in name]
        nothing = dict.fromkeys(self._past, self._nothing(1))
        _, *keys = self._decode(states, np.array([[BEGIN]]), nothing, False, of_sound)
        return Encoded(states, dict(zip(of_sound, keys, strict=True)))

    def likelihoods(self, encoded: Encoded, texts: Sequence[Sequence[int]]) -> list[Likelihood]:
        """Give the likelihoods of whole texts, each the numbers of its pieces."""
        found: dict[int, Likelihood] = {}
        by_length = sorted(range(len(texts)), key=lambda at: len(texts[at]))
        for first in range(0, len(texts), _ROWS):
            some = by_length[first : first + _ROWS]  # alike in length, as all are as long as one
            scores = self._likelihoods(encoded, [(*texts[at], STOP) for at in some])
            found |= zip(some, scores, strict=True)
        return [found[at] for at in range(len(texts))]

    def _likelihoods(
        self, encoded: Encoded, texts: Sequence[tuple[int, ...]]
    ) -> Iterator[Likelihood]:
        rows = len(texts)
        ids = np.full((rows, max(map(len, texts))), BEGIN, dtype=np.int64)
        for row, text in enumerate(texts):
            ids[row, 1 : len(text)] = text[:-1]
        past = dict.fromkeys(self._past, self._nothing(rows)) | encoded.keys_of(rows)
        (logits,) = self._decode(encoded.states, ids, past, True, [])
        for row, text in enumerate(texts):
            own = logits[row, : len(text)]
            best = own.max(axis=1)
            of_best = -float(np.log(np.exp(own - best[:, None]).sum(axis=1)).sum())
            behind = own[np.arange(len(text)), text] - best
            yield Likelihood(of_best + float(behind.sum()), of_best)

    def step(self, encoded: Encoded, ids: Sequence[int], past: Arrays) -> tuple[Floats, Arrays]:
        """Write a piece in each of B rows, behind `past`; `past` is empty before the first.

        Gives the natural log of the chance of each piece to be next, (B, pieces), and the past now.
        """
        own = [name for name in self._past if name not in encoded.keys]
        past = past or dict.fromkeys(own, self._nothing(len(ids)))
        column = np.array(ids, dtype=np.int64)[:, None]
        logits, *present = self._decode(
            encoded.states, column, past | encoded.keys_of(len(ids)), True, own
        )
        return log_shares(logits[:, -1]), dict(zip(own, present, strict=True))

    def _nothing(self, rows: int, frames: int = 0) -> Singles:
        return np.zeros((rows, self._heads, frames, self._size), dtype=np.float32)

    def _decode(
        self,
        states: Singles,
        ids: npt.NDArray[np.int64],
        past: Arrays,
        cached: bool,
        kept: Sequence[str],
    ) -> list[Any]:
        """Run the decoder on pieces (B, L); gives logits (B, L, pieces) and what is `kept` of it.

        `cached` says that `past` has what the decoder makes of the sound.
        """
        rows = len(ids)
        feed: dict[str, Any] = {
            "encoder_attention_mask": np.ones((rows, states.shape[1]), dtype=np.int64),
            "input_ids": ids,
            "encoder_hidden_states": states.repeat(rows, axis=0),
            "use_cache_branch": np.array([cached]),
        }
        asked = [name.replace("past_key_values", "present") for name in kept]
        found: list[Any] = self._decoder.run(["logits", *asked], feed | past)
        return found


class Writing:
    """What was written so far, in several rows at a time, of one utterance; nothing at first."""

    def __init__(self, model: GeneralModel, encoded: Encoded) -> None:
        self._model = model
        self._encoded = encoded
        self._past: Arrays = {}

    def chances(self, ids: list[int], rows: list[int]) -> Floats:
        """Write the pieces `ids` behind the rows `rows` of the last call; those are the rows now.

        Gives the natural log of the chance of each piece to come next, (B, pieces).
        """
        past = {name: values[rows] for name, values in self._past.items()}
        chances, self._past = self._model.step(self._encoded, ids, past)
        return chances


def log_shares(logits: Singles) -> Floats:
    """Give the natural logs of the shares that logits (N, pieces) stand for."""
    shifted = logits - logits.max(axis=1, keepdims=True)
    logs: Floats = (shifted - np.log(np.exp(shifted).sum(axis=1, keepdims=True))).astype(float)
    return logs


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
