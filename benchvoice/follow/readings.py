"""The outline's limits and checks, and what was said to each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from msgspec.structs import replace

from benchvoice.follow.counts import PUTTING, Said
from benchvoice.follow.likeness import part_likeness, place_likeness, stems
from benchvoice.follow.limits import is_limited, limit_complaint, limit_text, measured_of
from benchvoice.follow.wording import measure_text
from benchvoice.grammar.load import sound_conditions
from benchvoice.grammar.outline import Check, Limit, Outline, Step
from benchvoice.grammar.vocabulary import Unit
from benchvoice.remark import Finding, Frozen

_CHECKING = frozenset({"tested", "checked", "inspected", "turned", "measured"})


class Reading(Frozen, frozen=True, kw_only=True):
    """A limit of a step and the measure that counts for it; `measured` is None without one.

    `complaint` says what is wrong with it, None when it is within the limit.  `of` is the place
    that it is measured at where the step puts several that are alike together, and `home` the
    strip step of that.
    """

    step: str
    limit: Limit
    of: str | None = None
    home: str | None = None
    measured: Finding | None = None
    complaint: str | None = None

    @property
    def name(self) -> str:
        """What is to be measured: "friction plate thickness"."""
        return " ".join(filter(None, [self.of, self.limit.part, self.limit.quantity]))

    @property
    def is_well(self) -> bool:
        """Whether it was measured and is within the limit."""
        return self.measured is not None and self.complaint is None

    def is_out_by(self, finding: Finding) -> bool:
        """Whether it is out of the limit by a measure."""
        return self.measured is finding and self.complaint is not None

    def is_of(self, step: str | None, part: str | None) -> bool:
        """Whether a part spoken of in a step is what was measured."""
        own = (self.measured.part if self.measured else None) or self.limit.part
        return part_likeness(part, own) > 0 if own else step == self.step

    @property
    def text(self) -> str:
        """The limit, and the measure when there is one."""
        measure = self.measured.measure if self.measured else None
        if measure is None:
            return f"{self.name} not measured, {limit_text(self.limit)}"
        about = f"{of_what} " if (of_what := measured_of(self.measured)) else ""
        return f"{about}{measure_text(measure)}: {self.complaint or limit_text(self.limit)}"


class Checked(Frozen, frozen=True, kw_only=True):
    """A check of a step and what was said to it, None while nothing was."""

    step: str
    check: Check
    said: Finding | None = None

    @property
    def text(self) -> str:
        """What is to be checked."""
        return f"{self.check.part}: {self.check.what}"

    @property
    def complaint(self) -> str | None:
        """What is wrong by what was said to it: "leaking" where it is to be dry."""
        said = self.said
        wrong = (
            [one for one in said.all_conditions if not _is_well(one, self.check)] if said else []
        )
        return f"{self.text}: {', '.join(wrong)} said" if wrong else None

    @property
    def is_well(self) -> bool:
        """Whether something was said to it, and it is as it should be."""
        return self.said is not None and self.complaint is None


def unread(outline: Outline) -> tuple[Reading, ...]:
    """Give every limit of the outline before anything was measured."""
    return tuple(
        Reading(step=step.id, limit=limit, of=place, home=home)
        for step in outline.steps()
        for limit in step.limit
        for home, place in (*stacks_measured(limit.quantity, step, outline),) or ((None, None),)
    )


def stacks_measured(quantity: str, step: Step, outline: Outline) -> list[tuple[str, str]]:
    """Give (strip step, place) of the stacks that a step puts back and that a measure is of.

    "Pack clearance" is of either of two packs; none where there are not several.
    """
    named = {*stems(quantity)}
    homes = (outline.by_id.get(home) for home in step.puts_back)
    found = [
        (home.id, stack.place)
        for home in homes
        if home
        for stack in home.stack
        if stack.place and named & {*stems(stack.name)}
    ]
    return found if len({place for _, place in found}) > 1 else []


def readings_after(
    known: tuple[Reading, ...], said: Said, outline: Outline, units: Mapping[str, Unit]
) -> tuple[Reading, ...]:
    """Give the limits with their measures after what was said next; `units` are those by name.

    A measure is for the limit of its step, or of another step when its own has
    none of that quantity; one taken before the unit was put together says
    nothing of how it was put together.  While putting together the last
    measure counts (it was adjusted in between); on inspection one that is out
    of the limit counts whatever is measured after it.  What was measured of two
    things, two clutches or two shafts, has a reading for each, the later after
    the earlier.
    """
    for step, findings in said:
        for finding in findings:
            if finding.measure is not None:
                known = tuple(_with_measure(known, step or "", finding, outline, units))
    return known


def _with_measure(
    known: tuple[Reading, ...],
    step: str,
    finding: Finding,
    outline: Outline,
    units: Mapping[str, Unit],
) -> Iterator[Reading]:
    """Yield the readings with a measure more; of another thing than before it is one more."""
    for (own, limit), group in groupby(known, key=lambda one: (one.step, one.limit)):
        alike = [*group]
        if not _is_for(step, finding, alike[0], outline):
            yield from alike
            continue
        same = [one is _at_its_place(alike, finding) for one in alike]
        if not any(same):
            alone = len(alike) == 1
            same = [not one.of and _is_same(one.measured, finding, alone=alone) for one in alike]
        for one, is_it in zip(alike, same, strict=True):
            yield _measured(one, finding, outline, units) if is_it else one
        if not any(same):
            yield _measured(Reading(step=own, limit=limit), finding, outline, units)


def _at_its_place(alike: Sequence[Reading], finding: Finding) -> Reading | None:
    """Of what is measured at several places that of the place named, else the first not well."""
    named = measured_of(finding)
    if named is not None:
        return next((one for one in alike if one.of and place_likeness(named, one.of) > 0), None)
    return next((one for one in alike if one.of and not one.is_well), None)


def _is_same(before: Finding | None, now: Finding, *, alone: bool) -> bool:
    """Whether the same was measured before; the only one may have been said without its name."""
    if before is None:
        return True
    names = (measured_of(before), measured_of(now))
    unsaid = None in names or (before.part == now.part and None in (before.place, now.place))
    return names[0] == names[1] or (alone and unsaid)


def unchecked(outline: Outline) -> tuple[Checked, ...]:
    """Give every check of the outline before anything was said to it."""
    return tuple(
        Checked(step=step.id, check=check) for step in outline.steps() for check in step.check
    )


def checks_after(known: tuple[Checked, ...], said: Said) -> tuple[Checked, ...]:
    """Give the checks after what was said next, each with the last said to it in its step."""
    for step, findings in said:
        for finding in findings:
            known = tuple(
                replace(one, said=finding)
                if one.step == step and _answers(finding, one.check)
                else one
                for one in known
            )
    return known


def _measured(
    known: Reading, finding: Finding, outline: Outline, units: Mapping[str, Unit]
) -> Reading:
    assert finding.measure is not None
    complaint = limit_complaint(finding.measure, known.limit, units)
    putting = outline.kind_of[known.step] in PUTTING
    if complaint is None and known.complaint is not None and not putting:
        return known
    return replace(known, measured=finding, complaint=complaint)


def _is_for(step: str, finding: Finding, known: Reading, outline: Outline) -> bool:
    if not is_limited(finding, known.limit):
        return False
    putting = outline.kind_of[known.step] in PUTTING
    return step == known.step or (
        (outline.kind_of.get(step) in PUTTING) == putting and not _has_own(step, finding, outline)
    )


def _has_own(step: str, finding: Finding, outline: Outline) -> bool:
    own = outline.by_id.get(step)
    return own is not None and any(is_limited(finding, limit) for limit in own.limit)


def _is_well(condition: str, check: Check) -> bool:
    """Whether a condition is as a check wants it: as its words say, else by the trade's."""
    name = condition.removeprefix("not ")
    wanted = wants(check.what, name)
    if wanted is None:
        wanted = name in sound_conditions()
    return wanted != (name != condition)


def wants(what: str, condition: str) -> bool | None:
    """Whether a check's words want a condition ("dry after the run") or not ("no cracks", "without
    a tight spot"); None when they do not have it."""
    words = what.lower().replace(",", " ").split()
    for at, word in enumerate(words):
        if stems(word) and stems(word) == stems(condition):
            return _DENIALS.isdisjoint(words[max(0, at - 2) : at])
    return None


_DENIALS = frozenset({"no", "not", "without", "never"})


_WASHED = frozenset({"clean", "dirty"})
"""A case that is clean may be cracked: they answer only a check that asks for them."""


def _answers(finding: Finding, check: Check) -> bool:
    named = [name for name in (finding.part, finding.place) if name]
    looked_at = any(set(stems(name)) & set(stems(check.what)) for name in named)
    if looked_at and any(wants(check.what, one) is not None for one in finding.all_conditions):
        return True  # "mounting foot cracked", where no cracks at the feet of the case are to be
    like = any(
        part_likeness(name, check.part) > 0 or place_likeness(name, check.part) > 0
        for name in named
    )
    done = finding.action in _CHECKING and finding.measure is None
    said = any(one not in _WASHED or wants(check.what, one) for one in finding.all_conditions)
    return (said or done) and (like or not named)
