"""An outline drafted from one session: steps, hardware as found, minutes; never a limit."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.errors import BadInput
from benchvoice.follow.align import is_many
from benchvoice.follow.counts import Count, tally
from benchvoice.follow.ledger import is_count
from benchvoice.follow.ledger_homes import SIDES
from benchvoice.follow.part_kinds import comes_off
from benchvoice.follow.wording import amount_text, measure_text, parts_text
from benchvoice.grammar import Hardware, LengthGroup, Outline, Stack, Stage, Step
from benchvoice.grammar.outline import StageKind
from benchvoice.grammar.vocabulary import is_spoken
from benchvoice.outlining.facts import frame
from benchvoice.outlining.in_full import in_full
from benchvoice.outlining.regroup import Group, regrouped
from benchvoice.outlining.values import Drafted, HardwareKey
from benchvoice.remark import Finding
from benchvoice.session import Session, step_minutes

_STAGES: tuple[tuple[StageKind, str], ...] = (
    ("strip", "Strip"),
    ("clean", "Clean"),
    ("inspect", "Inspect"),
    ("decide", "Decide"),
    ("assemble", "Assemble"),
    ("test", "Test"),
)
_SLUG = re.compile(r"[^a-z0-9]+")
REPLACED, IF_ALWAYS = "replaced in that session", "if it always is: always_replace = true"
LENGTHS = "lengths said"
"""How comments on a part begin."""
_RENEWED = frozenset({"replace", "order", "discard"})


def draft(session: Session, outline: Outline | None, name: str) -> Drafted:
    """Draft an outline called `name` from what was done in a session.

    Counts are as found and minutes as worked; a comment tells where the
    session's outline, if it had one, has something else.  Its steps stay in its
    order, also those of which the session has nothing.  Limits, cautions and
    what comes after what are those of that outline, else there are none.
    Raises BadInput when nothing was said that a step could be made of.
    """
    placed, groups = regrouped(session, outline)
    if not groups:
        raise BadInput(
            "has no steps and no findings to draft from",
            mend="give a session in which something was said",
            file=session.folder,
        )
    minutes = step_minutes(placed)
    writer = _Writer(placed, outline, groups)
    done = {group.id: _step(group, writer, minutes.get(group.id)) for group in groups}
    stages = _known_stages(outline, done, writer) if outline else []
    for kind, title in _STAGES:
        fresh = tuple(
            done[group.id]
            for group in groups
            if group.kind == kind and group.id not in writer.known
        )
        at = next((index for index, stage in enumerate(stages) if stage.kind == kind), None)
        if fresh and at is None:
            stages.append(Stage(id=kind, title=title, kind=kind, step=fresh))
        elif fresh and at is not None:
            stages[at] = replace(stages[at], step=(*stages[at].step, *fresh))
    return Drafted(
        outline=_whole(session, outline, name, tuple(stages)),
        top=_top(session, outline),
        minutes=writer.minutes,
        steps={key: tuple(texts) for key, texts in writer.steps.items()},
        hardware={key: tuple(texts) for key, texts in writer.hardware.items()},
    )


def slug(text: str) -> str:
    """Give a name that can be an outline's: lower case, digits and underscores."""
    return _SLUG.sub("_", text.lower()).strip("_") or "drafted"


def _top(session: Session, outline: Outline | None) -> tuple[str, ...]:
    header = session.header
    job = ", ".join(filter(None, [header.job, header.unit, header.serial])) or session.folder.name
    return (
        f"Procedure outline drafted from one session: {job}"
        + (" (INVENTED demo data)." if header.invented else "."),
        *((f"That session followed the outline {outline.title}.",) if outline else ()),
        "Counts are what was found in that one unit and minutes what it took that once: neither is "
        "a book value.",
        "There is no limit here that was not in the session's outline: those are in the unit "
        "maker's manual.",
        "",
    )


def _known_stages(outline: Outline, done: Mapping[str, Step], writer: _Writer) -> list[Stage]:
    """Give the outline's stages with the steps as they were done, and those that were not."""
    for step in outline.steps():
        if step.id not in done:
            writer.steps[step.id].append("nothing of this step is in the session")
    return [
        replace(stage, step=tuple(done.get(step.id, step) for step in stage.step))
        for stage in outline.stage
    ]


def _whole(
    session: Session, outline: Outline | None, name: str, stages: tuple[Stage, ...]
) -> Outline:
    unit = session.header.unit or (outline.unit if outline else "unit")
    fresh = Outline(
        name=slug(name),
        title=unit[:1].upper() + unit[1:],
        unit=unit,
        invented=session.header.invented,
        caution=("Follow the unit maker's manual; where it differs, the manual is right.",),
        stage=(),
    )
    base = replace(outline, name=slug(name)) if outline else fresh
    return replace(base, stage=stages, invented=base.invented or session.header.invented)


