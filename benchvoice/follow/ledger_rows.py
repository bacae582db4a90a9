"""A line of the ledger while it is written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.follow.counts import ON, number_of
from benchvoice.follow.ledger_homes import SIDES, Key
from benchvoice.follow.ledger_values import Contained, LedgerLine, LengthLine
from benchvoice.follow.likeness import part_likeness
from benchvoice.follow.sizes import (
    group_by_holes,
    group_by_size,
    length_group,
    misplaced_text,
    named_at,
    size_warnings,
)
from benchvoice.follow.wording import size_texts
from benchvoice.grammar.outline import Hardware, Outline
from benchvoice.remark import Finding, Frozen


class Put(NamedTuple):
    """So many put into a container; `told` as in `Row` when it was said."""

    label: str
    number: int | None
    told: int | None


class Row(Frozen, frozen=True, kw_only=True, dict=True):
    """What was said so far of one part at one place.

    `blank` is its line before anything was said.  `counted` came off as the tally has it, of all
    that was said until now; `told` came off with no step of the outline under way, which the tally
    passes over, and `sized` of them were said again with a length.  `worked_at` and `off_at` number
    the findings of the job in which it was first spoken of while stripping, and first said to be
    off.  `lengths` and `holes` have, by the holes a length belongs in, how many there were and the
    holes that they came out of.  `found` has a sum for each step, of which the largest counts.
    `back` has a sum for each way of putting on, `texts` what was said
    under each name of a field, `puts` all that was put away.  `turned_up` tells that more was
    counted after some were said to be missing; `not_which` as in the line.
    """

    blank: LedgerLine
    item: Hardware | None = None
    counted: int | None = None
    told: int | None = None
    sized: int = 0
    worked_at: int | None = None
    off_at: int | None = None
    found: Mapping[str, int] = {}
    back: Mapping[str, int] = {}
    went_back: bool = False
    lengths: Mapping[str, int | None] = {}
    holes: Mapping[str, str] = {}
    texts: Mapping[str, tuple[str, ...]] = {}
    puts: tuple[Put, ...] = ()
    turned_up: bool = False
    not_which: bool = False
    decided: int | None = 0
    again: bool = False

    @property
    def off_since(self) -> int | None:
        """When it came off, as `off_at`; None when it did not.

        Of what was counted all that was said while stripping is of what came off.
        """
        return self.off_at if self.counted is None else self.worked_at

    def outstanding(self, way: str) -> int:
        """How many have still to be put in (or tightened), as far as numbers were said."""
        off, expected = self._came(self.told) or 0, self.blank.expected or 0
        return max(0, max(off, expected) - self.back.get(way, 0))

    def came_untold(self, finding: Finding, number: int) -> Row:
        """Add what came off with no step under way; "ten off, eight short ones" is ten."""
        size = finding.size
        sized = self.sized + number if size and (size.relative or size.length) else None
        if self.told is not None and sized is not None and sized <= self.told:
            return replace(self, sized=sized)
        return replace(self, told=(self.told or 0) + number)

    def found_more(self, step: str, number: int | None) -> Row:
        """Add what was found of so many in a step; what is found of them again is no more."""
        if number is None:
            return self
        return replace(self, found={**self.found, step: self.found.get(step, 0) + number})

    def gone_back(self, way: str, number: int) -> Row:
        """Put so many on; what is renewed once more goes in the place of what was in."""
        more = min(number, self.outstanding(way)) if self.again else number
        back = dict(self.back)
        if more or not self.again:
            back[way] = back.get(way, 0) + more
        again = self.again and number == 0
        return replace(self, went_back=self.went_back or number > 0, back=back, again=again)

    def out_again(self, number: int | None) -> Row:
        """Take so many out again, all of them without a number."""
        back = {
            way: 0 if number is None else max(0, there - number) for way, there in self.back.items()
        }
        return replace(self, back=back, went_back=any(back.values()))

    def described(self, finding: Finding) -> Row:
        """Write down what it is like, and where it was put."""
        texts = dict(self.texts)
        for name, said in _described(finding, self.item, self.blank.part):
            texts[name] = (*(text for text in texts.get(name, ()) if text != said), said)
        puts = self.puts
        if finding.container:
            puts = (*puts, Put(finding.container, number_of(finding, self.item), self.told))
        return replace(
            self,
            texts=texts,
            puts=puts,
            lengths=self._measured(finding),
            holes=self._came_from(finding),
            turned_up=self._turns_up(finding),
            decided=_number_decided(finding) if finding.disposition else self.decided,
        )

    def without(self, disposition: str) -> Row:
        """Take back what shall happen to it, when it was said of another that is like it."""
        said = self.texts.get("dispositions", ())
        if said[-1:] != (disposition,):
            return self
        return replace(self, texts={**self.texts, "dispositions": said[:-1]}, not_which=False)

    def _turns_up(self, finding: Finding) -> bool:
        """Whether more is counted after some were missing: "one missing", then "found it"."""
        said = finding.all_conditions
        if _MISSING in said:
            return False
        counted = finding.count is not None and not said and finding.action not in ON
        return self.turned_up or (counted and _MISSING in self.texts.get("conditions", ()))

    def _measured(self, finding: Finding) -> Mapping[str, int | None]:
        group = length_group(finding, self.item) if self.item else None
        if group is None or finding.action in ON:
            return self.lengths
        before, number = self.lengths.get(group.where), finding.count
        return {**self.lengths, group.where: before if number is None else (before or 0) + number}

    def _came_from(self, finding: Finding) -> Mapping[str, str]:
        groups = self.item.lengths if self.item else ()
        length = group_by_size(finding, groups)
        holes = group_by_holes(finding, groups, self.blank.place)
        if length is None or holes is None or finding.action in ON:
            return self.holes
        return {**self.holes, length.where: holes.where}

    def _misplaced(self) -> Iterator[str]:
        for length in self.item.lengths if self.item else ():
            holes = self.holes.get(length.where, length.where)
            if holes != length.where:
                name = named_at(self.blank.part, self.blank.place)
                yield f"{name}, {misplaced_text(length, holes)}"

    def _came(self, told: int | None) -> int | None:
        off = _sum(self.counted, told)
        return off if off is not None else self.blank.expected

    @cached_property
    def line(self) -> LedgerLine:
        """What there is to say of it now."""
        said = {name: self.texts.get(name, ()) for name in _TEXTS}
        off, found = _sum(self.counted, self.told), max(self.found.values(), default=None)
        if self.turned_up and (off or 0) >= (self.blank.expected or 0):
            said["conditions"] = tuple(one for one in said["conditions"] if one != _MISSING)
            found = found if said["conditions"] else None
        said["odd"] = (*said["odd"], *self._misplaced())
        return replace(
            self.blank,
            off=off,
            came_off=self.off_since is not None,
            found=found,
            back=max(self.back.values()) if self.back else None,
            went_back=self.went_back,
            not_which=self.not_which and not self.blank.always_replace,
            decided=self.decided,
            again=self.again,
            lengths=tuple(
                LengthLine(
                    length=group.length,
                    expected=group.count,
                    where=group.where,
                    said=self.lengths.get(group.where),
                    found=self.holes.get(group.where),
                )
                for group in (self.item.lengths if self.item else ())
            ),
            containers=tuple(dict.fromkeys(one.label for one in self._kept)),
            groups=(*self.blank.groups, *self.texts.get("groups", ())),
            **said,
        )

    @cached_property
    def contained(self) -> tuple[tuple[str, Contained], ...]:
        """Where it lies, as (label of the container, what is in it)."""
        line, kept = self.line, self._kept
        return tuple(
            (
                one.label,
                Contained(
                    step=line.step,
                    part=line.part,
                    place=line.place,
                    count=one.number if one.number is not None or len(kept) > 1 else line.off,
                ),
            )
            for one in kept
        )

    @cached_property
    def _kept(self) -> tuple[Put, ...]:
        """A later container adds to the earlier ones as long as there are parts for it."""
        kept: list[Put] = []
        total: int | None = 0
        for put in self.puts:
            came = self._came(put.told)
            if None in (total, put.number, came) or (total or 0) + (put.number or 0) > (came or 0):
                kept.clear()
                total = 0
            kept.append(put)
            total = None if put.number is None else (total or 0) + put.number
        return tuple(kept)


def _number_decided(finding: Finding) -> int | None:
    """Of how many it was said what shall happen; None for all, 0 for those something was found of.

    "Replace the bearings" is all of them, "bearing pitted, replace" and "replace it" are those.
    """
    found = finding.condition is not None or finding.part is None
    return 0 if finding.count is None and found else finding.count


_MISSING = "missing"
"""The trade's word for what is not there."""
_TEXTS = (
    *("conditions", "dispositions", "orientation", "orientation_back"),
    *("marks", "odd", "sizes"),
)
"""Fields of a line that list what was said, the last at the end."""


