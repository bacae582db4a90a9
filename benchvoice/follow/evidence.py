"""What a finding has in common with each step of an outline, as numbers.

Likenesses of parts, places and names are rapidfuzz's (`likeness.py`); they are looked up once for
each word said, so that a finding costs a few array operations.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
from msgspec.structs import replace

from benchvoice.follow.hmm import Floats
from benchvoice.follow.kin import put_back
from benchvoice.follow.likeness import part_likeness, place_likeness, sound_likeness, stems
from benchvoice.follow.named import Names, rows_of
from benchvoice.follow.naming import step_names
from benchvoice.follow.part_kinds import COMMON, SMALL, PartKinds
from benchvoice.follow.sizes import hardware_warnings
from benchvoice.grammar.outline import Hardware, Limit, Outline, StageKind, Step
from benchvoice.grammar.vocabulary import PartKind
from benchvoice.remark import Finding

FEATURES = (
    "hardware_worked", "hardware_state", "hardware_bare", "hardware_other_work",
    "count_same", "count_differs", "count_beyond",
    "one_of_one", "one_of_many", "many_of_one", "many_of_many", "size_same", "size_differs",
    "limit_of_part", "limit", "measure_no_limit",
    "listed_said", "listed_words", "listed_place",
    "name_within", "name_said", "name_words", "name_place",
    "name_kind", "name_akin", "name_other_work", "name_general",
    "sound_said", "sound_words",
    "put_back_worked", "put_back_state", "put_back_name", "put_back_place",
    "part_to_check",
    "place_elsewhere",
    "work_of_stage", "work_possible", "work_of_other_stage",
    "state_strip", "state_inspect", "state_test", "state_other",
    "fate_strip", "fate_inspect", "fate_decide", "fate_other", "fate_named",
    "bare_strip", "bare_inspect", "bare_test",
)  # fmt: skip
"""What is looked at; the columns of `Evidence.features`."""
_AT = {name: at for at, name in enumerate(FEATURES)}

WORK: dict[str, tuple[StageKind, ...]] = {
    "removed": ("strip",),
    "pressed out": ("strip",),
    "drained": ("strip",),
    "loosened": ("strip",),
    "cleaned": ("clean",),
    "lapped": ("clean", "assemble"),
    "installed": ("assemble",),
    "pressed in": ("assemble",),
    "tightened": ("assemble",),
    "adjusted": ("assemble",),
    "filled": ("test", "assemble"),
    "tested": ("test",),
    "measured": ("inspect", "assemble", "test"),
    "inspected": ("inspect",),
    "checked": ("inspect",),
}
"""The stages an action belongs to, its own first; other actions belong anywhere (common practice,
no source)."""

_NOT_SAID = 0.8
"""Likeness of places of which one or both are not said."""

_OUTSIDE = stems("outside machining shop")
_ORDERS = stems("parts list order")
"""Words of the names of the steps where it is settled what is worked on elsewhere, and what is
bought or kept."""
_SENT_OUT = frozenset({"machine", "send out"})


class Words(NamedTuple):
    """What is said of a finding: the stems of the remark, and whether the part is named in the
    plural; None when that cannot be told."""

    stems: tuple[str, ...]
    many: bool | None = None


Yes = npt.NDArray[np.bool_]


class Evidence:
    """One outline made ready to be compared with what is said."""

    def __init__(self, outline: Outline, trade: Mapping[str, PartKind]) -> None:
        self.steps: tuple[Step, ...] = tuple(outline.steps())
        self.at = {step.id: index for index, step in enumerate(self.steps)}
        kinds = [stage.kind for stage in outline.stage for _ in stage.step]
        self._kinds = np.array(kinds)
        self._hardware = [item for step in self.steps for item in step.hardware]
        self._of_step = rows_of([len(step.hardware) for step in self.steps])
        self._limits = [item for step in self.steps for item in step.limit]
        self._limit_of_step = rows_of([len(step.limit) for step in self.steps])
        self._counts = np.array([item.expected for item in self._hardware], float)
        self._placed = np.array([item.place is not None for item in self._hardware], float)
        self._lists = np.array([bool(step.hardware) for step in self.steps])
        self._names = Names([step_names(step) for step in self.steps], kinds)
        self._sounds = Names([_all_words(step) for step in self.steps], kinds, sound_likeness)
        self._part_kinds = PartKinds(outline, trade)
        self._of_kind = lru_cache(maxsize=32)(self._named_of_kind)
        self._goes_back = put_back(outline)
        self._akin = self._names.akin() * ~self._lists[:, None]
        self._checks = [item.part for step in self.steps for item in step.check]
        self._check_of_step = rows_of([len(step.check) for step in self.steps])
        self._part = lru_cache(maxsize=2048)(self._part_likeness)
        self._place = lru_cache(maxsize=1024)(self._place_likeness)

    def features(self, finding: Finding, said: Words) -> Floats:
        """Give the features (S, F) of a finding; `said` are the words of the whole remark."""
        found = np.zeros((len(self.steps), len(FEATURES)))
        self._put_hardware(found, finding, said)
        self._put_limits(found, finding)
        self._put_checks(found, finding)
        self._put_names(found, finding, said.stems)
        self._put_work(found, finding)
        return found

    def is_common(self, finding: Finding) -> bool:
        """Whether a finding has but a word for what is everywhere ("and two washers bent"), or for
        no part at all ("outer rotor out, punch mark").

        Said in one breath with other things it is of these (common practice, no source); a size
        or a measure tells which it is.
        """
        part = finding.part or ""
        if finding.place or finding.size or finding.measure or finding.stack:
            return False
        return not part or (" " not in part and self._part_kinds.of(part) in COMMON)

    def names(self, findings: Sequence[Finding], heard: str) -> bool:
        """Whether a remark names a part, a place, a quantity, or what a step is about.

        "In tray four" and "two of them bent" do not.
        """
        if any(map(_names_something, findings)):
            return True
        return bool(self._names.said(stems(heard)).whole.any())

    def likeness(self, finding: Finding) -> Floats:
        """Give the likeness (H) of a finding to every hardware of the outline: part and place."""
        part = self._part(finding.part)
        for other in finding.stack:
            part = np.maximum(part, self._part(other))
        likeness: Floats = part * self._place(finding.place)
        return likeness

    def _put_hardware(self, found: Floats, finding: Finding, said: Words) -> None:
        alike = self.likeness(finding)
        like = self._of_step.best(alike)
        fits = self._stages(WORK.get(finding.action or ""))
        found[:, _AT[_hardware_feature(finding)]] = like * fits
        found[:, _AT["hardware_other_work"]] = like * ~fits
        near = alike > 0.0
        if finding.count is not None:
            same, beyond = self._counts == finding.count, self._counts < finding.count
            taken = finding.action is not None or not (finding.condition or finding.disposition)
            # "six of the bolts are stripped" tells only that there are six at least
            some = self._of_step.best(near & same)
            found[:, _AT["count_beyond"]] = (like > 0) * (self._of_step.best(near & ~beyond) == 0)
            if taken:
                found[:, _AT["count_same"]] = some * fits
                found[:, _AT["count_differs"]] = (like > 0) * (some == 0) * fits
        elif said.many is not None:
            single = self._counts == 1
            number = "many" if said.many else "one"
            found[:, _AT[f"{number}_of_one"]] = self._of_step.best(near & single)
            found[:, _AT[f"{number}_of_many"]] = self._of_step.best(near & ~single)
        if finding.size is not None and near.any():
            same_size, other_size = self._sizes(finding, near)
            found[:, _AT["size_same"]] = self._of_step.best(same_size)
            found[:, _AT["size_differs"]] = self._of_step.best(other_size) * (
                self._of_step.best(same_size) == 0
            )
        back = (self._goes_back * like).max(axis=1)
        if finding.action in WORK:
            found[:, _AT["put_back_worked"]] = back * fits
            # a cover is back on where what was on it is
            on = self._of_step.best((self._place(finding.part) > _NOT_SAID) * self._placed)
            found[:, _AT["put_back_place"]] = (self._goes_back * on).max(axis=1) * fits
        else:
            found[:, _AT["put_back_state"]] = back * self._stages(("test",))
        self._put_homes(found, like, finding.part)

    def _put_homes(self, found: Floats, like: Floats, part: str | None) -> None:
        """Put in what the steps (S) where the part may have come off tell of the others."""
        homes = like * self._lists
        homes /= max(1.0, homes.sum())
        named = self._names.whole(stems(part or "")[-1:])
        akin = np.maximum(self._akin @ homes, (self._akin * named * ~self._lists).max(axis=1))
        akin[named > 0] = 0.0
        for kind in np.unique(self._kinds[self._names.whole(stems(part or "")) > 0]):
            akin[self._kinds == kind] = 0.0  # what is named outright is not only akin
        found[:, _AT["name_akin"]] = akin

    def _put_checks(self, found: Floats, finding: Finding) -> None:
        alike = [part_likeness(finding.part or finding.place, part) for part in self._checks]
        found[:, _AT["part_to_check"]] = self._check_of_step.best(np.array(alike, float))

    def _sizes(self, finding: Finding, near: Yes) -> tuple[Floats, Floats]:
        """Tell of the hardware (H) that a finding may be of, whose sizes are said and whose not."""
        same, other = np.zeros(near.size), np.zeros(near.size)
        for at in np.flatnonzero(near):
            agree = _sizes_agree(finding, self._hardware[at])
            same[at], other[at] = agree is True, agree is False
        return same, other

    def _put_limits(self, found: Floats, finding: Finding) -> None:
        if finding.measure is None:
            return
        likes = np.array([_limit_likeness(finding, limit) for limit in self._limits])
        exact = np.array([limit.part == finding.part for limit in self._limits], float)
        of_part, of_any = likes * exact, likes * (1.0 - exact)
        found[:, _AT["limit_of_part"]] = self._limit_of_step.best(of_part)
        found[:, _AT["limit"]] = self._limit_of_step.best(of_any)
        found[:, _AT["measure_no_limit"]] = self._limit_of_step.best(likes) == 0

    def _put_names(self, found: Floats, finding: Finding, said: Sequence[str]) -> None:
        fits = self._stages(WORK.get(finding.action or ""))
        own = stems(" ".join(filter(None, (finding.part, finding.place, finding.side))))
        named, every = self._names.said(own), self._names.said({*own, *said})
        headed = self._names.whole(stems(finding.part or "")[-1:])
        within, inside = self._names.whole(own), self._names.whole(stems(finding.place or ""))
        kind = self._part_kinds.of(finding.part or finding.place)
        unlisted = fits & ~self._lists
        if kind in SMALL:
            unlisted &= ~self._stages(("inspect",)) | (headed > 0)
        sorts = self._stages(("clean", "inspect"))
        for name, of in (("listed", fits & self._lists), ("name", unlisted)):
            found[:, _AT[f"{name}_said"]] = every.share * of
            found[:, _AT[f"{name}_words"]] = every.words * of
            found[:, _AT[f"{name}_place"]] = inside * of
        found[:, _AT["name_within"]] = within * named.share * unlisted
        found[:, _AT["name_kind"]] = np.maximum(self._of_kind(kind), headed) * unlisted * sorts
        found[:, _AT["name_other_work"]] = every.share * ~fits
        found[:, _AT["name_akin"]] *= unlisted
        sounds = self._sounds.said({*own, *said})
        found[:, _AT["sound_said"]] = sounds.share * fits
        found[:, _AT["sound_words"]] = sounds.words * fits
        found[:, _AT["put_back_name"]] = (self._goes_back * within * named.share).max(axis=1) * fits
        if finding.place is not None:
            found_there = self._of_step.best((self._place(finding.place) > 0) * self._placed)
            found[:, _AT["place_elsewhere"]] = (
                (self._of_step.best(self._placed) > 0) & (found_there == 0) & (inside == 0)
            )

    def _put_work(self, found: Floats, finding: Finding) -> None:
        stages = WORK.get(finding.action or "")
        if stages is not None:
            first, may = self._stages(stages[:1]), self._stages(stages)
            found[:, _AT["work_of_stage"]] = first
            found[:, _AT["work_possible"]] = may & ~first
            found[:, _AT["work_of_other_stage"]] = ~may
            rest = not self._is_named(found, first)  # what no other of the stage is about
            found[:, _AT["name_general"]] = self._names.general * first * rest
        elif finding.action is None and finding.condition is not None:
            self._put_stages(found, "state", ("strip", "inspect", "test"))
        elif finding.action is None and finding.disposition is not None:
            self._put_stages(found, "fate", ("strip", "inspect", "decide"))
        elif finding.action is None and finding.measure is None:
            self._put_stages(found, "bare", ("strip", "inspect", "test"))
        if finding.disposition is not None:
            words = _OUTSIDE if finding.disposition in _SENT_OUT else _ORDERS
            named = self._names.said(words).share > 0.0
            found[:, _AT["fate_named"]] = named & self._stages(("decide",))

    def _is_named(self, found: Floats, steps: Yes) -> bool:
        """Whether any of the steps is about what was said, or about its kind."""
        about = found[:, [_AT["name_within"], _AT["name_kind"]]].max(axis=1)
        return bool((about[steps] > 0.0).any())

    def _put_stages(self, found: Floats, name: str, kinds: Sequence[StageKind]) -> None:
        for kind in kinds:
            found[:, _AT[f"{name}_{kind}"]] = self._kinds == kind
        if f"{name}_other" in _AT:
            found[:, _AT[f"{name}_other"]] = ~self._stages(kinds)

    def _stages(self, kinds: Sequence[StageKind] | None) -> Yes:
        """Tell which steps (S) are in stages of these kinds; None stands for all."""
        if kinds is None:
            return np.ones(len(self._kinds), bool)
        return np.array(np.isin(self._kinds, kinds), bool)

    def _named_of_kind(self, kind: PartKind) -> Floats:
        """Tell by step (S) whether a part of a kind is in its name: a housing in "the case"."""
        if kind == "other":
            return np.zeros(len(self.steps))
        words = [word for word in self._names.words if self._part_kinds.of_word(word) == kind]
        return np.array(self._names.said(words).share > 0.0, float)

    def _part_likeness(self, part: str | None) -> Floats:
        return self._each(lambda item: part_likeness(part, item.part))

    def _place_likeness(self, place: str | None) -> Floats:
        return self._each(lambda item: place_likeness(place, item.place))

    def _each(self, of: Callable[[Hardware], float]) -> Floats:
        return np.array([of(item) for item in self._hardware], float)


def _all_words(step: Step) -> tuple[str, ...]:
    """Give what a step is called, and what it lists."""
    return (*step_names(step), *(f"{item.part} {item.place or ''}" for item in step.hardware))


def _names_something(finding: Finding) -> bool:
    return bool(finding.part or finding.place or finding.measure or finding.action in WORK)


def _hardware_feature(finding: Finding) -> str:
    if finding.action in WORK:
        return "hardware_worked"
    state = finding.action is None and (finding.condition or finding.disposition)
    return "hardware_state" if state else "hardware_bare"


def _sizes_agree(finding: Finding, item: Hardware) -> bool | None:
    """Whether the size said is the outline's; None when there is nothing to compare."""
    size = finding.size
    said = (size.thread, size.length, size.across_flats) if size else (None, None, None)
    listed = (item.thread, item.length, item.head)
    if not any(one and other for one, other in zip(said, listed, strict=True)):
        return None
    return not hardware_warnings(replace(finding, part=item.part), item)


def _limit_likeness(finding: Finding, limit: Limit) -> float:
    if finding.measure is None or finding.measure.quantity != limit.quantity:
        return 0.0
    if limit.part is None or finding.part is None:
        return 1.0
    return part_likeness(finding.part, limit.part)