def _step(group: Group, writer: _Writer, minutes: float | None) -> Step:
    known = writer.known.get(group.id)
    step = known or Step(
        id=group.id,
        title=group.name[:1].upper() + group.name[1:],
        say=(group.name,) if is_spoken(group.name) else (),
        puts_back=(group.undoes,) if group.undoes else (),
    )
    hardware = writer.hardware_of(group)
    if minutes is not None and minutes >= 0.05:
        book = f"; the outline had {step.minutes:g}" if step.minutes else ""
        writer.minutes[group.id] = f"from one session{book}"
        step = replace(step, minutes=round(minutes, 1))
    writer.steps[group.id] += writer.measured(group)
    stacks = writer.stacks(group, hardware)
    return replace(step, hardware=writer.stacked(group, hardware), stack=stacks or step.stack)


class _Sized(NamedTuple):
    """A fastener's size as it was said."""

    thread: str | None
    length: str | None
    head: str | None


class _Writer:
    """What each step yields, and the comments on it."""

    def __init__(
        self, session: Session, outline: Outline | None, groups: tuple[Group, ...]
    ) -> None:
        self.known = outline.by_id if outline else {}
        self.minutes: dict[str, str] = {}
        self.steps: dict[str, list[str]] = defaultdict(list)
        self.hardware: dict[HardwareKey, list[str]] = defaultdict(list)
        self._findings: dict[str, list[Finding]] = defaultdict(list)
        told = in_full(session.findings, groups, self.known)
        for step, findings in told:
            said = self._findings[step or ""]
            for finding in findings:
                said.append(_of_last(finding, said))
        self._single = _said_singly(session)
        self._counts = tally(told, frame(outline, groups))

    def hardware_of(self, group: Group) -> tuple[Hardware, ...]:
        """Give the hardware of a step: the outline's as it was found, and what it does not list."""
        if group.kind not in ("strip", "assemble"):
            known = self.known.get(group.id)
            return known.hardware if known else ()
        items = {
            (item.part, item.place): item
            for item in (self.known[group.id].hardware if group.id in self.known else ())
        }
        found = []
        for count in self._counts:
            if count.step != group.id:
                continue
            item = items.get((count.part, count.place))
            if item is None and (group.kind == "assemble" or not self._came_off(count)):
                continue
            found.append(self._item(count, item))
        return tuple(found)

    def _came_off(self, count: Count) -> bool:
        """Whether it is a part of its own: counted, taken off, renewed, and not only looked at."""
        return count.said is not None or any(
            finding.measure is None
            and (
                finding.action
                or finding.disposition
                or finding.container
                or (comes_off(count.part) and (finding.condition or is_count(finding)))
            )
            for finding in self._of(count)
        )

    def _of(self, count: Count) -> list[Finding]:
        return [
            finding
            for finding in self._findings[count.step]
            if finding.part == count.part
            and (finding.place == count.place or count.expected is not None)
        ]

    def _item(self, count: Count, item: Hardware | None) -> Hardware:
        key = (count.step, count.part, count.place)
        notes = self.hardware[key]
        findings = self._of(count)
        if count.said is None:
            notes.append("no number was said" if count.mentioned else _unsaid(count))
        elif count.expected is not None and count.differs:
            notes.append(f"the outline had {count.expected}, {count.said} were found")
        number = count.said or count.expected or 1
        renewed = any(finding.disposition in _RENEWED for finding in findings)
        if renewed and not (item and item.always_replace):
            notes.append(f"{REPLACED}; {IF_ALWAYS}")
        if item is not None:
            notes += [] if item.lengths else _relative(findings)
            lengths = item.lengths if number == item.count else ()
            unknown = item.uncounted and count.said is None
            return replace(item, count=number, uncounted=unknown, lengths=lengths)
        lengths, size = _sizes(findings, number, notes)
        mark = next((finding.mark for finding in findings if finding.mark), None)
        return Hardware(
            part=count.part,
            count=number,
            uncounted=count.said is None and count.part not in self._single,
            place=count.place,
            thread=size.thread,
            length=None if lengths else size.length,
            head=size.head,
            lengths=lengths,
            mark=mark if mark and is_spoken(mark) else None,
            note=next((f.orientation for f in findings if f.orientation), None),
        )

    def stacks(self, group: Group, hardware: tuple[Hardware, ...]) -> tuple[Stack, ...]:
        """Give the stacks whose order was said; both ends have to be hardware of the step."""
        parts = {item.part for item in hardware}
        found = []
        for finding in self._findings[group.id]:
            if len(finding.stack) < 2 or group.kind != "strip":
                continue
            self.steps[group.id].append(f"order said: {', '.join(finding.stack)}")
            name = f"{finding.place or group.name} stack"
            if {finding.stack[0], finding.stack[-1]} <= parts and is_spoken(name):
                found.append(
                    Stack(
                        name=name,
                        first=finding.stack[0],
                        last=finding.stack[-1],
                        place=finding.place,
                    )
                )
        return tuple({stack.name: stack for stack in found}.values())

    def stacked(self, group: Group, hardware: tuple[Hardware, ...]) -> tuple[Hardware, ...]:
        """Give the hardware of a new step with that of a stack in its order, the last one last.

        What an outline lists from the first to the last of a stack is what lies in it.
        """
        order = list(hardware)
        for finding in self._findings[group.id] if group.id not in self.known else ():
            names = [*dict.fromkeys(part for part in finding.stack if part != finding.stack[-1])]
            own = {item.part: item for item in order if item.part in finding.stack}
            if len(own) < len({*finding.stack}) or not own:
                continue
            at = min(order.index(item) for item in own.values())
            order = [item for item in order if item not in own.values()]
            order[at:at] = [own[name] for name in (*names, finding.stack[-1])]
        return tuple(order)

    def measured(self, group: Group) -> list[str]:
        """Give comments on what was measured, with the limit to be filled in from the manual."""
        had = (
            {limit.quantity for limit in self.known[group.id].limit}
            if group.id in self.known
            else set()
        )
        notes = []
        for finding in self._findings[group.id]:
            if finding.measure is None or finding.measure.quantity in had:
                continue
            measure = finding.measure
            about = f"{finding.part} " if finding.part else ""
            part = f', part = "{finding.part}"' if finding.part else ""
            notes.append(f"measured: {about}{measure_text(measure)}; its limit is in the manual:")
            notes.append(
                f'limit = [{{ quantity = "{measure.quantity}", unit = "{measure.unit}", low = ?, '
                f'high = ?{part}, source = "?" }}]'
            )
        return notes


