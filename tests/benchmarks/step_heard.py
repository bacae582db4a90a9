"""How often a spoken remark is put with the right step: generated jobs, heard as at the bench.

The jobs of step_sessions.py are spoken by the natural voices, clean and in the noises of a shop
(step_spoken.py), heard by the embedded engine with the outline's words, and taken by the bench's
desk into a session, as a recording is.  A remark that was broken in two, or misheard, is right when
all that was made of it is with its step; one of which nothing was heard, or that was heard for a
command that led elsewhere, is wrong.  "Not asked" is the share of remarks that are wrong with
nothing said about it: understood, not doubtful, the step not asked for.

The noises take turns along a job, so the last rows differ by what is talked about as well: a radio
over the inspection is not a fan over the test run.

Nothing may be chosen on the seed that is reported.  A row costs a quarter of a second of computing
a second of speech when it is heard for the first time.

python tests/benchmarks/step_heard.py --folder FOLDER [--jobs 2] [--seed 7] [--misses]
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
HERE = ("tests/remarks", "tests/recordings", "tests/benchmarks")
sys.path[:0] = [str(ROOT), *(str(ROOT / name) for name in HERE)]

from hearing_sets import plain  # noqa: E402
from noises import NOISES  # noqa: E402
from rapidfuzz.distance import Levenshtein  # noqa: E402
from step_accuracy import TALK, fuzzy, is_right  # noqa: E402
from step_sessions import OUTLINES, Bench, Line  # noqa: E402
from step_spoken import CONDITIONS, Cut, Shop  # noqa: E402

from benchvoice.audio import Samples, Utterance  # noqa: E402
from benchvoice.bench.desk import Desk, Recorded  # noqa: E402
from benchvoice.bench.ears import Ears  # noqa: E402
from benchvoice.hearing import Heard as Guesses  # noqa: E402
from benchvoice.remark import Finding, Remark, doubt  # noqa: E402
from benchvoice.session import Header, ScriptedClock, read_session  # noqa: E402
from benchvoice.session.placing import placed  # noqa: E402

WAYS = ("fuzzy", "online", "offline")
_SILENCE = np.zeros(160, dtype=np.int16)
Steps = tuple[str | None, ...]


class Heard:
    """An engine that gives what was heard before, in turn."""

    name = "kept"
    missing = ()

    def __init__(self, cuts: Iterable[Cut]) -> None:
        self._cuts = iter(cuts)

    def hear(self, samples: Samples) -> Guesses:
        """Give the next guesses whatever the samples are."""
        return next(self._cuts).heard


def main(argv: Sequence[str] | None = None) -> int:
    """Print the figures; gives 0."""
    args = _arguments(argv)
    print(f"{args.jobs} jobs on each outline, seed {args.seed}; share of remarks, right step")
    print(f"{'outline':18} {'heard':6} {'remarks':>7} {'word errors':>11} "
          + " ".join(f"{way:>8}" for way in WAYS)
          + "    asked  wrong, not asked: online offline   missed")  # fmt: skip
    every: dict[str, Counter[str]] = defaultdict(Counter)
    by_noise: dict[str, Counter[str]] = defaultdict(Counter)
    for name in args.outlines:
        bench = Bench(name, args.seed)
        shop = Shop(bench, args.folder)
        jobs = [bench.session(TALK) for _ in range(args.jobs)]
        for condition in CONDITIONS:
            total: Counter[str] = Counter()
            for lines in jobs:
                found = score(bench, lines, shop.hear(lines, condition), args.misses)
                total += sum(found.values(), Counter())
                for noise, one in found.items() if condition != "clean" else ():
                    by_noise[f"{condition} {noise}"] += one
            print(f"{name:18} {row(condition, total)}", flush=True)
            every[condition] += total
    for condition, total in every.items():
        print(f"{'all':18} {row(condition, total)}")
    print(f"{'all':18} {row('all', sum(every.values(), Counter()))}")
    for noise in sorted(by_noise):
        print(f"{noise:18} {row('', by_noise[noise])}")
    return 0


def row(condition: str, total: Counter[str]) -> str:
    """Give a line of figures."""
    count = total["all"]
    shares = " ".join(f"{total[way] / count:8.1%}" for way in WAYS)
    return (
        f"{condition:6} {count:7} {total['errors'] / total['words']:11.1%} {shares}"
        f" {total['asked'] / count:8.1%} {total['online wrong'] / count:24.1%}"
        f" {total['offline wrong'] / count:7.1%} {total['missed'] / count:8.1%}"
    )


def score(
    bench: Bench, lines: Sequence[Line], cuts: Sequence[Cut], misses: bool
) -> dict[str, Counter[str]]:
    """Count the remarks, and those put right by each way, noise by noise."""
    recorded, later = at_the_desk(bench, cuts)
    texts = [one.event.remark.heard for one in recorded]
    plainly = fuzzy(bench.outline, [Line(text, Remark(heard=text)) for text in texts])
    every: dict[str, Counter[str]] = defaultdict(Counter)
    for number, line in enumerate(lines):
        total = every[tuple(NOISES)[number // -(-len(lines) // len(NOISES))]]
        if not line.steps:
            continue
        own = [at for at, cut in enumerate(cuts) if cut.line == number]
        events = [recorded[at].event for at in own]
        ways = {
            "fuzzy": [step for at in own for step in plainly[at][0]],
            "online": [step for one in events for step in _steps(one.remark.findings, one.step)],
            "offline": [step for at in own for step in later[at]],
        }
        right = {way: is_right(steps, line.steps) for way, steps in ways.items()}
        asked = any(map(_asked, (recorded[at] for at in own)))
        said, heard = plain(line.say).split(), " ".join(texts[at] for at in own).split()
        total["all"] += 1
        total["words"] += len(said)
        total["errors"] += Levenshtein.distance(said, heard)
        total["missed"] += not own
        total["asked"] += asked
        for way in WAYS:
            total[way] += right[way]
            total[f"{way} wrong"] += not right[way] and not asked
        if misses and not right["offline"]:
            print(f"    {line.say} | {' / '.join(texts[at] for at in own)}: {ways['offline']}, "
                  f"online {ways['online']}, should be {line.steps}"
                  f"{' (asked)' if asked else ''}")  # fmt: skip
    return every


def at_the_desk(bench: Bench, cuts: Sequence[Cut]) -> tuple[list[Recorded], list[Steps]]:
    """Take what was heard down in a session; gives the events, and the steps looked back on."""
    ears = Ears(bench.pack, Heard(cuts))
    with tempfile.TemporaryDirectory() as folder:
        clock = ScriptedClock(datetime(2026, 1, 5, 8, tzinfo=UTC))
        recorded: list[Recorded] = []
        with Desk.open(ears, Path(folder), Header(outline=bench.name), clock.clock) as desk:
            for cut in cuts:
                clock.advance(cut.end - desk.elapsed)
                one = desk.heard(Utterance(_SILENCE, cut.start, cut.end))
                desk.listening = True  # heard for "be quiet" by mistake
                assert one is not None
                recorded.append(one)
        session = placed(read_session(Path(folder)), bench.outline, bench.pack)
    entries = {entry.seq: entry for entry in session.entries}
    found = [entries[one.event.seq] for one in recorded]
    return recorded, [_steps(entry.findings, entry.step) for entry in found]


def _steps(findings: Iterable[Finding], step: str | None) -> Steps:
    return tuple(finding.own_step or step for finding in findings) or (step,)


def _asked(one: Recorded) -> bool:
    remark = one.event.remark
    unsure = remark.step is not None and bool(remark.step.others)
    return unsure or one.event.kind == "unclear" or doubt(remark) is not None


def _arguments(argv: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--folder", type=Path, required=True, help="where what was heard is kept")
    parser.add_argument("--outlines", nargs="+", choices=OUTLINES, default=list(OUTLINES))
    parser.add_argument("--jobs", type=int, default=2, help="generated jobs on each outline")
    parser.add_argument("--seed", type=int, default=7, help="of the generated jobs")
    parser.add_argument("--misses", action="store_true", help="print what looking back misses")
    return parser.parse_args(argv)


if __name__ == "__main__":
    raise SystemExit(main())
