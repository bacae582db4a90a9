"""One outline out of several sessions: usual order, usual counts, middle minutes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from statistics import median

from msgspec.structs import replace

from benchvoice.grammar import Hardware, Outline, Stage, Step
from benchvoice.outlining.compare import majority_order, numbers_of, usual_count
from benchvoice.outlining.draft import IF_ALWAYS, LENGTHS, REPLACED, draft
from benchvoice.outlining.facts import Facts, facts_of
from benchvoice.outlining.values import Drafted, HardwareKey
from benchvoice.session import Session


def merge(sessions: Sequence[Session], outline: Outline | None, name: str) -> Drafted:
    """Merge one session or more, all of `outline` or all without, into an outline called `name`.

    Steps are in the order of `compare.majority_order`, within their stage.  A
    count is the one said most often, minutes are the median.  A part that the
    outline does not list is in when at least half of the sessions that did its
    step had it, else it is a comment.  Raises BadInput for a session with nothing said.
    """
    drafts = [draft(session, outline, name) for session in sessions]
    facts = [facts_of(session, outline) for session in sessions]
    merged = _Merged(drafts, facts)
    base = drafts[0].outline
    stages = merged.stages()
    return Drafted(
        outline=replace(base, stage=stages, invented=any(d.outline.invented for d in drafts)),
        top=_top(facts, outline),
        minutes=merged.minutes,
        steps=merged.steps,
        hardware=merged.hardware,
    )


def _top(facts: Sequence[Facts], outline: Outline | None) -> tuple[str, ...]:
    return (
        f"Procedure outline merged from {len(facts)} sessions: "
        f"{', '.join(one.session for one in facts)}.",
        *((f"They followed the outline {outline.title}.",) if outline else ()),
        "Counts are those said most often, minutes the middle ones: check them against the unit.",
        "There is no limit here that was not in the sessions' outline: those are in the unit "
        "maker's manual.",
        "",
    )


class _Merged:
    """The steps of several drafts, one of each, and the comments on them."""

    def __init__(self, drafts: Sequence[Drafted], facts: Sequence[Facts]) -> None:
        self._drafts = drafts
        self._facts = facts
        self._numbers = numbers_of(facts)
        self._expected = {key: number for one in facts for key, number in one.expected.items()}
        self.minutes: dict[str, str] = {}
        self.steps: dict[str, tuple[str, ...]] = {}
        self.hardware: dict[HardwareKey, tuple[str, ...]] = {}

    def stages(self) -> tuple[Stage, ...]:
        """Give each stage once, with its steps in the usual order."""
        stages: dict[str, Stage] = {}
        steps: dict[str, dict[str, Step]] = {}
        for one in self._drafts:
            for stage in one.outline.stage:
                stages.setdefault(stage.id, stage)
                mine = steps.setdefault(stage.id, {})
                for step in stage.step:
                    mine.setdefault(step.id, step)
        known = {step.id: step for mine in steps.values() for step in mine.values()}
        after = {step.id: step.after for step in known.values()}
        done = [one.order for one in self._facts]
        order = majority_order([*done, tuple(known)], after)
        return tuple(
            replace(
                stage, step=tuple(self._step(known[at]) for at in order if at in steps[stage.id])
            )
            for stage in stages.values()
        )

    def _step(self, step: Step) -> Step:
        done = [one for one in self._facts if step.id in one.order]
        timed = [one.minutes[step.id] for one in done if one.minutes.get(step.id)]
        notes = [] if done else ["nothing of this step is in any of the sessions"]
        for one in self._drafts:
            said = [
                text
                for text in one.steps.get(step.id, ())
                if done and not text.startswith("nothing of")
            ]
            notes += [text for text in said if text not in notes]
        items = tuple(self._items(step, len(done), notes))
        if timed:
            low, high = min(timed), max(timed)
            spread = f"middle of {len(timed)} sessions, {low:.1f} to {high:.1f}"
            self.minutes[step.id] = spread if len(timed) > 1 else "from one session"
            step = replace(step, minutes=max(0.1, round(median(timed), 1)))
        if notes:
            self.steps[step.id] = tuple(notes)
        return replace(step, hardware=items)

    def _items(self, step: Step, done: int, notes: list[str]) -> list[Hardware]:
        items: dict[HardwareKey, Hardware] = {}
        seen: Counter[HardwareKey] = Counter()
        for one in self._drafts:
            found = one.outline.by_id.get(step.id)
            for item in found.hardware if found else ():
                key = (step.id, item.part, item.place)
                items.setdefault(key, item)
                seen[key] += 1
        kept = []
        for key, item in items.items():
            numbers = self._numbers.get(key, Counter())
            if key not in self._expected and 2 * seen[key] < done:
                said = ", ".join(map(str, numbers)) or "no number"
                notes.append(f"in {seen[key]} of {done} sessions: {_named(key)} ({said})")
                continue
            kept.append(self._item(key, item, numbers))
            told = (*self.hardware.get(key, ()), *self._told(key, done))
            self.hardware |= {key: told} if told else {}
        return kept

    def _told(self, key: HardwareKey, done: int) -> Iterator[str]:
        """Yield what else the drafts tell of a part: how often it was replaced, its lengths."""
        told = [text for one in self._drafts for text in one.hardware.get(key, ())]
        replaced = sum(text.startswith(REPLACED) for text in told)
        if replaced:
            yield f"replaced in {replaced} of {done} sessions; {IF_ALWAYS}"
        yield from dict.fromkeys(text for text in told if text.startswith(LENGTHS))

    def _item(self, key: HardwareKey, item: Hardware, numbers: Mapping[int, int]) -> Hardware:
        expected = self._expected.get(key)
        if not numbers:
            return item if expected is None else replace(item, count=expected, uncounted=False)
        usual = usual_count(numbers, expected)
        if len(numbers) > 1 or expected not in (None, usual):
            said = ", ".join(f"{number} in {times}" for number, times in numbers.items())
            had = "" if expected is None else f"; the outline had {expected}"
            self.hardware[key] = (f"numbers said: {said}{had}",)
        lengths = item.lengths if usual == sum(group.count for group in item.lengths) else ()
        return replace(item, count=usual, uncounted=False, lengths=lengths)


def _named(key: HardwareKey) -> str:
    _, part, place = key
    return f"{part}, {place}" if place else part