def _said_singly(session: Session) -> set[str]:
    """Give the parts that were only named in the singular: each is taken for one."""
    said = [
        (finding.part, is_many(finding.part, entry.remark.heard.lower().split()))
        for entry in session.entries
        if not entry.struck
        for finding in entry.findings
        if finding.part
    ]
    return {part for part, many in said if many is False} - {part for part, many in said if many}


def _unsaid(count: Count) -> str:
    said = "said to come off" if count.spoken_of else "mentioned"
    return f"not {said} in the session"


def _of_last(finding: Finding, before: Sequence[Finding]) -> Finding:
    """ "M eight by thirty", or "six short ones at the top", is the size of what was named last."""
    holes = finding.place if finding.place in SIDES and finding.size else None
    elsewhere = finding.place and not holes
    if finding.part or elsewhere or finding.measure or finding.stack or not before:
        return finding
    side = holes or finding.side
    return replace(finding, part=before[-1].part, place=before[-1].place, side=side)


def _relative(findings: Sequence[Finding]) -> list[str]:
    """Give comments on "six short ones at the top", whose length nobody said."""
    groups = [
        f'{{ count = {one.count}, length = "? ({one.size.relative})", where = "{one.side}" }}'
        for one in findings
        if one.size and one.size.relative and one.count and one.side and not one.action
    ]
    return [f"{LENGTHS}; measure them: lengths = [{', '.join(groups)}]"] if groups else []


def _sizes(
    findings: Sequence[Finding], number: int, notes: list[str]
) -> tuple[tuple[LengthGroup, ...], _Sized]:
    """Give the size said; several lengths make groups when each has a number and its holes."""
    sizes = [finding for finding in findings if finding.size is not None]
    notes += _relative(findings)
    lengths: dict[str, tuple[int | None, str | None]] = {}
    thread = head = None
    for finding in sizes:
        assert finding.size is not None
        thread = finding.size.thread or thread
        if finding.size.across_flats:
            head = amount_text(finding.size.across_flats)
        if finding.size.length:
            lengths[amount_text(finding.size.length)] = finding.count, finding.side
    groups = tuple(
        LengthGroup(count=count, length=length, where=where)
        for length, (count, where) in lengths.items()
        if count is not None and where is not None
    )
    if len(lengths) > 1 and not (
        len(groups) == len(lengths) and sum(group.count for group in groups) == number
    ):
        said = "; ".join(
            f"{parts_text(length, count) if count is None else f'{count} of {length}'}"
            for length, (count, _) in lengths.items()
        )
        notes.append(f"several lengths were said, write which holes take which: {said}")
        return (), _Sized(thread, None, head)
    return (
        groups if len(lengths) > 1 else (),
        _Sized(thread, next(iter(lengths), None), head),
    )
