"""The evaluation set of remarks, and how a reading of a remark is scored against its truth.

The truths are written by hand from the conventions in DEVELOPERS.md ("What a remark becomes").
Half of them are marked `held`; the rules were tuned on the others first and on all of them in the
end, so that neither half tells how well remarks are read that nobody has seen.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import msgspec

from benchvoice.remark import Finding, Kind, Remark, remark_to_json

HERE = Path(__file__).parent
NOT_OURS = "not_ours"
UNSCORED = frozenset({"si", "text", "notes"})
"""Fields that a truth does not give: they follow from the others."""

Fact = tuple[str, str | float]
"""A dotted field and its value: ("size.length.value", 1.25)."""


class Truth(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One remark of the set and what it says."""

    say: str
    kind: Kind = "remark"
    command: str | None = None
    number: int | None = None
    find: tuple[Finding, ...] = ()
    ambiguous: bool = False
    clumsy: bool = False
    held: bool = False
    topic: str = ""
    """The file it stands in, without the suffix."""


@dataclass(frozen=True)
class Score:
    """How many were right, wrongly given and missed."""

    right: int = 0
    extra: int = 0
    missed: int = 0

    def __add__(self, other: Score) -> Score:
        return Score(self.right + other.right, self.extra + other.extra, self.missed + other.missed)

    @property
    def precision(self) -> float:
        """Share of what was given that is right, 0..1; 1 when nothing was given."""
        given = self.right + self.extra
        return self.right / given if given else 1.0

    @property
    def recall(self) -> float:
        """Share of what was there that was found, 0..1; 1 when nothing was there."""
        there = self.right + self.missed
        return self.right / there if there else 1.0

    @property
    def f1(self) -> float:
        """Harmonic mean of precision and recall."""
        total = 2 * self.right + self.extra + self.missed
        return 2 * self.right / total if total else 1.0


def load_remarks(folder: Path = HERE, *, held: bool | None = None) -> tuple[Truth, ...]:
    """Read the set: all of it, or only the held or the other half.

    Raises ValueError for a remark that stands twice or a finding with an unknown field.
    """
    truths = [
        truth
        for path in sorted(folder.glob("*.toml"))
        if path.stem != NOT_OURS
        for truth in _read(path)
    ]
    _refuse_twice([truth.say for truth in truths] + list(load_not_ours(folder)))
    return tuple(truth for truth in truths if held is None or truth.held == held)


def load_not_ours(folder: Path = HERE) -> tuple[str, ...]:
    """Read the texts that must give no finding."""
    table = tomllib.loads((folder / f"{NOT_OURS}.toml").read_text("utf-8"))
    return tuple(text["say"] for text in table["text"])


def is_exact(truth: Truth, remark: Remark) -> bool:
    """Whether kind, command, number and all findings agree (findings in any order)."""
    if (truth.kind, truth.command, truth.number) != (remark.kind, remark.command, remark.number):
        return False
    if truth.ambiguous and not remark.ambiguous:
        return False
    return finding_score(truth, remark) == Score(right=len(truth_facts(truth)))


def finding_score(truth: Truth, remark: Remark) -> Score:
    """Count whole findings: right means that every field agrees."""
    wanted, given = truth_facts(truth), remark_facts(truth, remark)
    right = sum(bool(want) and want == got for want, got in pair_up(wanted, given))
    return Score(right, len(given) - right, len(wanted) - right)


def field_scores(truth: Truth, remark: Remark) -> dict[str, Score]:
    """Count single facts by field ("count", "part", "size" ...) over paired findings."""
    scores: dict[str, Score] = {}
    for want, got in pair_up(truth_facts(truth), remark_facts(truth, remark)):
        counts = {
            "right": fields_of(want & got),
            "extra": fields_of(got - want),
            "missed": fields_of(want - got),
        }
        for field in set().union(*counts.values()):
            one = Score(**{name: fields[field] for name, fields in counts.items()})
            scores[field] = scores.get(field, Score()) + one
    return scores


def wrong_but_sure(remark: Remark) -> bool:
    """Whether something was made of a text that is not ours: a finding or a command."""
    return remark.kind == "command" or (remark.kind == "remark" and bool(remark.findings))


def truth_facts(truth: Truth) -> list[frozenset[Fact]]:
    """Give the facts of each finding that the truth has."""
    said = Remark(heard=truth.say, kind=truth.kind, findings=truth.find)
    return [frozenset(flat(found)) for found in remark_to_json(said)["findings"]]


def remark_facts(truth: Truth, remark: Remark) -> list[frozenset[Fact]]:
    """Give the facts of each finding of a reading, without what the truth leaves open.

    `conditions` is left out unless the truth has it.  Where an ambiguity was
    to be reported there is no measure, and whether "measured" stands is open.
    """
    full = any(found.conditions for found in truth.find)
    given: list[frozenset[Fact]] = []
    for found in remark_to_json(remark)["findings"]:
        facts = {fact for fact in flat(found) if full or not fact[0].startswith("conditions")}
        if truth.ambiguous and not found["measure"]:
            facts.discard(("action", "measured"))
        if facts or not truth.ambiguous:
            given.append(frozenset(facts))
    return given


def pair_up(
    wanted: Sequence[frozenset[Fact]], given: Sequence[frozenset[Fact]]
) -> Iterator[tuple[frozenset[Fact], frozenset[Fact]]]:
    """Pair findings, the most alike first; what is left over is paired with nothing."""
    alike = sorted(
        ((-len(w & g), len(w ^ g), i, j) for i, w in enumerate(wanted) for j, g in enumerate(given))
    )
    left, right = set(range(len(wanted))), set(range(len(given)))
    for _, _, i, j in alike:
        if i in left and j in right:
            left.remove(i)
            right.remove(j)
            yield wanted[i], given[j]
    yield from ((wanted[i], frozenset()) for i in sorted(left))
    yield from ((frozenset(), given[j]) for j in sorted(right))


def fields_of(facts: Iterable[Fact]) -> Counter[str]:
    """Count the facts by top field; each part of a size or measure counts."""
    return Counter(path.partition(".")[0] for path, _ in facts)


def flat(value: Any, path: str = "") -> Iterator[Fact]:
    """Give the facts of a finding's JSON; empty and unscored fields are left out."""
    if isinstance(value, Mapping):
        for key, item in value.items():
            if key not in UNSCORED:
                yield from flat(item, f"{path}.{key}" if path else key)
    elif isinstance(value, list | tuple):
        for index, item in enumerate(value):
            yield from flat(item, f"{path}.{index}")
    elif value is not None:
        yield path, round(float(value), 6) if isinstance(value, int | float) else value


def _read(path: Path) -> Iterator[Truth]:
    for raw in tomllib.loads(path.read_text("utf-8"))["remark"]:
        truth = msgspec.convert({**raw, "topic": path.stem}, Truth)
        written = [frozenset(flat(found)) for found in raw.get("find", [])]
        if written != truth_facts(truth):
            raise ValueError(f'{path}: "{truth.say}": a finding has an unknown field; mend it')
        yield truth


def _refuse_twice(says: Iterable[str]) -> None:
    twice = [say for say, count in Counter(say.lower() for say in says).items() if count > 1]
    if twice:
        raise ValueError(f"said twice in the set: {twice}; take one of each out")
