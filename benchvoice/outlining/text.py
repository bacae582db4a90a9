"""Outline reports and comparisons of sessions as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from benchvoice.follow.wording import parts_text
from benchvoice.outlining.check import OutlineReport
from benchvoice.outlining.compare import Comparison, Differing, Displaced, Extra
from benchvoice.outlining.values import HardwareKey
from benchvoice.sheets.layout import columns, counted, hours, marked, titled, wrapped


def report_text(report: OutlineReport, width: int = 80) -> str:
    """Say what an outline has and lacks; its problems, when it has any, one to a line."""
    if report.outline is None:
        lines = [str(problem) for problem in report.problems]
        lines.append(f"{counted(len(lines), 'mistake')}; {_again(report)}")
        return "\n".join(lines) + "\n"
    return "\n".join(_summary(report, width)) + "\n"


def _again(report: OutlineReport) -> str:
    if report.whole:
        return "mend them and check again."
    return "mend them and check again: what refers to the broken entries is looked at then."


def _summary(report: OutlineReport, width: int) -> Iterator[str]:
    outline = report.outline
    assert outline is not None
    steps = list(outline.steps())
    items = [item for step in steps for item in step.hardware]
    limits = sum(len(step.limit) for step in steps)
    cautions = sum(len(step.cautions) for step in steps)
    yield from wrapped("", f"{outline.title} ({outline.name}): no mistakes.", width)
    yield from wrapped(
        "",
        f"{parts_text('stage', len(outline.stage))}, {parts_text('step', len(steps))}, "
        f"{hours(report.minutes)} book time, {sum(item.count for item in items)} pieces of "
        f"hardware, {parts_text('caution', cautions)}, {parts_text('limit', limits)}.",
        width,
    )
    for title, texts in (
        ("Steps without minutes (the quote cannot use them)", report.untimed),
        ("Steps that look dangerous and have no caution", report.uncautioned),
        ("Limits without a source (shown as unsourced)", report.unsourced),
        ("Words that cannot be heard (give their sounds in [pronounce], or type them)",
         report.unheard),
        ("Names that are not understood when said (add them as [[part]] or [[place]])",
         report.not_understood),
    ):  # fmt: skip
        yield from titled(title, marked("  - ", texts, width))


def comparison_text(found: Comparison, width: int = 80) -> str:
    """Say what sessions did differently."""
    titles = found.titles
    lines = [f"{len(found.sessions)} sessions compared."]
    lines += titled(
        "Out of the usual order",
        marked("  - ", (_displaced(one, titles) for one in found.displaced), width),
    )
    lines += titled(
        "Numbers that differ",
        marked("  - ", (_differing(one, titles) for one in found.differing), width),
    )
    lines += titled(
        "Parts that the outline does not list",
        marked("  - ", (_extra(one, titles) for one in found.extra), width),
    )
    rows: list[tuple[str, ...]] = [("Minutes by step", "done", "timed", "least", "middle", "most")]
    rows += [
        (
            titles.get(one.step, one.step),
            *(str(one.done), str(one.timed)),
            *(f"{value:.1f}" for value in (one.low, one.middle, one.high)),
        )
        for one in found.times
    ]
    return "\n".join([*lines, "", *columns(rows, width)]) + "\n"


def _displaced(one: Displaced, titles: Mapping[str, str]) -> str:
    where = ", ".join(
        f"{session} {'at the beginning' if step is None else f'after {titles.get(step, step)}'}"
        for session, step in one.after.items()
    )
    return f"{titles.get(one.step, one.step)}: elsewhere in {len(one.after)} of {one.of} ({where})"


def _differing(one: Differing, titles: Mapping[str, str]) -> str:
    said = ", ".join(f"{number} in {times}" for number, times in one.numbers.items())
    had = "" if one.expected is None else f" (outline {one.expected})"
    return f"{_named(one.key, titles)}: {said}{had}"


def _extra(one: Extra, titles: Mapping[str, str]) -> str:
    return f"{_named(one.key, titles)}: in {one.seen} of {one.of}"


def _named(key: HardwareKey, titles: Mapping[str, str]) -> str:
    step, part, place = key
    return f"{titles.get(step, step)}: {part}{f', {place}' if place else ''}"