def holes_text(finding: Finding, part: str) -> str | None:
    """Name the holes that parts of a size were in: "top"; the place of the part itself is none."""
    if finding.place in SIDES or not (finding.part or part_likeness(finding.place, part)):
        return finding.place
    return finding.side


def _described(finding: Finding, item: Hardware | None, part: str) -> Iterator[tuple[str, str]]:
    """Yield (name of a field, text) for all that is said of a part in words."""
    facing = "orientation_back" if finding.action in ON else "orientation"
    sizes = ", ".join(size_texts(finding.size))
    number = "" if finding.count is None else f"{finding.count} of "
    holes = holes_text(finding, part)
    at = f" {holes}" if holes else ""
    texts = [
        *(("conditions", text) for text in finding.all_conditions),
        ("dispositions", finding.disposition),
        (facing, finding.orientation),
        ("marks", finding.mark or ("marked" if finding.action == "marked" else None)),
        ("groups", finding.group),
        *(("odd", text) for text in (size_warnings(finding, item) if item else ())),
        ("sizes", f"{number}{sizes}{at}" if sizes else None),
    ]
    yield from ((name, text) for name, text in texts if text)


def blank_line(key: Key, item: Hardware | None, outline: Outline) -> LedgerLine:
    """Give the line of a part of which nothing was said yet."""
    line = LedgerLine(step=key.step, part=key.part, place=key.place)
    if item is None:
        return line
    return replace(
        line,
        expected=item.expected,
        always_replace=item.always_replace,
        inspect=item.inspect,
        either_way=item.either_way,
        mark_to_make=item.mark,
        build=item.build,
        note=item.note,
        groups=tuple(
            group.name for group in outline.by_id[key.step].together if item.part in group.part
        ),
    )


def _sum(*numbers: int | None) -> int | None:
    said = [number for number in numbers if number is not None]
    return sum(said) if said else None
