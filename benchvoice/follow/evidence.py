"""What a finding has in common with each step of an outline, as numbers.

Likenesses of parts, places and names are rapidfuzz's (`likeness.py`); they are looked up once for
each word said, so that a finding costs a few array operations.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
from msgspec.structs import replace

from benchvoice.follow.hmm import Floats, Ints
from benchvoice.follow.likeness import part_likeness, place_likeness, same_word, stems
from benchvoice.follow.naming import step_names
from benchvoice.follow.sizes import hardware_warnings
from benchvoice.grammar.outline import Hardware, Limit, Outline, StageKind, Step
from benchvoice.remark import Finding

FEATURES = (
    "hardware_worked", "hardware_state", "hardware_bare", "hardware_named_whole",
    "hardware_other_work", "count_same", "count_differs",
    "count_beyond", "size_same", "size_differs", "limit_of_part", "limit", "measure_no_limit",
    "name_own", "name_own_whole", "name_said", "name_said_whole", "name_akin", "name_other_work",
    "name_implied", "part_put_back", "part_to_check",
    "place_in_name", "place_elsewhere", "part_from_before",
    "work_of_stage", "work_possible", "work_of_other_stage",
    "state_inspect", "state_strip", "state_other", "fate_decide", "fate_strip_or_inspect",
    "fate_other", "fate_named",
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

_IMPLIED = {
    "cleaned": ("wash", "clean", "part"),
    "measured": ("check", "inspect"),
    "inspected": ("check", "inspect"),
    "checked": ("check", "inspect"),
    "tested": ("test", "run"),
}
"""Words of step names that are not said again when such work is reported."""

_FATES = {
    "machine": ("outside", "machin", "shop"),
    "send out": ("outside", "machin", "shop"),
    "order": ("part", "list", "order"),
}
"""Words of the names of the steps where it is settled what shall happen."""

_MIRROR = 0.2
"""How far from the mirrored place of its removal a part may go back, as a share of the row; set by
hand."""

_MOST_HOMES = 2
"""In so many steps a part may be for their names to say where else it belongs."""


Yes = npt.NDArray[np.bool_]


class _Rows(NamedTuple):
    """Which of several things each of the S steps has: indices (S, most), padded with the last."""

    places: Ints

    def best(self, values: Floats | Yes) -> Floats:
        """Give the greatest of the values of each step, 0 where it has none."""
        best: Floats = np.append(values, 0.0)[self.places].max(axis=1)
        return best


class Evidence:
    """One outline made ready to be compared with what is said."""

    def __init__(self, outline: Outline) -> None:
        self.steps: tuple[Step, ...] = tuple(outline.steps())
        self.at = {step.id: index for index, step in enumerate(self.steps)}
        self._kinds = np.array([stage.kind for stage in outline.stage for _ in stage.step])
        self._hardware = [item for step in self.steps for item in step.hardware]
        self._of_step = _rows([len(step.hardware) for step in self.steps])
        self._limits = [item for step in self.steps for item in step.limit]
        self._limit_of_step = _rows([len(step.limit) for step in self.steps])
        self._counts = np.array([item.count for item in self._hardware], float)
        self._names = _Names([step_names(step) for step in self.steps])
        self._before = np.array(
            [[item in before for item in self._homes()] for before in self._strips_before(outline)]
        ).reshape(len(self.steps), len(self._hardware))
        self._goes_back = self._put_back(outline)
        self._checks = [item.part for step in self.steps for item in step.check]
        self._check_of_step = _rows([len(step.check) for step in self.steps])
        self._part = lru_cache(maxsize=2048)(self._part_likeness)
        self._place = lru_cache(maxsize=1024)(self._place_likeness)

    def _put_back(self, outline: Outline) -> Floats:
        """Give how likely (S, H) each hardware goes back in each step.

        Where the outline does not say it, by common practice (no source): units go together in
        the reverse of the order that they came apart, so by the place in the row of stripping,
        turned round, among the steps of assembling and testing.
        """
        listed = [[home in step.puts_back for home in self._homes()] for step in self.steps]
        if any(step.puts_back for step in self.steps):
            return np.array(listed, float)
        back, strips = self._stages(("assemble", "test")), self._stages(("strip",))
        homes = np.array([self.at[home] for home in self._homes()], int)
        at = np.arange(len(back))
        come_off = (at - strips.argmax()) / max(1, strips.sum() - 1)
        go_on = (at - back.argmax()) / max(1, back.sum() - 1)
        apart = (1.0 - go_on)[:, None] - come_off[homes][None, :]
        near: Floats = np.exp(-0.5 * (apart / _MIRROR) ** 2) * back[:, None] * strips[homes]
        return near

    def _homes(self) -> list[str]:
        return [step.id for step in self.steps for _ in step.hardware]

    def _strips_before(self, outline: Outline) -> list[Collection[str]]:
        """Give the stripping steps that each step of another kind comes straight after."""
        strips = {s.id for stage in outline.stage if stage.kind == "strip" for s in stage.step}
        return [() if step.id in strips else strips & {*step.after} for step in self.steps]

    def features(self, finding: Finding, said: Sequence[str]) -> Floats:
        """Give the features (S, F) of a finding; `said` are the stems of the whole remark."""
        found = np.zeros((len(self.steps), len(FEATURES)))
        self._put_hardware(found, finding)
        self._put_limits(found, finding)
        self._put_checks(found, finding)
        self._put_names(found, finding, said)
        self._put_work(found, finding)
        return found

    def likeness(self, finding: Finding) -> Floats:
        """Give the likeness (H) of a finding to every hardware of the outline: part and place."""
        part = self._part(finding.part)
        for other in finding.stack:
            part = np.maximum(part, self._part(other))
        likeness: Floats = part * self._place(finding.place)
        return likeness

    def _put_hardware(self, found: Floats, finding: Finding) -> None:
        alike = self.likeness(finding)
        like = self._of_step.best(alike)
        fits = self._stages(WORK.get(finding.action or ""))
        found[:, _AT[_hardware_feature(finding)]] = like * fits
        found[:, _AT["hardware_other_work"]] = like * ~fits
        found[:, _AT["part_put_back"]] = (self._goes_back * alike).max(axis=1, initial=0.0) * fits
        whole = (self._part(finding.part) == 1.0) & (self._place(finding.place) == 1.0)
        found[:, _AT["hardware_named_whole"]] = self._of_step.best(whole * 1.0) * fits
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
        if finding.size is not None and near.any():
            same_size, other_size = self._sizes(finding, near)
            found[:, _AT["size_same"]] = self._of_step.best(same_size)
            found[:, _AT["size_differs"]] = self._of_step.best(other_size) * (
                self._of_step.best(same_size) == 0
            )
        found[:, _AT["part_from_before"]] = (self._before * self._part(finding.part)).max(
            axis=1, initial=0.0
        )

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
        exact = np.array([limit.part is not None for limit in self._limits], float)
        of_part, of_any = likes * exact, likes * (1.0 - exact)
        found[:, _AT["limit_of_part"]] = self._limit_of_step.best(of_part)
        found[:, _AT["limit"]] = self._limit_of_step.best(of_any)
        found[:, _AT["measure_no_limit"]] = self._limit_of_step.best(likes) == 0

    def _put_names(self, found: Floats, finding: Finding, said: Sequence[str]) -> None:
        implied = _IMPLIED.get(finding.action or "", ())
        fits = self._stages(WORK.get(finding.action or ""))
        own = stems(" ".join(filter(None, (finding.part, finding.place, finding.side))))
        share, whole = self._names.shares(own, implied)
        found[:, _AT["name_own"]], found[:, _AT["name_own_whole"]] = share * fits, whole * fits
        share, whole = self._names.shares(said, implied)
        found[:, _AT["name_said"]], found[:, _AT["name_said_whole"]] = share * fits, whole * fits
        found[:, _AT["name_other_work"]] = share * ~fits
        found[:, _AT["name_implied"]] = self._names.implied(_IMPLIED.get(finding.action or "", ()))
        home = self._home_words(finding.part)
        if home:
            akin, _ = self._names.shares((*own, *home), implied)
            found[:, _AT["name_akin"]] = akin * fits * ~self._stages(("strip",))
        if finding.place is not None:
            inside = self._names.whole(stems(finding.place))
            found[:, _AT["place_in_name"]] = inside
            found_there = self._of_step.best((self._place(finding.place) > 0) * self._placed())
            found[:, _AT["place_elsewhere"]] = (
                (self._of_step.best(self._placed()) > 0) & (found_there == 0) & (inside == 0)
            )

    def _placed(self) -> Floats:
        return np.array([item.place is not None for item in self._hardware], float)

    def _put_work(self, found: Floats, finding: Finding) -> None:
        stages = WORK.get(finding.action or "")
        if stages is not None:
            first, may = self._stages(stages[:1]), self._stages(stages)
            found[:, _AT["work_of_stage"]] = first
            found[:, _AT["work_possible"]] = may & ~first
            found[:, _AT["work_of_other_stage"]] = ~may
        elif finding.action is None and finding.condition is not None:
            inspect, strip = self._stages(("inspect",)), self._stages(("strip",))
            found[:, _AT["state_inspect"]] = inspect
            found[:, _AT["state_strip"]] = strip
            found[:, _AT["state_other"]] = ~(inspect | strip)
        elif finding.action is None and finding.disposition is not None:
            decide, work = self._stages(("decide",)), self._stages(("strip", "inspect"))
            found[:, _AT["fate_decide"]] = decide
            found[:, _AT["fate_strip_or_inspect"]] = work
            found[:, _AT["fate_other"]] = ~(decide | work)
        if finding.disposition is not None:
            named, _ = self._names.shares(_FATES.get(finding.disposition, ()), ())
            found[:, _AT["fate_named"]] = named * self._stages(("decide",))

    def _stages(self, kinds: Sequence[StageKind] | None) -> Yes:
        """Tell which steps (S) are in stages of these kinds; None stands for all."""
        if kinds is None:
            return np.ones(len(self._kinds), bool)
        return np.array(np.isin(self._kinds, kinds), bool)

    def _home_words(self, part: str | None) -> tuple[str, ...]:
        """Give the words of the steps that a part comes from, when those are few.

        So a spool has to do with the control valve when it is checked or put back.
        """
        homes = np.flatnonzero(self._of_step.best(self._part(part)) > 0.8)
        if len(homes) > _MOST_HOMES:
            return ()
        return tuple(stem for at in homes for stem in stems(self.steps[at].title))

    def _part_likeness(self, part: str | None) -> Floats:
        return self._each(lambda item: part_likeness(part, item.part))

    def _place_likeness(self, place: str | None) -> Floats:
        return self._each(lambda item: place_likeness(place, item.place))

    def _each(self, of: Callable[[Hardware], float]) -> Floats:
        return np.array([of(item) for item in self._hardware], float)


class _Names:
    """The words of the names of S steps; each step has one name or several."""

    def __init__(self, names: Sequence[Sequence[str]]) -> None:
        words = [stems(name) for step in names for name in step]
        self._all = tuple(dict.fromkeys(stem for stem_row in words for stem in stem_row))
        self._has = np.array([[word in row for word in self._all] for row in words], float)
        self._size = np.maximum(self._has.sum(axis=1), 1.0)
        self._rows = _rows([len(step) for step in names])
        self._match = lru_cache(maxsize=8192)(self._matched)

    def _matched(self, stem: str) -> Floats:
        return np.array([same_word(stem, word) for word in self._all], float)

    def _said(self, said: Iterable[str]) -> Floats:
        found: Floats = np.zeros(len(self._all))
        for stem in said:
            found = np.maximum(found, self._match(stem))
        return found

    def shares(self, said: Iterable[str], implied: Iterable[str]) -> tuple[Floats, Floats]:
        """Give by step (S) the best share of a name that is said, and whether one of two words is.

        What is only implied counts when something of the name is said.
        """
        alone = self._said(said)
        shares = self._has @ np.maximum(alone, self._said(implied)) / self._size
        shares = np.where(self._has @ alone > 0, shares, 0.0)
        return self._rows.best(shares), self._rows.best((shares == 1.0) & (self._size > 1.0))

    def implied(self, words: Sequence[str]) -> Floats:
        """Tell by step (S) whether the words are all of one of its names ("parts washing")."""
        return self._rows.best(self._has @ self._said(words) == self._size)

    def whole(self, words: Sequence[str]) -> Floats:
        """Tell by step (S) whether all the words are in one of its names."""
        inside = np.ones(len(self._has))
        for stem in words:
            inside = inside * np.minimum(self._has @ self._match(stem), 1.0)
        return self._rows.best(inside if words else inside * 0.0)


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
    return 1.0 if limit.part is None else part_likeness(finding.part, limit.part)


def _rows(sizes: Sequence[int]) -> _Rows:
    """Give the indices of so many things by step, things counted through from 0."""
    total, most = sum(sizes), max([1, *sizes])
    index = np.full((len(sizes), most), total, np.intp)
    begin = 0
    for at, size in enumerate(sizes):
        index[at, :size] = np.arange(begin, begin + size)
        begin += size
    return _Rows(index)
