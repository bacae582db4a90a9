"""Jobs talked through on an outline, out of order as people do, with the step each remark is of.

The sentences are the generator's (`benchvoice/grammar/generate.py`), bound to the hardware and the
limits of one step, and the hand-written ones of step_talk.toml; the order is made here.
"""

from __future__ import annotations

import random
import tomllib
from collections.abc import Iterator, Sequence
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

from msgspec.structs import replace
from rapidfuzz import fuzz, process

from benchvoice.follow.likeness import part_likeness, place_likeness
from benchvoice.follow.sizes import hardware_warnings
from benchvoice.grammar import Hardware, Outline, Pack, Stage, Step, load_outline, load_pack
from benchvoice.grammar.generate import vocabulary_words
from benchvoice.grammar.outline_talk import outline_rows
from benchvoice.grammar.readings import Said
from benchvoice.grammar.rows import Row, template_rows
from benchvoice.grammar.slots import Slots, drawer
from benchvoice.language import Parser
from benchvoice.remark import Finding, Remark

HERE = Path(__file__).resolve().parent
OUTLINES = {
    "reversing_gearbox": "reversing_gearbox",
    "worm_reducer": "worm_reducer",
    "plunger_pump": HERE.parent / "follow" / "plunger_pump.toml",
}

FITTING = {
    "strip": {None, "removed", "pressed out", "drained", "loosened", "marked"},
    "clean": {None, "cleaned", "lapped"},
    "inspect": {None, "checked", "inspected", "measured"},
    "decide": {None},
    "assemble": {"installed", "pressed in", "tightened", "adjusted", "measured"},
    "test": {None, "tested", "filled", "measured", "turned"},
}
"""What is done in a stage (common practice, no source); a generated sentence of another action is
not of the step.  None is a remark without an action, on the state of a part."""

BARE_SLOTS = {"condition", "count", "disposition", "container", "size", "group", "negation"}
"""Slots of the templates that name neither a part nor a place."""
CONFUSABLE = 8
"""A word is taken for one of so many of the pack's words that are most like it."""


class Rates(NamedTuple):
    """Shares of steps: left out, swapped with the next, followed by a return to an earlier one,
    begun by a command; shares of remarks: without a name, stray, joined with another step's."""

    skip: float = 0.12
    swap: float = 0.12
    back: float = 0.12
    command: float = 0.0
    bare: float = 0.0
    stray: float = 0.0
    joined: float = 0.0


class Line(NamedTuple):
    """What is said and the steps its findings are of; `told` is the step a command leads to.

    `steps` is empty for a stray remark.  `finished` tells that a command ends the step.
    """

    say: str
    remark: Remark
    steps: tuple[str, ...] = ()
    told: str | None = None
    finished: bool = False


