"""What is asked of a session again and again, worked out once: an immutable view of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from benchvoice.errors import BadInput
from benchvoice.follow import Count, tally
from benchvoice.follow.counts import count_warnings, missing_warnings
from benchvoice.grammar import Outline
from benchvoice.remark import Finding, doubt
from benchvoice.session import Entry, Session
from benchvoice.session.correcting import restore
from benchvoice.sheets.said import is_gone_in, not_back_texts, open_count_texts, standing_warnings


def wants_a_look(entry: Entry) -> bool:
    """Whether an entry that stands is doubtful, has two readings, or was not understood."""
    if entry.struck:
        return False
    remark = entry.remark
    return entry.kind == "unclear" or bool(remark.ambiguous) or doubt(remark) is not None


@dataclass(frozen=True)
class Facts:
    """A session and its outline, if that was found."""

    session: Session
    outline: Outline | None

    @cached_property
    def by_seq(self) -> Mapping[int, Entry]:
        """Map seq to entry, of those that stand or were struck."""
        return {entry.seq: entry for entry in self.session.entries}

    @cached_property
    def doubtful(self) -> int:
        """How many entries want a look."""
        return sum(map(wants_a_look, self.session.entries))

    @cached_property
    def gone(self) -> Mapping[int, Entry]:
        """The entries deleted by hand, as they last stood, by seq."""
        named = {seq for one in self.session.amendments for seq in one.amends}
        lost = named - self.by_seq.keys()
        if lost:
            lost -= {seq for entry in self.session.entries for seq in entry.origins}
        found: dict[int, Entry] = {}
        for seq in sorted(lost):
            try:
                found[seq] = restore(self.session, seq).becomes[0]
            except BadInput:  # it was put in, and that was undone
                continue
        return found

    def is_gone(self, entry: Entry) -> bool:
        """Whether an entry was deleted by hand, or struck at the bench."""
        return entry.struck or entry.seq in self.gone

    def title(self, step: str | None) -> str:
        """Name a step as the outline does, or by its id; empty for none."""
        known = self.outline.by_id.get(step or "") if self.outline else None
        return known.title if known else step or ""

    def searched(self, entry: Entry) -> str:
        """Give the text in which words are searched for: what was said, meant, and where."""
        text = self._texts.get(entry.seq)
        if text is None:
            found = (
                f"{one.part} {one.place} {one.condition} {one.disposition} {one.container}"
                for one in entry.findings
            )
            text = f"{entry.remark.heard} {self.title(entry.step)} {' '.join(found)}".lower()
            self._texts[entry.seq] = text
        return text

    def originals(self, entry: Entry) -> tuple[Entry, ...]:
        """Give what was recorded at the bench of what an entry is now."""
        wanted = entry.origins or (entry.seq,)
        return tuple(self._recorded[seq] for seq in wanted if seq in self._recorded)

    def alternatives(self, entry: Entry) -> tuple[str, ...]:
        """Give what the engine heard besides what stands, the text first recorded among it."""
        heard = (
            text for one in self.originals(entry) for text in (one.remark.heard, *one.alternatives)
        )
        return tuple(text for text in dict.fromkeys(heard) if text != entry.remark.heard)

    def counts(self, step: str | None) -> tuple[Count, ...]:
        """Add up what stands of a step against what the outline expects of it."""
        if self.outline is None or step is None:
            return ()
        if step not in self._counted:
            said = [(step, findings) for findings in self._by_step.get(step, ())]
            self._counted[step] = tuple(
                count for count in tally(said, self.outline) if count.step == step
            )
        return self._counted[step]

    def warnings(self, entry: Entry) -> list[str]:
        """Give what an entry warned of, but for counts that add up by now."""
        if not entry.warnings or self.outline is None:
            return standing_warnings(entry, self._open_unlisted)
        counts = [count for step in self._warned(entry) for count in self.counts(step)]
        texts = (*count_warnings(counts, self.outline), *missing_warnings(counts, self.outline))
        not_back = self._not_back if any(map(is_gone_in, entry.warnings)) else ()
        return standing_warnings(entry, {*texts, *not_back})

    def _warned(self, entry: Entry) -> set[str | None]:
        """The steps that an entry may warn of: its own, what it finishes, what it leaves."""
        at = self._index.get(entry.seq, 0)
        before = self.session.entries[at - 1].step if at else None
        return {entry.step, entry.finishes, before}

    @cached_property
    def _open_unlisted(self) -> frozenset[str] | None:
        return open_count_texts(self.session, None)

    @cached_property
    def _not_back(self) -> tuple[str, ...]:
        return not_back_texts(self.session, self.outline)

    @cached_property
    def _index(self) -> Mapping[int, int]:
        return {entry.seq: index for index, entry in enumerate(self.session.entries)}

    @cached_property
    def _recorded(self) -> Mapping[int, Entry]:
        return {entry.seq: entry for entry in self.session.recorded}

    @cached_property
    def _by_step(self) -> Mapping[str, list[tuple[Finding, ...]]]:
        found: dict[str, list[tuple[Finding, ...]]] = {}
        for entry in self.session.entries:
            if entry.step is not None and entry.kind == "finding" and not entry.struck:
                found.setdefault(entry.step, []).append(entry.findings)
        return found

    @cached_property
    def _counted(self) -> dict[str, tuple[Count, ...]]:
        return {}

    @cached_property
    def _texts(self) -> dict[int, str]:
        return {}
