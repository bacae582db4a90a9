"""The hardware ledger made from what was said and the outline."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from msgspec.structs import replace

from benchvoice.follow.asked_for import as_wanted, checks
from benchvoice.follow.counts import (
    OFF,
    ON,
    PUTTING,
    Said,
    Tally,
    named_in_order,
    number_of,
    settled_builds,
)
from benchvoice.follow.ledger_homes import Homes, Key
from benchvoice.follow.ledger_rows import Row, blank_line
from benchvoice.follow.ledger_values import (
    NEW,
    BuildLine,
    Contained,
    Container,
    Ledger,
    StackLine,
    TogetherLine,
)
from benchvoice.grammar.outline import Outline
from benchvoice.remark import Finding


def ledger(said: Said, outline: Outline) -> Ledger:
    """Make the ledger from what stands of a job (see `events.standing`, `Session.findings`).

    What is said while stripping belongs to the hardware of its step; what is
    said of a part later, or that it went back in, to the line that it came
    from.  What no line is like gets one of its own in the step it was said in.
    """
    return book_of(said, outline).ledger


@dataclass(frozen=True, eq=False)
class Book:
    """The ledger as it is written; `after` gives what it is when more was said.

    `rows` begin with the hardware listed and all else that was counted, whenever that is said, for
    what was said before may be of it.  `last` is the row last spoken of in each step, `taken` the
    number of findings, `shared` has the rows among which a number that went back was shared out by
    what came off of each.
    """

    tally: Tally
    rows: Mapping[Key, Row]
    stacks: Mapping[tuple[str, str | None], tuple[str, ...]] = field(default_factory=dict)
    last: Mapping[str, Key] = field(default_factory=dict)
    taken: int = 0
    shared: frozenset[Key] = frozenset()

    def after(self, said: Said) -> Book | None:
        """Write down what was said next; None when that changes what came of what was said before.

        It does when there is something new to count, when it is settled which build is there, and
        when more came off of what was shared out already.
        """
        groups = [(step, tuple(findings)) for step, findings in said]
        tally = self.tally.after(groups)
        counted, before = _counted(tally), _counted(self.tally)
        changed = {key for key, number in counted.items() if number != before.get(key)}
        if [*counted] != [*before] or not changed.isdisjoint(self.shared):
            return None
        rows = {
            **self.rows,
            **{key: replace(self.rows[key], counted=counted[key]) for key in changed},
        }
        return _Writer(Book(tally, rows, self.stacks, self.last, self.taken, self.shared)).wrote(
            groups
        )

    @cached_property
    def ledger(self) -> Ledger:
        """What was written."""
        outline = self.tally.outline
        containers: dict[str, list[Contained]] = defaultdict(list)
        for row in self.rows.values():
            for label, contained in row.contained:
                containers[label].append(contained)
        order = {step: number for number, step in enumerate(outline.by_id)}
        lines = [row.line for row in self.rows.values()]
        return Ledger(
            lines=tuple(sorted(lines, key=lambda line: order.get(line.step, len(order)))),
            containers=tuple(
                Container(label=label, items=tuple(items)) for label, items in containers.items()
            ),
            stacks=_stacks(self.stacks, outline),
            together=_together(outline),
            builds=_builds(
                [key for key, row in self.rows.items() if row.line.came_off or row.went_back],
                outline,
            ),
            stripped=tuple(dict.fromkeys(self._stripped())),
        )

    def _stripped(self) -> Iterator[str]:
        off = [(row.off_since, key.step) for key, row in self.rows.items()]
        since = [(number, step) for number, step in off if number is not None]
        yield from (step for _, step in sorted(since, key=lambda one: one[0]))


def book_of(said: Said, outline: Outline) -> Book:
    """Write all that was said into a new book."""
    groups = [(step, tuple(findings)) for step, findings in said]
    tally = Tally(outline).after(groups)
    rows = {key: _row(key, outline, number) for key, number in _counted(tally).items()}
    return _Writer(Book(tally, rows)).wrote(groups)


def _counted(tally: Tally) -> dict[Key, int | None]:
    """Map what has a row whatever else is said of it to how much of it came off."""
    outline = tally.outline
    strips = {step for step, kind in outline.kind_of.items() if kind == "strip"}
    return {
        Key(count.step, count.part, count.place): count.said if count.step in strips else None
        for count in tally.counts
        if (count.step, count.part, count.place) in outline.hardware_at
        or (count.said is not None and count.step in strips)
    }


def _row(key: Key, outline: Outline, counted: int | None = None) -> Row:
    item = outline.hardware_at.get(key)
    return Row(blank=blank_line(key, item, outline), item=item, counted=counted)


class _Writer:
    """Takes down findings into copies of what a book has."""

    def __init__(self, book: Book) -> None:
        self._tally, self._outline = book.tally, book.tally.outline
        self._rows, self._stacks, self._last = dict(book.rows), dict(book.stacks), dict(book.last)
        self._taken, self._shared = book.taken, set(book.shared)
        self._homes = Homes(self._outline, self._rows)

    def wrote(self, said: Said) -> Book:
        """Take down what was said, and give the book with it."""
        for step, findings in said:
            for finding in findings:
                self._take(step or "", finding)
        return Book(
            self._tally,
            self._rows,
            self._stacks,
            self._last,
            self._taken,
            frozenset(self._shared),
        )

    def _take(self, step: str, finding: Finding) -> None:
        self._taken += 1
        here = self._outline.by_id.get(step)
        told = checks(here, finding) and not finding.disposition
        if told or as_wanted(here, finding):
            return  # "side cover dry" at the leak check tells nothing of its parts
        keys = [key for key in self._homes.of(step, finding) if key in self._rows]
        if len(keys) > 1 and self._comes_off_late(step, finding, keys):
            keys = []  # of which of several alike is not known: it is out by itself
        bare = is_count(finding) and step not in self._outline.by_id  # "key": nothing lists it
        if not keys and finding.part and (bare or _worth_a_line(finding)):
            keys = [Key(step, finding.part, finding.place)]
            self._rows[keys[0]] = _row(keys[0], self._outline)
        alone = finding.size is not None or not finding.place
        kind = self._outline.kind_of.get(step, "strip")
        if kind in PUTTING and finding.count is None and not finding.disposition:
            alone = False  # "turns by hand": the unit does
        if not keys and alone and not (finding.part or finding.stack):
            # "four of them are bent", "the short ones were at the bottom"
            keys = [self._last[step]] if step in self._last else []
        if len(keys) > 1 and kind not in ("strip", *PUTTING):
            # what is looked at came apart: plates of the clutch that nobody opened are none of them
            keys = [key for key in keys if self._rows[key].worked_at is not None] or keys
        if finding.stack:
            self._stacks[step, finding.place] = finding.stack
            for one in named_in_order(finding, here, self._outline):
                self._take(step, one)
        self._count(step, finding, keys)
        if finding.disposition and len(keys) == 1:
            self._answer(finding, keys[0])
        for key in keys:
            row = self._rows[key].described(finding)
            not_which = self._is_open(finding, keys) if finding.disposition else row.not_which
            new = kind in PUTTING and row.went_back and finding.disposition in NEW
            self._rows[key] = replace(row, not_which=not_which, again=row.again or new)
            self._last[step] = key

    def _is_open(self, finding: Finding, keys: list[Key]) -> bool:
        """Whether it may be of one of several lines or of all: not when as many were said."""
        there = sum(self._rows[key].line.came or 0 for key in keys)
        return len(keys) > 1 and (finding.count is None or finding.count < there)

    def _answer(self, finding: Finding, key: Key) -> None:
        """Take back of those that are like it what was said of one of them, now that it is told."""
        for other, row in self._rows.items():
            if row.not_which and other != key and other.part == key.part:
                self._rows[other] = row.without(finding.disposition or "")

    def _count(self, step: str, finding: Finding, keys: list[Key]) -> None:
        kind = self._outline.kind_of.get(step, "strip")
        put = finding.action in ON or (kind in PUTTING and goes_in(finding))
        if put and keys:
            self._put_back(finding, keys)
        elif finding.action in OFF and keys and all(self._rows[key].went_back for key in keys):
            for key in keys:
                row = self._rows[key]
                self._rows[key] = row.out_again(number_of(finding, row.item))
        elif (kind == "strip" and finding.action not in ON) or self._comes_off_late(
            step, finding, keys
        ):
            for key in keys:
                self._rows[key] = self._taken_off(step, finding, self._rows[key])
        elif finding.condition:
            for key in keys:  # of which of several it is not known, but of no more than were said
                self._rows[key] = self._rows[key].found_more(step, _number_found(finding))

    def _comes_off_late(self, step: str, finding: Finding, keys: list[Key]) -> bool:
        """Whether a part first comes off at a step that does not take apart."""
        rows = [self._rows[key] for key in keys]
        late = self._outline.kind_of.get(step, "strip") != "strip" and finding.part is not None
        before = any(row.went_back or (row.off_at is not None and row.told is None) for row in rows)
        return late and finding.action in OFF and not before

    def _taken_off(self, step: str, finding: Finding, row: Row) -> Row:
        still_on = finding.mark is not None and finding.count is None
        off = finding.action in OFF or (is_count(finding) and not still_on)
        number = number_of(finding, row.item)
        if off and number is not None and self._outline.kind_of.get(step) != "strip":
            row = row.came_untold(finding, number)
        if row.worked_at is None:
            row = replace(row, worked_at=self._taken)
        if off and row.off_at is None:
            row = replace(row, off_at=self._taken)
        return row.found_more(step, _number_found(finding)) if finding.condition else row

    def _put_back(self, finding: Finding, keys: list[Key]) -> None:
        """Rows that are as like share the number."""
        way = finding.action if finding.action in ("tightened", "adjusted") else "in"
        keys = self._going_in(finding.count, way, keys)
        rows = [self._rows[key] for key in keys]
        number = number_of(finding, rows[0].item if len(rows) == 1 else None)
        if number is None and finding.ordinal is not None and len(rows) == 1:
            number = min(1, rows[0].outstanding(way)) or None  # "last bolt in"
        if number is not None and len(rows) > 1:
            self._shared.update(keys)
        for key, row in zip(keys, rows, strict=True):
            if number is None:
                self._rows[key] = replace(row, went_back=True, again=False)
                continue
            share = number if key == keys[-1] else min(number, row.outstanding(way))
            self._rows[key] = row.gone_back(way, share) if share or len(keys) == 1 else row
            number -= share

    def _going_in(self, number: int | None, way: str, keys: list[Key]) -> list[Key]:
        """Give what may go in, likeliest first: what there are just so many of ("eight plates" of
        the clutch that had eight), what is of a step of which more is in, what came off last."""
        apart = [key for key in keys if self._rows[key].worked_at is not None] or keys
        if len(apart) == 1:
            return apart
        begun = {key.step for key, row in self._rows.items() if row.went_back}

        def rank(key: Key) -> tuple[bool, bool, int]:
            row = self._rows[key]
            return row.outstanding(way) != number, key.step not in begun, -(row.worked_at or 0)

        return sorted(apart, key=rank)


def _number_found(finding: Finding) -> int | None:
    """How many something is said of: the "second ball stuck" is one."""
    return 1 if finding.count is None and finding.ordinal is not None else finding.count


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


def _stacks(
    said: Mapping[tuple[str, str | None], tuple[str, ...]], outline: Outline
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
