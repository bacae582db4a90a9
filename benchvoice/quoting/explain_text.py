"""A step's numbers in plain words, for an 80-column terminal."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import fill

from benchvoice.quoting.explain import Explained, Looked, Timing
from benchvoice.quoting.lines import WIDTH, points

SHOWN = 30
"""So many timings are listed, the most recent ones."""


def explain_text(given: Explained) -> str:
    """Give the explanation as lines of at most 80 columns, ending in a newline."""
    lines = [fill(f"{given.title} ({given.step})", WIDTH), ""]
    low, high = given.range.p10, given.range.p90
    said = [
        f"The quote says P50 {given.range.p50:.1f}, P80 {given.range.p80:.1f}, P90 {high:.1f} min; "
        f"1 of 10 takes less than {low:.1f}.",
        _book(given),
        *_from_timings(given),
        f"The quote's usual time is {given.usual:.1f} min, known to about {_percent(given.known)}.",
        f"Around it, one job is off by about {_percent(given.scatter)} for reasons of this step "
        f"alone, {_percent(given.unit_scatter)} because the whole unit is good or bad"
        + (
            f" and {_percent(given.stage_scatter)} because the whole stage is."
            if given.stage_scatter > 1.001
            else "."
        ),
        *_practice(given),
        *map(_condition, given.conditions),
    ]
    lines += [*points(said, whole_words=True), *_timing_lines(given)]
    left = [*_untimed(given), *given.notes]
    if left:
        lines += ["", "Left out:", *points(left, whole_words=True)]
    return "\n".join(lines) + "\n"


def _percent(factor: float) -> str:
    """Say a factor of one standard deviation as a percentage up."""
    return f"{(factor - 1) * 100:.0f}%"


def _book(given: Explained) -> str:
    if given.book is None:
        return (
            f"It has no book minutes; the other steps without any let expect "
            f"{given.expected:.1f} min."
        )
    return (
        f"Book: {given.book:g} min. Over all steps this shop takes {given.pace:.2f} times the "
        f"book, so {given.expected:.1f} min are expected before its own timings count."
    )


def _from_timings(given: Explained) -> Iterator[str]:
    plain = given.plain
    if plain is None:
        yield "It was never timed, so the range is that of the expectation, and wide."
        return
    count = f"{plain.n} timings" if plain.n > 1 else "1 timing"
    spread = f", standard deviation {plain.sd:.1f}" if plain.n > 1 else ""
    yield (
        f"{count}: plain mean {plain.mean:.1f} min, middle one "
        f"{plain.median:.1f}{spread}. The quote works on logarithms and takes out what the whole "
        f"unit did, so its numbers are not these."
    )
    yield (
        f"The usual time rests {given.own * 100:.0f}% on this step's own timings and "
        f"{100 - given.own * 100:.0f}% on what was expected."
    )
    if given.needed is not None:
        enough = "so there are enough." if plain.n >= given.needed else "so more would help."
        yield (
            f"For the plain mean to be true to 5%, a time study asks for {given.needed} timings "
            f"(95% sure), {enough}"
        )
    if plain.n >= 8 and abs(plain.lag1) > 2 / plain.n**0.5:
        yield (
            f"Jobs that follow each other are alike (lag-1 correlation {plain.lag1:.2f}): the time "
            "drifts, so newer timings may tell more (--half-life)."
        )


def _practice(given: Explained) -> Iterator[str]:
    if given.practice != 1.0:
        yield (
            f"Practice is counted on: the next job takes {given.practice:.2f} of that, as jobs "
            "went quicker with the repeats."
        )


def _condition(one: Looked) -> str:
    often = f'"{one.condition}" was found in {one.found} of {one.timed}'
    what = "adds" if one.minutes >= 0 else "saves"
    low, high = sorted((one.low, one.high)) if one.minutes >= 0 else (-one.high, -one.low)
    if one.shown:
        return f"{often}; it {what} {abs(one.minutes):.1f} min ({low:.1f} to {high:.1f})."
    return f"{often}; too little evidence that it matters ({one.sure:.0%} sure of its direction)."


def _timing_lines(given: Explained) -> list[str]:
    if not given.timings:
        return []
    lines = ["", "Timings used (minutes, and how much each counts):"]
    if len(given.timings) > SHOWN:
        lines.append(f"  {len(given.timings) - SHOWN} earlier ones, not listed")
    for timing in given.timings[-SHOWN:]:
        lines += points([_timing(timing)], whole_words=True)
    return lines


def _timing(timing: Timing) -> str:
    day = f" {timing.day}" if timing.day else ""
    more = [f"weight {timing.weight:.2f}"]
    if timing.doubtful:
        more.append(f"{timing.doubtful:.1f} of them look like an interruption, counted")
    if timing.left_out:
        more.append(f"{timing.left_out:.1f} more were silent, not counted")
    if timing.found:
        more.append("found: " + ", ".join(timing.found))
    return f"{timing.session}{day}: {timing.minutes:.1f}, {'; '.join(more)}"


def _untimed(given: Explained) -> Iterator[str]:
    count = len(given.untimed)
    if count:
        named = ", ".join(given.untimed[:5]) + (f" and {count - 5} more" if count > 5 else "")
        yield f"{count} session{'s' if count > 1 else ''} did not time this step: {named}."
