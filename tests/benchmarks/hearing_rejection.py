"""Talk that is not for the bench: what becomes an entry, against remarks that are refused for it.

    python tests/benchmarks/hearing_rejection.py [--dev] [--remarks N] [--sentences N]
        [--human FOLDER ...] [--keep FILE | --cases FILE] [--plot PNG]

The talk is synthetic (`chatter.py` tells the texts) or FOLDERs of people's
recordings, such as `test/data/librivox` of a PocketSphinx source distribution
or the voice prompts of a telephone exchange.  A false entry is talk that
becomes a remark or a command: sure, or doubtful, which is asked about.  Hours
are those of the talk itself.  Remarks are refused; "right" are those that
would have been exactly right.  --keep writes what was heard into a file, which
--cases takes instead of hearing it all again.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from hearing_noise import Bench
from hearing_sets import bench_pack
from rejection_cases import Case, gather, odds_of, read_cases, write_cases

from benchvoice.audio import open_denoiser
from benchvoice.bench.understand import CARE, REFUSED, sureness
from benchvoice.remark import DOUBTFUL

CARES = (-1.0, 0.0, 0.5, 1.0, 1.5, 2.0)
LIMITS = (-3.0, -2.0, -1.5, -1.0, -0.5, 0.0, 0.5, 1.0, 2.0, 3.0)


@dataclass(frozen=True)
class Judged:
    """A case with its odds of being foreign."""

    case: Case
    odds: float

    def becomes(self, limit: float = REFUSED, care: float = CARE) -> str:
        """Tell what becomes of it: "refused", "doubtful", "sure", or "unclear" in any case."""
        if not self.case.entry:
            return "unclear"
        if self.odds > limit:
            return "refused"
        sure = sureness(self.case.confidence, self.odds, care) >= DOUBTFUL
        return "sure" if sure else "doubtful"


def judged(cases: Sequence[Case]) -> tuple[list[Judged], list[Judged]]:
    """Give talk and remarks, judged by the weights in use."""
    every = [Judged(case, odds_of(case)) for case in cases]
    talk = [one for one in every if one.case.source != "remark"]
    return talk, [one for one in every if one.case.source == "remark"]


def hours(talk: Sequence[Judged]) -> float:
    """How long it is."""
    return sum(one.case.seconds for one in talk) / 3600


def rate(talk: Sequence[Judged], what: str, limit: float = REFUSED) -> float:
    """How many utterances of talk become that, an hour."""
    return sum(one.becomes(limit) == what for one in talk) / max(1e-9, hours(talk))


def share(said: Sequence[Judged], what: str, limit: float = REFUSED, *, right: bool) -> float:
    """The share of remarks, or of all that are right, that become that."""
    of = [one for one in said if one.case.exact or not right]
    return sum(one.becomes(limit) == what for one in of) / max(1, len(of))


def groups(judged: Sequence[Judged], field: str) -> dict[str, list[Judged]]:
    """Put them together by a field of the case."""
    found: dict[str, list[Judged]] = {}
    for one in judged:
        found.setdefault(str(getattr(one.case, field)), []).append(one)
    return found


def show(talk: Sequence[Judged], said: Sequence[Judged]) -> None:
    """Print what becomes of talk by kind, and of remarks by setting."""
    print("talk              utterances    hours  sure an hour  doubtful an hour")
    for name, some in [*groups(talk, "source").items(), ("all talk", list(talk))]:
        print(
            f"  {name:16}{len(some):10}{hours(some):9.2f}{rate(some, 'sure'):14.1f}"
            f"{rate(some, 'doubtful'):18.1f}"
        )
    print("remarks      number  right    refused: all  right    doubtful: all  right")
    for name, some in groups(said, "setting").items():
        became = "".join(
            f"{share(some, what, right=False):{16 + at}.1%}{share(some, what, right=True):7.1%}"
            for at, what in enumerate(("refused", "doubtful"))
        )
        right = sum(one.case.exact for one in some) / len(some)
        print(f"  {name:10}{len(some):7}{right:7.0%}{became}")
    for one in talk:
        if one.becomes() == "sure":
            case = one.case
            print(f"  sure: {case.source}, {case.voice}: {case.text!r} heard as {case.heard!r}")


def curve(talk: Sequence[Judged], said: Sequence[Judged]) -> None:
    """Print what other limits for refusing would do."""
    print("refused above   entries an hour: sure  doubtful   right remarks refused, by setting")
    for limit in LIMITS:
        lost = "  ".join(
            f"{name} {share(some, 'refused', limit, right=True):5.1%}"
            f" (all {share(some, 'refused', limit, right=False):.1%})"
            for name, some in groups(said, "setting").items()
        )
        mark = "  <- in use" if limit == REFUSED else ""
        false = f"{rate(talk, 'sure', limit):20.1f}{rate(talk, 'doubtful', limit):10.1f}"
        print(f"{limit:10.1f}{false}   {lost}{mark}")


def cares(talk: Sequence[Judged], said: Sequence[Judged]) -> None:
    """Print what other care with sure entries would do."""
    print("care   sure an hour of talk   remarks sure: right  wrong")
    right = [one for one in said if one.case.exact]
    wrong = [one for one in said if not one.case.exact]
    for care in CARES:
        false, good, bad = (
            sum(one.becomes(care=care) == "sure" for one in some) for some in (talk, right, wrong)
        )
        rates = f"{false / hours(talk):18.1f}{good / len(right):23.1%}{bad / len(wrong):7.1%}"
        print(f"{care:4.1f}{rates}{'  <- in use' if care == CARE else ''}")


def plot(talk: Sequence[Judged], said: Sequence[Judged], path: Path) -> None:
    """Draw entries an hour against refused remarks into a PNG, where matplotlib is installed."""
    try:
        import matplotlib

        matplotlib.use("Agg")
        import matplotlib.pyplot as plt
    except ImportError:
        print("no plot: matplotlib is not installed")
        return
    figure, axes = plt.subplots(figsize=(7, 5))
    limits = [step / 10 for step in range(-60, 61)]
    for at, (name, some) in enumerate(groups(said, "setting").items()):
        for right, line in ((True, "-"), (False, ":")):
            lost = [100 * share(some, "refused", limit, right=right) for limit in limits]
            made = [rate(talk, "sure", limit) + rate(talk, "doubtful", limit) for limit in limits]
            label = f"{name}, {'right ones' if right else 'all'}"
            axes.plot(lost, made, line, color=f"C{at}", label=label)
            here = 100 * share(some, "refused", right=right)
            axes.plot([here], [rate(talk, "sure") + rate(talk, "doubtful")], "o", color=f"C{at}")
    axes.set(xlabel="remarks refused, %", ylabel="false entries an hour of talk, sure or doubtful")
    axes.set_title(
        f"sure false entries an hour in use: {rate(talk, 'sure'):.1f} (dots: limit in use)"
    )
    axes.set_xlim(-1, 40)
    axes.legend()
    axes.grid(alpha=0.3)
    figure.savefig(path, dpi=120, bbox_inches="tight")
    print(f"plotted in {path}")


def main(argv: Sequence[str] | None = None) -> int:
    """Print the tables; gives 0."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--dev", action="store_true", help="the set for choosing settings")
    parser.add_argument("--remarks", type=int, default=60)
    parser.add_argument("--sentences", type=int, default=1200, help="of WordNet; an hour of talk")
    parser.add_argument("--radio", type=int, default=4, help="minutes")
    parser.add_argument("--human", type=Path, action="append", default=[], help="recordings")
    parser.add_argument("--cases", type=Path, help="take these instead of hearing anything")
    parser.add_argument("--keep", type=Path, help="write the cases there")
    parser.add_argument("--plot", type=Path)
    args = parser.parse_args(argv)
    if args.cases:
        cases = read_cases(args.cases)
    else:
        bench = Bench(bench_pack(), open_denoiser())
        sizes = {"remarks": args.remarks, "sentences": args.sentences, "radio_minutes": args.radio}
        half = "dev" if args.dev else "test"
        cases = list(gather(bench, half, **sizes, folders=args.human))
    if args.keep:
        write_cases(args.keep, cases)
    talk, said = judged(cases)
    print(f"sure from {DOUBTFUL} on, refused above log odds of {REFUSED}, care {CARE}")
    show(talk, said)
    curve(talk, said)
    cares(talk, said)
    if args.plot:
        plot(talk, said, args.plot)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
