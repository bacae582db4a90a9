"""What is to be heeded before a step: what can hurt, and what cannot be put right afterwards."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from benchvoice.follow.counts import PUTTING
from benchvoice.follow.wording import parts_text
from benchvoice.grammar.outline import Hardware, HazardKind, Outline, PowerTools, Step

_BOTH_WAYS: frozenset[HazardKind] = frozenset({"spring", "lifting", "pinch", "press", "turning"})
"""What hurts going in as it does coming off (common practice, no source)."""


def cautions_before(step: Step, outline: Outline, started: Collection[str] = ()) -> tuple[str, ...]:
    """Give all that is shown before a step: hazards first, then what has to be kept.

    `started` are the steps begun before; what holds for a whole stage is said
    once, when it begins.
    """
    texts = [*hazard_cautions(step, outline)]
    if outline.kind_of[step.id] in PUTTING:
        texts += _power_tools(step, outline, started)
    else:
        texts += to_keep(step)
    return tuple(dict.fromkeys(texts))


def hazard_cautions(step: Step, outline: Outline) -> tuple[str, ...]:
    """Give a step's cautions; one that puts parts back and has none takes over theirs."""
    if step.cautions:
        return step.cautions
    taken_over = [
        hazard.caution
        for source in step.puts_back
        for hazard in outline.by_id[source].hazard
        if hazard.kind in _BOTH_WAYS
    ]
    return tuple(dict.fromkeys(taken_over))


def to_keep(step: Step) -> Iterator[str]:
    """Say what of a step is lost for good unless it is marked, kept apart, together or in order."""
    for item in step.hardware:
        if item.either_way:
            mark = f" ({item.mark})" if item.mark else ""
            yield (
                f"Mark the {named(item)} before it comes off{mark}: it goes on either way round."
            )
    for item in step.hardware:
        if item.lengths:
            yield f"Keep the lengths of the {named(item)} apart: {lengths_text(item)}."
    for group in step.together:
        why = f": {group.why}" if group.why else ""
        yield f"Keep {_listed(group.part)} together{why}."
    for stack in step.stack:
        note = f"; {stack.note}" if stack.note else ""
        yield (
            f"Keep the {stack.name} in order: "
            f"{stack.first} comes off first, {stack.last} last{note}."
        )
    for name, options in _builds(step).items():
        if len(options) > 1:
            yield f"Builds differ at the {name}: {' or '.join(options)}; say which is there."


def lengths_text(item: Hardware) -> str:
    """Say how many of which length belong where: "6 of 1 1/4 in (top), 4 of 2 in (bottom)"."""
    return ", ".join(f"{group.count} of {group.length} ({group.where})" for group in item.lengths)


def named(item: Hardware) -> str:
    """Name hardware with its place, plural when there are several: "end cover bolts"."""
    count = 2 if item.several else 1
    part = parts_text(item.part, count).removeprefix(f"{count} ")
    return f"{item.place} {part}" if item.place and item.place not in part else part


def power_tools_of(step: Step, outline: Outline) -> PowerTools:
    """Say where power tools may be used on a step: what it says, else what the outline says."""
    return step.power_tools or outline.power_tools


def _power_tools(step: Step, outline: Outline, started: Collection[str]) -> Iterator[str]:
    begun = any(outline.kind_of.get(other) in PUTTING for other in started if other != step.id)
    if step.power_tools is None and begun:
        return
    if power_tools_of(step, outline) == "apart only":
        yield "Hand tools only from here on: power tools are for taking apart."
    elif power_tools_of(step, outline) == "never":
        yield "Hand tools only here."


def _builds(step: Step) -> dict[str, dict[str, None]]:
    found: dict[str, dict[str, None]] = {}
    for item in step.hardware:
        if item.build is not None:
            found.setdefault(item.build, {})[item.build_option] = None
    return found


def _listed(names: Collection[str]) -> str:
    *most, last = names
    return f"{', '.join(most)} and {last}"
