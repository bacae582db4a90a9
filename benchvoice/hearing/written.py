"""How a general speech model writes the words of the remarks: "8 bolts, M10", "forty-two thou"."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping

from benchvoice.hearing.general_model import SPACE

Form = tuple[str, tuple[str, ...]]
"""As it is written, spaces as SPACE, and the spoken words that it stands for."""

_ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen"
    " fifteen sixteen seventeen eighteen nineteen"
).split()
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()
_SPELLINGS = (("metre", "meter"), ("our", "or"), ("grey", "gray"), ("seized", "ceased"))
"""What stands in our words, and what the model may write instead."""
_FIGURES: Mapping[str, tuple[str, ...]] = {
    "point": (".",),
    "dash": ("-",),
    "millimetres": (" mm", "mm"),
    "millimeters": (" mm", "mm"),
    "millimetre": (" mm", "mm"),
    "millimeter": (" mm", "mm"),
    "half": (" 1/2", "1/2"),
    "a half": (" 1/2",),
    "quarter": (" 1/4",),
    "three quarter": (" 3/4",),
    "three quarters": (" 3/4",),
    "three eighths": (" 3/8",),
    "five eighths": (" 5/8",),
    "five sixteenths": (" 5/16",),
    "seven sixteenths": (" 7/16",),
    "percent": ("%",),
    "first": (" 1st",),
    "second": (" 2nd",),
    "third": (" 3rd",),
    "o ring": (" O-ring", " o-ring"),
    "o rings": (" O-rings", " o-rings"),
    "okay": (" OK", " Okay"),
}
"""How our words are also written; those that begin without a space follow what is before."""


def written_forms(words: Collection[str]) -> Iterator[Form]:
    """Give the ways in which the words, and short groups of them, are written."""
    known = frozenset(words)
    for word in sorted(known):
        for text in _spellings(word):
            for form in sorted({text, text.capitalize(), text.upper() if len(text) == 1 else text}):
                yield SPACE + form, (word,)
    for text, forms in _FIGURES.items():
        said = tuple(text.split())
        if known.issuperset(said):
            yield from ((form.replace(" ", SPACE), said) for form in forms)
    for number, said in _numbers():
        if known.issuperset(said):
            yield f"{SPACE}{number}", said
            yield str(number), said  # "2.5", "M10"
            if len(said) == 1:
                yield f"{SPACE}{number}-", said


def whole_forms(text: str) -> Iterator[str]:
    """Give the ways in which a whole remark is most likely written: in words, and in figures."""
    words = text.split()
    figures = _IN_FIGURES.sub(_figure, " ".join(words))
    for form in dict.fromkeys((" ".join(words), figures)):
        yield (SPACE + form[:1].upper() + form[1:] + ".").replace(" ", SPACE)


def _figure(found: re.Match[str]) -> str:
    return _WHOLE[found[0]]


def _spellings(word: str) -> Iterator[str]:
    yield word
    for ours, theirs in _SPELLINGS:
        if ours in word:
            yield word.replace(ours, theirs)


def _numbers() -> Iterator[tuple[int, tuple[str, ...]]]:
    for number, word in enumerate(_ONES):
        yield number, (word,)
    for tens, word in enumerate(_TENS, start=2):
        yield tens * 10, (word,)
        for ones in range(1, 10):
            yield tens * 10 + ones, (word, _ONES[ones])
    for ones in range(1, 10):
        yield ones * 100, (_ONES[ones], "hundred")
        yield ones * 1000, (_ONES[ones], "thousand")


_WHOLE: Mapping[str, str] = {
    **{" ".join(said): str(number) for number, said in _numbers()},
    " point ": ".",
    "o ring": "O-ring",
    "o rings": "O-rings",
    "okay": "OK",
}
_IN_FIGURES = re.compile(
    "|".join(
        one if one.startswith(" ") else rf"\b{one}\b"
        for one in sorted(_WHOLE, key=len, reverse=True)
    )
)
