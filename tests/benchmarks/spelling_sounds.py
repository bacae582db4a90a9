"""How far guessed pronunciations are from the CMU Pronouncing Dictionary (PocketSphinx's copy).

    python tests/benchmarks/spelling_sounds.py [--count N] [--wrong]

The guesses are made by espeak-ng's rules, which know nothing of that
dictionary.  Phone error rate: Levenshtein distance to the nearest of a word's
ways, over the sounds of that way, summed.  Trade words were not looked at when
the table of sounds was made; the others are every n-th of the dictionary.
"""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Iterable, Mapping

from rapidfuzz.distance import Levenshtein

from benchvoice.grammar import load_pack
from benchvoice.hearing import pronounce
from benchvoice.hearing.pronounce import dictionary, model_folder
from benchvoice.words import find_guesser
from benchvoice.words.spelling import Guesser


def trade_words() -> list[str]:
    """Give the trade's words that the dictionary has, all but the commonest English ones."""
    pack = load_pack()
    known = dictionary(model_folder())
    said = {w for _, term in pack.terms() for say in (term.name, *term.say) for w in say.split()}
    return sorted(w for w in said if w in known and len(w) > 3 and w.isalpha())


def measure(
    words: Iterable[str], guess: Guesser, given: Mapping[str, tuple[str, ...]] | None = None
) -> tuple[float, float, int, Counter[str], list[str]]:
    """Give phone error rate, share of words right, words not guessed, and the errors."""
    edits = sounds = right = none = total = 0
    kinds: Counter[str] = Counter()
    wrong: list[str] = []
    for word in words:
        ways = [tuple(way.split()) for way in pronounce([word], given or {}).entries[word]]
        got = guess(word)
        total += 1
        if got is None:
            none += 1
            continue
        best = min(ways, key=lambda way: Levenshtein.distance(way, got))
        distance = Levenshtein.distance(best, got)
        edits, sounds, right = edits + distance, sounds + len(best), right + (distance == 0)
        if distance:
            wrong.append(f"{word}: {' '.join(got)} for {' '.join(best)}")
        for op in Levenshtein.editops(best, got):
            a = best[op.src_pos] if op.tag != "insert" else "-"
            b = got[op.dest_pos] if op.tag != "delete" else "-"
            kinds[f"{a}>{b}"] += 1
    return edits / sounds, right / total, none, kinds, wrong


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=1500)
    parser.add_argument("--wrong", action="store_true", help="list what is wrong")
    args = parser.parse_args()
    guess = find_guesser()
    if guess is None:
        raise SystemExit("neither the extra `words` nor espeak-ng is installed")
    known = sorted(w for w in dictionary(model_folder()) if w.isalpha())
    sample = known[:: max(1, len(known) // args.count)]
    by_ear = load_pack().pronounce
    lacking = sorted(word for word in by_ear if word not in known)
    for name, words in (("dictionary", sample), ("trade", trade_words()), ("by ear", lacking)):
        rate, right, none, kinds, wrong = measure(words, guess, by_ear)
        print(
            f"{name:10}  {len(words):5} words  phone errors {rate:6.1%}  words right {right:6.1%}"
        )
        print(f"            not guessed {none}; commonest: {dict(kinds.most_common(14))}")
        if args.wrong:
            print(*wrong[:60], sep="\n")


if __name__ == "__main__":
    main()
