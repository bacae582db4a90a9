"""The engine and the parser made ready for one outline."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import msgspec
import numpy as np
import platformdirs
from msgspec.structs import replace

from benchvoice import grammar, hearing
from benchvoice.audio import CutSettings, Samples, Utterance, cut, read_blocks
from benchvoice.audio.denoise import Denoiser, open_denoiser
from benchvoice.bench import gate
from benchvoice.bench.gate import with_attention
from benchvoice.bench.understand import Guess, Understood, understand
from benchvoice.errors import EngineError
from benchvoice.follow import guess_step
from benchvoice.grammar import Outline, Pack, load_pack
from benchvoice.grammar.generate import sentences
from benchvoice.hearing import Engine, EngineChoice, open_engine
from benchvoice.hearing import Heard as Guesses
from benchvoice.hearing.engine import Sentences
from benchvoice.language import Parser
from benchvoice.remark import Remark, StepGuess

_COUNT, _WEIGHT = 60_000, 0.5
"""How many sentences the engine is taught with, and what each counts: many of a low weight make an
even and smooth language model.  Chosen on synthetic bench talk, not on the demo alone."""


_CODE = [
    *(path for package in (grammar, hearing) for path in Path(package.__path__[0]).glob("*.py")),
    Path(gate.__file__),
]
"""What decides which sentences, and which language model, become of a pack."""


def sentences_name(pack: Pack, *settings: object) -> str:
    """Name what is made of a pack, without making it: a digest of the pack and of the code."""
    digest = hashlib.blake2b(msgspec.json.encode(pack, order="deterministic"), digest_size=16)
    digest.update(repr(settings).encode())
    for path in sorted(_CODE):
        digest.update(path.read_bytes())
    return digest.hexdigest()


def cache_folder() -> Path:
    """Where language models made from a pack are kept; safe to delete at any time."""
    return Path(platformdirs.user_cache_dir("benchvoice", appauthor=False))


def build_engine(
    pack: Pack,
    choice: EngineChoice = "auto",
    model: Path | None = None,
    cache: Path | None = None,
    *,
    attention: str | None = None,
    voice: Path | None = None,
) -> Engine:
    """Make the engine that hears what the pack's generator says, with or without `attention` first.

    `voice` is the file of an enrolled user.  Raises EngineError when the
    choice cannot be had, or it cannot hear the attention word.
    """
    said: Sentences = (
        (sentence.words, sentence.weight * _WEIGHT) for sentence in sentences(pack, count=_COUNT)
    )
    if attention is not None:
        said = with_attention(said, attention)
    engine = open_engine(
        choice,
        said,
        pack.pronounce,
        model,
        cache or cache_folder(),
        named=sentences_name(pack, _COUNT, _WEIGHT, attention),
        voice=voice,
    )
    unheard = set(engine.missing).intersection((attention or "").split())
    if unheard:
        raise EngineError(
            f'the attention word "{attention}" cannot be heard: no pronunciation of '
            f'"{min(unheard)}" is known',
            mend="choose another, or add it: benchvoice words add",
        )
    return engine


@dataclass(frozen=True, slots=True)
class Heard:
    """An utterance understood; `utterance` times are seconds of the recording or stream."""

    utterance: Utterance
    remark: Remark
    alternatives: tuple[str, ...] = ()


class Ears:
    """Understands utterances and typed lines with one pack and engine."""

    def __init__(self, pack: Pack, engine: Engine | None, denoiser: Denoiser | None = None) -> None:
        self.pack = pack
        self.engine = engine
        self.denoiser = denoiser
        """What voices are looked for with; the engine has its own."""
        self._parser = Parser(pack)
        self._expected: tuple[Samples, Guesses] | None = None

    @property
    def outline(self) -> Outline | None:
        """The outline that the pack was loaded with."""
        return self.pack.outline

    def read(self, text: str, guess: Guess | None = None) -> Remark:
        """Understand a typed line; its confidence is None.

        Bytes of standard input that were no text come in as lone surrogates: they become "?".
        """
        remark = self._parser.parse(text.encode("utf-8", "replace").decode("utf-8"))
        step = (guess or self._guess)(remark)
        return remark if step is None else replace(remark, step=step)

    def hear(self, utterance: Utterance, guess: Guess | None = None) -> Heard:
        """Understand one utterance."""
        return self.understand(utterance, self.words(utterance), guess)

    def words(self, utterance: Utterance) -> Guesses:
        """Give the engine's guesses at the words of an utterance."""
        if self._expected is not None:
            samples, heard = self._expected
            if np.array_equal(samples, utterance.samples):
                return heard
        return Guesses() if self.engine is None else self.engine.hear(utterance.samples)

    def expect(self, utterance: Utterance) -> None:
        """Listen beforehand, while the pause goes on: `words` of the same sound then cost nothing.

        An engine gives the same guesses at the same sound, so nothing else changes.
        """
        self._expected = utterance.samples, self.words(utterance)

    def understand(self, utterance: Utterance, heard: Guesses, guess: Guess | None = None) -> Heard:
        """Understand the words that were guessed of an utterance."""
        found: Understood = understand(heard, self._parser, guess or self._guess, self.pack)
        return Heard(utterance, found.remark, found.alternatives)

    def listen(
        self, blocks: Iterable[Samples], settings: CutSettings | None = None
    ) -> Iterator[Heard]:
        """Understand a stream of 16 kHz mono blocks, utterance by utterance."""
        for utterance in cut(blocks, settings, self.denoiser):
            yield self.hear(utterance)

    def _guess(self, remark: Remark) -> StepGuess | None:
        return None if self.outline is None else guess_step(remark, self.outline, None)


def hear_file(ears: Ears, path: Path) -> Iterator[Heard]:
    """Understand a recording (any rate, mono or stereo), utterance by utterance.

    Raises AudioError when it cannot be read.
    """
    return ears.listen(read_blocks(path))


def open_ears(
    outline: Outline | None,
    choice: EngineChoice | None = "auto",
    model: Path | None = None,
    *,
    own: Sequence[Path] = (),
    attention: str | None = None,
    voice: Path | None = None,
) -> Ears:
    """Load the pack with the outline's words and make the engine; None makes no engine.

    `own` are the user's word lists, `attention` a word that may stand before
    any remark, `voice` the file of an enrolled user.  Raises GrammarError or EngineError.
    """
    pack = load_pack(outline, own)
    if choice is None:
        return Ears(pack, None)
    engine = build_engine(pack, choice, model, attention=attention, voice=voice)
    return Ears(pack, engine, open_denoiser())
