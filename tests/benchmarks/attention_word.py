"""How well the attention word is heard, and what of other talk is taken for it.

    python tests/benchmarks/attention_word.py [--word WORD] [--count N]

Synthetic voices say remarks of the development set with the word before them,
the same remarks without it, and ordinary English.  Needs the voices of
`tests/recordings/voices.py`.
"""

from __future__ import annotations

import argparse

from hearing_sets import bench_pack, chatter, remarks
from scoring import is_exact
from voices import VOICES, speak

from benchvoice.audio import Utterance, open_denoiser
from benchvoice.bench.ears import Ears, build_engine
from benchvoice.bench.gate import DEFAULT_WORD, Gate
from benchvoice.remark import Remark


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--word", default=DEFAULT_WORD)
    parser.add_argument("--count", type=int, default=24)
    args = parser.parse_args()
    pack = bench_pack()
    engine = build_engine(pack, "pocketsphinx", attention=args.word)
    ears = Ears(pack, engine, open_denoiser())

    def spoken(voice: str, text: str, pace: float) -> Utterance:
        samples = speak(voice, text, pace)
        return Utterance(samples, 0.0, samples.size / 16_000)

    def admitted(voice: str, text: str, pace: float) -> Remark | None:
        utterance = spoken(voice, text, pace)
        words = Gate("attention", args.word).admit(ears.words(utterance), 0.0, utterance.end)
        return None if words is None else ears.understand(utterance, words).remark

    said = remarks("dev", args.count)
    called = [(one, admitted(one.voice, f"{args.word}, {one.truth.say}", one.pace)) for one in said]
    plain = [ears.hear(spoken(one.voice, one.truth.say, one.pace)).remark for one in said]
    bare = [admitted(one.voice, one.truth.say, one.pace) for one in said]
    talk = chatter("dev")[: args.count]
    other = [admitted(VOICES[n % len(VOICES)], text, 1.0) for n, text in enumerate(talk)]
    passed = [remark is not None for _, remark in called]
    exact = [remark is not None and is_exact(one.truth, remark) for one, remark in called]
    print(f'attention word "{args.word}", {engine.name}, {len(said)} remarks of the dev set')
    print(f"  with the word:    {sum(passed)} of {len(said)} let through, {sum(exact)} exact")
    print(f"  without the word: {sum(r is not None for r in bare)} of {len(bare)} let through")
    print(f"  ordinary English: {sum(r is not None for r in other)} of {len(other)} let through")
    open_exact = sum(is_exact(one.truth, remark) for one, remark in zip(said, plain, strict=True))
    print(f"  the same remarks with the microphone open: {open_exact} of {len(said)} exact")
    for (one, _), ok in zip(called, passed, strict=True):
        if not ok:
            print(f"    missed: {one.voice}: {one.truth.say}")


if __name__ == "__main__":
    main()
