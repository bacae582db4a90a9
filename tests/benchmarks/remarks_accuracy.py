"""How well and how fast remarks are understood, over the hand-written set in tests/remarks.

The rules were tuned on this set: the accuracy is no estimate for other remarks.  The rate is in
remarks per second of one core's time.

python tests/benchmarks/remarks_accuracy.py [--held | --dev] [--misses]
"""

from __future__ import annotations

import argparse
import functools
import importlib
import statistics
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from rapidfuzz import process

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "remarks")]

from scoring import (  # noqa: E402
    Score,
    Truth,
    field_scores,
    finding_score,
    is_exact,
    load_not_ours,
    load_remarks,
    remark_facts,
    truth_facts,
    wrong_but_sure,
)

from benchvoice.grammar import Pack, load_pack  # noqa: E402
from benchvoice.language import Parser  # noqa: E402
from benchvoice.remark import Remark  # noqa: E402

Read = Callable[[str], Remark]
REPEATS = 15
GENERATOR = ("benchvoice.grammar.generate", "sentences")
"""Module and function: pack to (words, weight) pairs."""


def main(argv: Sequence[str] | None = None) -> int:
    """Print the figures; gives 0."""
    args = _arguments(argv)
    held = True if args.held else False if args.dev else None
    truths = load_remarks(held=held)
    pack = load_pack()
    parser = Parser(pack)
    which = {True: "held", False: "dev", None: "held and dev"}[held]
    print(f"{len(truths)} remarks ({which}), {len(load_not_ours())} texts that are none")
    report("parser", parser.parse, truths)
    phrases = generated_phrases(pack)
    if phrases:
        baseline = nearest_phrase(phrases, parser.parse)
        report(f"nearest of {len(phrases)} generated phrases", baseline, truths, repeats=1)
    else:
        print(f"\nnearest generated phrase: left out, there is no {'.'.join(GENERATOR)}")
    if args.misses:
        print_misses(parser.parse, truths)
    return 0


def report(name: str, read: Read, truths: Sequence[Truth], repeats: int = REPEATS) -> None:
    """Print accuracy, scores by field and speed of one way of reading remarks."""
    heard, rate = timed(read, truths, repeats)
    exact = [is_exact(truth, remark) for truth, remark in heard]
    print(f"\n{name}\n  exact {share(exact)}, {rate:.0f} remarks/s (median of {repeats})")
    for topic in dict.fromkeys(truth.topic for truth in truths):
        hits = [hit for hit, truth in zip(exact, truths, strict=True) if truth.topic == topic]
        print(f"    {topic:12} {share(hits)}")
    for label, clumsy in (("all clumsy", True), ("all fluent", False)):
        hits = [hit for hit, truth in zip(exact, truths, strict=True) if truth.clumsy == clumsy]
        print(f"    {label:12} {share(hits)}")
    print("  findings      precision  recall  F1")
    print_score("whole", sum((finding_score(*pair) for pair in heard), Score()))
    for field, score in total_by_field(heard).items():
        print_score(field, score)
    sure = [text for text in load_not_ours() if wrong_but_sure(read(text))]
    print(f"  wrong but sure on texts that are no remarks: {len(sure)} of {len(load_not_ours())}")


def timed(
    read: Read, truths: Sequence[Truth], repeats: int
) -> tuple[list[tuple[Truth, Remark]], float]:
    """Read all remarks `repeats` times; give the pairs and the median rate in 1/s."""
    rates: list[float] = []
    heard: list[tuple[Truth, Remark]] = []
    for _ in range(repeats):
        begin = time.process_time()
        heard = [(truth, read(truth.say)) for truth in truths]
        rates.append(len(truths) / (time.process_time() - begin))
    return heard, statistics.median(rates)


def total_by_field(heard: Sequence[tuple[Truth, Remark]]) -> dict[str, Score]:
    """Add up the scores of the single fields, the most frequent field first."""
    total: dict[str, Score] = {}
    for pair in heard:
        for field, score in field_scores(*pair).items():
            total[field] = total.get(field, Score()) + score
    return dict(sorted(total.items(), key=lambda item: -(item[1].right + item[1].missed)))


def print_score(name: str, score: Score) -> None:
    """Print one line of the table of scores."""
    print(
        f"    {name:14} {score.precision:6.1%}  {score.recall:6.1%}  {score.f1:6.1%}"
        f"   ({score.right} right, {score.extra} extra, {score.missed} missed)"
    )


def share(hits: Sequence[bool]) -> str:
    """Give "3 of 4 (75.0 %)"."""
    part = sum(hits) / len(hits) if hits else 0.0
    return f"{sum(hits)} of {len(hits)} ({part:.1%})"


def print_misses(read: Read, truths: Sequence[Truth]) -> None:
    """Print the remarks that are not read exactly, and the texts taken for remarks."""
    print("\nmisses")
    for truth in truths:
        remark = read(truth.say)
        if not is_exact(truth, remark):
            print(f"  {truth.topic}: {truth.say}")
            print(f"    want {truth.kind} {truth.command or ''} {brief(truth_facts(truth))}")
            print(f"    got  {remark.kind} {remark.command or ''} {brief_of(truth, remark)}")
    for text in load_not_ours():
        remark = read(text)
        if wrong_but_sure(remark):
            print(f"  not ours: {text}\n    got  {brief_of(Truth(say=text), remark)}")


def brief_of(truth: Truth, remark: Remark) -> str:
    """Give the facts of a reading, and what it did not understand."""
    unparsed = f" unparsed {list(remark.unparsed)}" if remark.unparsed else ""
    return brief(remark_facts(truth, remark)) + unparsed


def brief(findings: Sequence[frozenset[tuple[str, str | float]]]) -> str:
    """Give findings on one line."""
    return "; ".join(", ".join(f"{k}={v}" for k, v in sorted(facts)) for facts in findings)


def generated_phrases(pack: Pack) -> list[str]:
    """Give all generated phrases, sorted; none when the generator is not there."""
    module, function = GENERATOR
    try:
        generate = getattr(importlib.import_module(module), function)
    except (ImportError, AttributeError):
        return []
    return sorted({" ".join(words) for words, _ in generate(pack)})


def nearest_phrase(phrases: Sequence[str], read: Read) -> Read:
    """Give the baseline: the most alike of the phrases is taken for what was said."""
    remembered = functools.cache(read)

    def look_up(text: str) -> Remark:
        return remembered(process.extractOne(text, phrases)[0])

    return look_up


def _arguments(argv: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    half = parser.add_mutually_exclusive_group()
    half.add_argument("--held", action="store_true", help="only the remarks marked held")
    half.add_argument("--dev", action="store_true", help="only the others")
    parser.add_argument("--misses", action="store_true", help="print the misses")
    return parser.parse_args(argv)


if __name__ == "__main__":
    raise SystemExit(main())
