"""What a check looks for is no finding: "crack check on the case, nothing" is not cracked.

A check says what it looks for before itself ("crack check"), after "for" ("checked for cracks") or
by its tool ("dye check").  That is inspected; only what is said of it afterwards is found.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from benchvoice.language.chunks import Chunk

_CHECKS = frozenset({"checked", "inspected", "tested"})
_NOTHING = frozenset({"nothing", "none"})
_CLEAN = frozenset({"clean", "clear"})
"""Sound states that after a check say that it found nothing (common practice, no source)."""
_SMALL = frozenset({"", "conj", "it", "be", "word", "unknown", "place"})
"""What may come after "nothing" or "one" when it stands alone."""
_BETWEEN = frozenset({"article", "not"})
_ON = frozenset({"on", "of", "in"})


def looked_for(
    chunks: Sequence[Chunk], tokens: Sequence[str], shown: Mapping[str, str]
) -> list[Chunk]:
    """Take out what was only looked for, and say what the result means.

    `shown` maps tools to the condition that a check with them looks for.
    """
    check = _Check(chunks, tokens, shown)
    at = 0
    while at < len(chunks):
        at = check.read(at)
    return check.result


@dataclass(slots=True)
class _Check:
    chunks: Sequence[Chunk]
    tokens: Sequence[str]
    shown: Mapping[str, str]
    result: list[Chunk] = field(default_factory=list)
    sought: list[str] = field(default_factory=list)
    checking: bool = False

    def read(self, at: int) -> int:
        """Read on from a chunk; give where the next begins."""
        one = self.chunks[at]
        if one.kind == "action":
            self.checking = one.value in _CHECKS
            if self.checking and self._named_before(at):
                one = one._replace(value=_how(one.value), start=self.result.pop().start)
            elif self.checking and self.result and self.result[-1].value in self.shown:
                one = one._replace(value=_how(one.value))  # "dye check"
        elif one.kind == "tool" and one.value in self.shown:
            self.sought = [self.shown[one.value]]
        self.result.append(one)
        if self.checking and self.tokens[one.end - 1] == "for":
            return self._after_for(at + 1)
        if self.sought:
            self._found(at)
        return at + 1

    def _named_before(self, at: int) -> bool:
        """Whether what is looked for stands right before the check, said as a thing."""
        last = self.result[-1] if self.result else None
        if last is not None and last.kind == "condition" and last is self.chunks[at - 1]:
            said = " ".join(self.tokens[last.start : last.end])
            if said != last.value:
                self.sought = [last.value]
                return True
        return False

    def _after_for(self, at: int) -> int:
        """Leave out what is named after "for", with "and" or "or" between."""
        sought: list[str] = []
        end = at
        while end < len(self.chunks):
            one = self.chunks[end]
            if one.kind == "condition":
                sought.append(one.value)
                at = end + 1
            elif one.kind not in _BETWEEN and self._text(end) not in ("and", "or"):
                break
            end += 1
        if sought:
            self.sought = sought
            self.result = [
                one._replace(value=_how(one.value)) if one.kind == "action" else one
                for one in self.result
            ]
        return at

    def _found(self, at: int) -> None:
        """Put what a result means in its place."""
        one = self.chunks[at]
        after = self.chunks[at + 1] if at + 1 < len(self.chunks) else None
        kind = after.kind if after is not None else ""
        if (one.kind == "not" and self._text(at) in _NOTHING and kind in _SMALL) or (
            one.kind == "condition" and one.value in _CLEAN and kind in _SMALL - {"it"}
        ):
            self._means([f"not {name}" for name in self.sought])
        elif one.kind == "count" or self._text(at) in ("one", "ones", "some"):
            if after is not None and kind == "condition" and after.value in self.sought:
                self.result.pop()  # "one crack": no case more
            elif kind in _SMALL and self.chunks[at - 1].kind in ("conj", "be", "it"):
                self._means(self.sought)
                if self._of_several():
                    self.result.insert(-len(self.sought), one)  # "checked the gears, two"
        elif one.kind == "place" and one.value[1] in _ON and self._of_check(at):
            self.result[-1] = one._replace(kind="noun", value=one.value[2])

    def _means(self, names: Sequence[str]) -> None:
        one = self.result.pop()
        self.result += [one._replace(kind="condition", value=name) for name in names]

    def _of_several(self) -> bool:
        nouns = [one for one in self.result if one.kind == "noun"]
        return bool(nouns) and bool(nouns[-1].value.plural)

    def _of_check(self, at: int) -> bool:
        """Whether a place stands right after the check, which is of no part named before."""
        if len(self.result) < 2 or self.result[-2].kind not in ("action", "tool"):
            return False
        before = (one.kind for one in reversed(self.chunks[:at]) if one.kind in ("noun", "conj"))
        return next(before, "conj") == "conj"

    def _text(self, at: int) -> str:
        return " ".join(self.tokens[self.chunks[at].start : self.chunks[at].end])


def _how(action: str) -> str:
    """Looking for something is inspecting; a test stays one."""
    return "inspected" if action == "checked" else action