class Bench:
    """Makes sessions on one outline."""

    def __init__(self, name: str, seed: int, outline: Outline | None = None) -> None:
        self.name = name
        self.outline: Outline = outline or load_outline(OUTLINES[name])
        self.pack: Pack = load_pack(self.outline)
        self.parser = Parser(self.pack)
        self.rng = random.Random(f"{name} {seed}")
        self._slots = Slots(self.pack, self.rng)
        self._rows = template_rows(self.pack, self._slots)
        self._kinds = {step.id: stage.kind for stage in self.outline.stage for step in stage.step}
        talk = tomllib.loads((HERE / "step_talk.toml").read_text("utf-8"))[name]
        self._own = talk
        self._talk = {step.id: self._of_step(step, talk) for step in self.outline.steps()}
        plain = [row for row in self._rows if _slots(row) and _slots(row) <= BARE_SLOTS]
        self._bare = self._lines(plain)
        self._any = self._lines(self._rows)

    def session(self, rates: Rates, errors: float = 0.0) -> list[Line]:
        """Make a session; `errors` is the share of words heard wrong."""
        lines: list[Line] = []
        for step in self._path(rates):
            told = False
            if self.rng.random() < rates.command:
                name = self.rng.choice(self.outline.by_id[step].say or (step,))
                lines.append(self._line(f"start the {name}", (step,), told=step))
                told = True
            for _ in range(self.rng.choice((1, 2, 2, 3, 3, 4))):
                lines.append(self._remark(step, rates, lines))
            if told and self.rng.random() < 0.5:
                end = self._line("finish this step", (step,), told=step)
                lines.append(end._replace(finished=True))
        return [self.misheard(line, errors) for line in lines] if errors else lines

    def misheard(self, line: Line, share: float) -> Line:
        """Take words for others (two in three) or lose them; commands stay."""
        if line.told:
            return line
        words: list[str] = []
        for word in line.say.split():
            if self.rng.random() >= share:
                words.append(word)
            elif self.rng.random() < 2 / 3:
                words.append(self._like(word))
        say = " ".join(words)
        return line._replace(say=say, remark=self.parser.parse(say))

    def _like(self, word: str) -> str:
        near = process.extract(word, self._words, scorer=fuzz.ratio, limit=CONFUSABLE + 1)
        return self.rng.choice([other for other, _, _ in near if other != word])

    @cached_property
    def _words(self) -> list[str]:
        return sorted(vocabulary_words(self.pack))

    def _path(self, rates: Rates) -> list[str]:
        """Give the steps in the order they are worked on; what has to come before is respected."""
        steps = list(self.outline.steps())
        at = 0
        while at + 1 < len(steps):
            one, other = steps[at], steps[at + 1]
            if one.id not in other.after and self.rng.random() < rates.swap:
                steps[at : at + 2] = other, one
                at += 1
            at += 1
        path: list[str] = []
        for step in steps:
            if self.rng.random() >= rates.skip:
                path.append(step.id)
                if len(path) > 1 and self.rng.random() < rates.back:
                    path.append(self.rng.choice(path[:-1]))
        return path

    def _remark(self, step: str, rates: Rates, before: Sequence[Line]) -> Line:
        if self.rng.random() < rates.stray:
            return self._line(next(self._any), ())
        if before and before[-1].steps == (step,) and self.rng.random() < rates.bare:
            return self._line(next(self._bare), (step,))
        line = self._line(next(self._talk[step]), (step,))
        placed = [one for one in before if one.steps]
        if before and self.rng.random() < rates.joined and placed:
            earlier = self.rng.choice(placed)
            other = next(self._talk[earlier.steps[0]])
            both = self._line(f"{line.say} and the {other}", (step, earlier.steps[0]))
            cut = len(line.remark.findings)
            if both.remark.findings[:cut] == line.remark.findings:
                each = [step] * cut
                each += [earlier.steps[0]] * (len(both.remark.findings) - cut)
                return both._replace(steps=tuple(each))
        return line

    def _line(self, say: str, steps: tuple[str, ...], told: str | None = None) -> Line:
        remark = self.parser.parse(say)
        return Line(say, remark, steps * max(1, len(remark.findings) // max(1, len(steps))), told)

    def _of_step(self, step: Step, talk: dict[str, dict[str, list[str]]]) -> Iterator[str]:
        """Give what is said in a step: about its hardware and limits, or the hand-written talk."""
        own = talk.get(step.id, {"parts": [], "say": []})
        kind = self._kinds[step.id]
        spoken = replace(step, hardware=(*step.hardware, *map(_hardware, own["parts"])))
        alone = replace(self.outline, stage=(Stage(id="s", title="s", kind=kind, step=(spoken,)),))
        rows = outline_rows(replace(self.pack, outline=alone), self._slots, self._rows)
        made = self._lines([row for row in rows if "correction" not in _slots(row)])
        said = [say for say in own["say"] if self._sound(say, None)]
        while True:
            if said and (not rows or self.rng.random() < 0.4):
                yield self.rng.choice(said)
                continue
            for say in made:
                if self._sound(say, kind) and self._settles(say, own.get("fates")):
                    yield say
                    break

    def may_say(self, say: str, findings: Sequence[Finding], step: str) -> bool:
        """Whether a sentence could be one of a step as well: see step_open.py."""
        own = self._own.get(step, {"parts": [], "say": []})
        if say in own["say"]:
            return True
        known, kind = self.outline.by_id[step], self._kinds[step]
        parts = (*known.hardware, *map(_hardware, own["parts"]))
        fates = own.get("fates")
        return all(
            (finding.part is None and finding.place is None and finding.measure is None)
            or (
                _fits(finding, kind)
                and (fates is None or finding.disposition in fates)
                and (any(_is_of(finding, one) for one in parts) or _is_measured(finding, known))
            )
            for finding in findings
        )

    def is_other_joined(self, line: Line) -> bool:
        """Whether what was joined means another thing than it does alone."""
        alone = self.parser.parse(line.say.rpartition(" and the ")[2]).findings
        return line.remark.findings[-len(alone) :] != alone if alone else True

    def _lines(self, rows: list[Row]) -> Iterator[str]:
        pick = drawer([Said("", row, row.weight) for row in rows], self.rng)
        while rows:
            row: Row = pick().value
            say = " ".join(draw().words for draw in row.draws)
            if self.parser.parse(say).kind == "remark":
                yield say

    def _settles(self, say: str, fates: list[str] | None) -> bool:
        """Whether what shall happen is settled in the step at hand."""
        found = self.parser.parse(say).findings
        return fates is None or all(finding.disposition in fates for finding in found)

    def _sound(self, say: str, kind: str | None) -> bool:
        """Whether a sentence is understood whole, and of the work of a stage when that is given."""
        remark = self.parser.parse(say)
        if remark.kind != "remark" or not remark.findings or remark.unparsed:
            return False
        return kind is None or all(_fits(finding, kind) for finding in remark.findings)


def _fits(finding: Finding, kind: str) -> bool:
    if finding.action not in FITTING[kind]:
        return False
    if kind == "decide":
        return finding.disposition is not None
    if finding.action is None and kind in ("clean", "assemble"):
        return False
    if finding.action == "measured":
        return finding.measure is not None and finding.measure.quantity != "torque"
    return True


def _is_of(finding: Finding, item: Hardware) -> bool:
    """Whether a finding names a part, with its number and size when they are said."""
    if finding.part is None or not part_likeness(finding.part, item.part):
        return False
    if not place_likeness(finding.place, item.place):
        return False
    taken = finding.action is not None or not (finding.condition or finding.disposition)
    if taken and finding.count is not None and finding.count != item.count:
        return False
    return finding.size is None or not hardware_warnings(replace(finding, part=item.part), item)


def _is_measured(finding: Finding, step: Step) -> bool:
    measure = finding.measure
    return measure is not None and any(one.quantity == measure.quantity for one in step.limit)


def _slots(row: Row) -> set[str]:
    return {item.slot for item in row.items if item.slot}


def _hardware(text: str) -> Hardware:
    name, _, place = text.partition(" @ ")
    number, _, part = name.partition(" ")
    if not number.isdigit():
        return Hardware(part=name, place=place or None)
    return Hardware(part=part, count=int(number), place=place or None)
