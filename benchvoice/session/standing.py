"""Entries as they stand: strikes, recounts, answers and corrections applied in their order."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.follow.events import recounted
from benchvoice.session.values import Amendment, Entry


def standing(recorded: Iterable[Entry], amendments: Sequence[Amendment]) -> tuple[Entry, ...]:
    """Apply to `recorded` all that was changed later and is in force.

    What names an entry that is not there changes nothing.
    """
    applied = in_force(amendments)
    records: list[Entry | Amendment] = [
        *recorded,
        *(one for one in amendments if one.seq in applied),
    ]
    state = Standing()
    for record in sorted(records, key=lambda record: record.seq):
        state.take(record)
    return state.entries


def in_force(amendments: Sequence[Amendment]) -> frozenset[int]:
    """Give the `seq` of the amendments that no amendment in force takes back."""
    undone: set[int] = set()
    applied: set[int] = set()
    for one in reversed(amendments):
        if one.seq in undone:
            continue
        applied.add(one.seq)
        if one.undoes is not None:
            undone.add(one.undoes)
    return frozenset(applied)


class Standing:
    """The fold itself; `take` what comes in the order of `seq`."""

    def __init__(self) -> None:
        self._order: list[int] = []
        self._by_seq: dict[int, Entry] = {}

    @property
    def entries(self) -> tuple[Entry, ...]:
        """What stands now."""
        return tuple(self._by_seq[seq] for seq in self._order)

    def get(self, seq: int) -> Entry | None:
        """Give the entry `seq`, when it stands."""
        return self._by_seq.get(seq)

    def take(self, record: Entry | Amendment) -> None:
        """Apply the next record."""
        if isinstance(record, Amendment):
            self._amend(record)
            return
        self._order.append(record.seq)
        self._by_seq[record.seq] = record
        named = self._by_seq.get(record.amends or 0)
        if named is not None:
            self._by_seq[named.seq] = changed_by(record, named)

    def _amend(self, amendment: Amendment) -> None:
        """Put what is new where the old was; what has another time, where its time says."""
        old = {seq: self._by_seq[seq] for seq in amendment.amends if seq in self._by_seq}
        new = {entry.seq: entry for entry in amendment.becomes}
        placed = [
            entry
            for seq, entry in new.items()
            if seq not in self._by_seq or _when(entry) != _when(self._by_seq[seq])
        ]
        gone = {*old, *(entry.seq for entry in placed)} - (new.keys() - {e.seq for e in placed})
        if placed:
            self._place(placed, tuple(old.values()), gone)
        elif gone:
            self._order = [seq for seq in self._order if seq not in gone]
        for seq in gone:
            self._by_seq.pop(seq, None)
        self._by_seq |= new

    def _place(self, placed: Sequence[Entry], old: Sequence[Entry], gone: set[int]) -> None:
        """Put entries into the order; those `gone` keep their places until all have theirs."""
        order = [_Place(self._by_seq[seq], seq not in gone) for seq in self._order]
        loose = list(placed)
        for host in old:
            beside = [entry for entry in loose if _when(entry) == _when(host)]
            at = next(index for index, place in enumerate(order) if place.entry.seq == host.seq)
            order[at + 1 : at + 1] = [_Place(entry, True) for entry in beside]
            loose = [entry for entry in loose if entry not in beside]
        for entry in loose:
            order.insert(_by_time(order, entry), _Place(entry, True))
        self._order = [place.entry.seq for place in order if place.stays]


class _Place(NamedTuple):
    entry: Entry
    stays: bool


def changed_by(event: Entry, named: Entry) -> Entry:
    """Give the entry `named` as an event that amends it leaves it."""
    if event.kind == "struck" or (event.kind == "answered" and event.remark.command == "no"):
        return replace(named, struck=True)
    if event.kind == "answered" and event.remark.command == "yes":
        sure = replace(named.remark, confidence=None)
        return replace(named, confirmed=True, remark=sure)
    if event.kind == "recounted" and event.remark.number is not None:
        said = event.remark.findings
        part = said[0].part if said else None
        findings = recounted(named.findings, event.remark.number, part)
        return replace(named, findings=findings, recounted=True)
    return named


def _when(entry: Entry) -> tuple[int, float]:
    return entry.sitting, entry.t


def _by_time(order: Sequence[_Place], entry: Entry) -> int:
    """Give the index behind the last that is not later than `entry`."""
    key = (*_when(entry), entry.seq)
    for index in range(len(order) - 1, -1, -1):
        one, stays = order[index]
        if stays and (*_when(one), one.seq) <= key:
            return index + 1
    return 0
