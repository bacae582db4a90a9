"""The hardware ledger made from what was said and the outline."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.follow.counts import OFF, ON, PUTTING, Count, number_of, settled_builds, tally
from benchvoice.follow.ledger_homes import Homes, Key
from benchvoice.follow.ledger_values import (
    BuildLine,
    Contained,
    Container,
    Ledger,
    LedgerLine,
    LengthLine,
    StackLine,
    TogetherLine,
)
from benchvoice.follow.sizes import hardware_warnings, length_group
from benchvoice.follow.wording import size_texts
from benchvoice.grammar.outline import Hardware, Outline
from benchvoice.remark import Finding

Said = Iterable[tuple[str | None, Iterable[Finding]]]
"""What stands, as (step id, findings) in the order said."""


def ledger(said: Said, outline: Outline) -> Ledger:
    """Make the ledger from what stands of a job (see `events.standing`, `Session.findings`).

    What is said while stripping belongs to the hardware of its step; what is
    said of a part later, or that it went back in, to the line that it came
    from.  What no line is like gets one of its own in the step it was said in.
    """
    groups = [(step, tuple(findings)) for step, findings in said]
    book = _Book(outline, tally(groups, outline))
    for step, findings in groups:
        for finding in findings:
            book.take(step, finding)
    return book.closed()


class _In(NamedTuple):
    """So many put into a container."""

    label: str
    number: int | None


@dataclass
class _Row:
    """A line being written."""

    line: LedgerLine
    item: Hardware | None = None
    found: int | None = None
    back: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    went_back: bool = False
    came_off: bool = False
    lengths: dict[str, int | None] = field(default_factory=dict)
    texts: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))
    kept: list[_In] = field(default_factory=list)

    def outstanding(self, kind: str) -> int:
        """How many have still to be put in (or tightened), as far as numbers were said."""
        return max(0, (self.line.came or 0) - self.back[kind])

    def note(self, name: str, *texts: str | None) -> None:
        """Write down what was not written yet; what was goes to the end, as last said."""
        for text in filter(None, texts):
            said = self.texts[name]
            if text in said:
                said.remove(text)
            said.append(text)

    def put_into(self, label: str, count: int | None) -> None:
        """A later container adds to the earlier ones as long as there are parts for it."""
        total = sum(one.number or 0 for one in self.kept)
        number = self.line.came
        split = count is not None and all(one.number is not None for one in self.kept)
        if not (split and number is not None and total + (count or 0) <= number):
            self.kept.clear()
        self.kept.append(_In(label, count))


class _Book:
    """The ledger while it is written."""

    def __init__(self, outline: Outline, counts: Sequence[Count]) -> None:
        self._outline = outline
        self._rows: dict[Key, _Row] = {}
        self._stacks: dict[tuple[str, str | None], tuple[str, ...]] = {}
        self._stripped: dict[str, None] = {}
        self._last: dict[str, _Row] = {}
        items = {
            (step.id, item.part, item.place): item
            for step in outline.steps()
            for item in step.hardware
        }
        for count in counts:
            item = items.get((count.step, count.part, count.place))
            listed = count.said is not None and outline.kind_of[count.step] == "strip"
            if item is not None or listed:
                self._add(Key(count.step, count.part, count.place), item, count)
        self._homes = Homes(outline, self._rows)

    def take(self, step_id: str | None, finding: Finding) -> None:
        """Write one finding down."""
        step = step_id or ""
        rows = [self._rows[key] for key in self._homes.of(step, finding)]
        if not rows and finding.part and _worth_a_line(finding):
            rows = [self._add(Key(step, finding.part, finding.place), None, None)]
        if not rows and not (finding.part or finding.place or finding.stack):
            rows = [self._last[step]] if step in self._last else []  # "four of them are bent"
        if finding.stack:
            self._stacks[step, finding.place] = finding.stack
        self._count(step, finding, rows)
        for row in rows:
            _describe(row, finding)
        if rows:
            self._last[step] = rows[-1]

    def _count(self, step: str, finding: Finding, rows: list[_Row]) -> None:
        kind = self._outline.kind_of.get(step, "strip")
        put = finding.action in ON or (kind in PUTTING and goes_in(finding))
        if put and rows:
            _put_back(finding, rows)
        elif finding.action in OFF and rows and all(row.went_back for row in rows):
            for row in rows:
                _took_out_again(row, finding)
        elif kind == "strip" and finding.action not in ON:
            self._took_off(step, finding, rows)
        elif finding.condition and len(rows) == 1 and finding.count is not None:
            rows[0].found = (rows[0].found or 0) + finding.count

    def _took_off(self, step: str, finding: Finding, rows: list[_Row]) -> None:
        still_on = finding.mark is not None and finding.count is None
        off = finding.action in OFF or (is_count(finding) and not still_on)
        for row in rows:
            row.came_off |= off or row.line.off is not None
            if step not in self._outline.by_id and off:  # no outline: nothing was tallied
                number = number_of(finding, row.item)
                if number is not None:
                    row.line = replace(row.line, off=(row.line.off or 0) + number)
            if finding.condition and finding.count is not None:
                row.found = (row.found or 0) + finding.count
            if row.came_off:
                self._stripped[row.line.step] = None

    def _add(self, key: Key, item: Hardware | None, count: Count | None) -> _Row:
        line = LedgerLine(
            step=key.step,
            part=key.part,
            place=key.place,
            expected=item.count if item else None,
            off=count.said if count and self._outline.kind_of[key.step] == "strip" else None,
        )
        self._rows[key] = _Row(line if item is None else _with_item(line, item, key, self._outline))
        self._rows[key].item = item
        return self._rows[key]

    def closed(self) -> Ledger:
        """Give what was written."""
        containers: dict[str, list[Contained]] = defaultdict(list)
        for row in self._rows.values():
            line = row.line
            for one in row.kept:
                count = one.number if one.number is not None or len(row.kept) > 1 else line.off
                containers[one.label].append(
                    Contained(step=line.step, part=line.part, place=line.place, count=count)
                )
        order = {step: number for number, step in enumerate(self._outline.by_id)}
        rows = sorted(self._rows.values(), key=lambda row: order.get(row.line.step, len(order)))
        return Ledger(
            lines=tuple(_closed(row) for row in rows),
            containers=tuple(
                Container(label=label, items=tuple(items)) for label, items in containers.items()
            ),
            stacks=_stacks(self._stacks, self._outline),
            together=_together(self._outline),
            builds=_builds(
                [key for key, row in self._rows.items() if row.came_off or row.went_back],
                self._outline,
            ),
            stripped=tuple(self._stripped),
        )


def _worth_a_line(finding: Finding) -> bool:
    """Whether more is said of a part than that it was worked on or measured."""
    said = (
        *(finding.count, finding.container, finding.condition, finding.disposition),
        *(finding.mark, finding.orientation, finding.group),
    )
    return any(said) or finding.action in OFF | ON


def goes_in(finding: Finding) -> bool:
    """Whether it says, while putting together, that so many go in."""
    return is_count(finding) and not (finding.container or finding.mark or finding.group)


def is_count(finding: Finding) -> bool:
    """Whether a number of parts is said and nothing else: "twelve bolts in the front cover"."""
    said = (finding.action, finding.condition, finding.disposition, finding.measure)
    return finding.part is not None and not any(said) and not finding.stack


def _put_back(finding: Finding, rows: list[_Row]) -> None:
    """Rows that are as like share the number, those that it came from first."""
    kind = finding.action if finding.action in ("tightened", "adjusted") else "in"
    number = number_of(finding, rows[0].item if len(rows) == 1 else None)
    if number is None:
        for row in rows:
            row.went_back = True
        return
    for row in rows:
        share = number if row is rows[-1] else min(number, row.outstanding(kind))
        row.went_back |= share > 0
        row.back[kind] += share
        number -= share


def _took_out_again(row: _Row, finding: Finding) -> None:
    number = number_of(finding, row.item)
    for kind in row.back:
        row.back[kind] = 0 if number is None else max(0, row.back[kind] - number)
    row.went_back = any(row.back.values())


def _describe(row: _Row, finding: Finding) -> None:
    row.note("conditions", *(finding.conditions or (finding.condition,)))
    row.note("dispositions", finding.disposition)
    row.note("orientation_back" if finding.action in ON else "orientation", finding.orientation)
    row.note("marks", finding.mark or ("marked" if finding.action == "marked" else None))
    row.note("groups", finding.group)
    if finding.container:
        row.put_into(finding.container, number_of(finding, row.item))
    group = length_group(finding, row.item) if row.item else None
    if group is not None and finding.action not in ON:
        before = row.lengths.get(group.where)
        number = finding.count
        row.lengths[group.where] = before if number is None else (before or 0) + number
    if row.item is not None:
        row.note("odd", *hardware_warnings(finding, row.item))
    sizes = ", ".join(size_texts(finding.size))
    if sizes:
        row.note("sizes", sizes if finding.count is None else f"{finding.count} of {sizes}")


def _with_item(line: LedgerLine, item: Hardware, key: Key, outline: Outline) -> LedgerLine:
    step = outline.by_id[key.step]
    return replace(
        line,
        always_replace=item.always_replace,
        inspect=item.inspect,
        either_way=item.either_way,
        mark_to_make=item.mark,
        build=item.build,
        note=item.note,
        groups=tuple(group.name for group in step.together if item.part in group.part),
    )


def _closed(row: _Row) -> LedgerLine:
    lengths = row.item.lengths if row.item else ()
    return replace(
        row.line,
        came_off=row.came_off,
        found=row.found,
        back=max(row.back.values()) if row.back else None,
        went_back=row.went_back,
        lengths=tuple(
            LengthLine(
                length=group.length,
                expected=group.count,
                where=group.where,
                said=row.lengths.get(group.where),
            )
            for group in lengths
        ),
        sizes=tuple(row.texts["sizes"]),
        odd=tuple(row.texts["odd"]),
        containers=tuple(dict.fromkeys(one.label for one in row.kept)),
        conditions=tuple(row.texts["conditions"]),
        dispositions=tuple(row.texts["dispositions"]),
        orientation=tuple(row.texts["orientation"]),
        orientation_back=tuple(row.texts["orientation_back"]),
        marks=tuple(row.texts["marks"]),
        groups=(*row.line.groups, *row.texts["groups"]),
    )


def _stacks(
    said: dict[tuple[str, str | None], tuple[str, ...]], outline: Outline
) -> tuple[StackLine, ...]:
    left = dict(said)
    lines = []
    for step in outline.steps():
        for stack in step.stack:
            key = next(
                (key for key in left if key[0] == step.id and key[1] in (None, stack.place)), None
            )
            lines.append(
                StackLine(
                    step=step.id,
                    order=left.pop(key) if key else (),
                    name=stack.name,
                    place=stack.place,
                    first=stack.first,
                    last=stack.last,
                    note=stack.note,
                )
            )
    more = [StackLine(step=step, order=order, place=at) for (step, at), order in left.items()]
    return (*lines, *more)


def _together(outline: Outline) -> tuple[TogetherLine, ...]:
    return tuple(
        TogetherLine(step=step.id, name=group.name, parts=group.part, why=group.why)
        for step in outline.steps()
        for group in step.together
    )


def _builds(mentioned: Iterable[Key], outline: Outline) -> tuple[BuildLine, ...]:
    said = settled_builds(mentioned, outline)
    return tuple(
        BuildLine(
            name=name,
            steps=tuple(
                step.id
                for step in outline.steps()
                if any(item.build == name for item in step.hardware)
            ),
            options=options,
            said=said[name],
        )
        for name, options in outline.builds.items()
    )
