"""Talk of another unit or another time is nothing found on this one: "that other unit had twelve".

"The last one was cracked" is of a part, and "in the other box" is a box.  Common practice, no
source.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_NOT_THIS = r"(?:other|others|another|last|previous|old|different)"
_UNIT = r"(?:units?|gearbox|gearboxes|gear box|transmission|transmissions|job|jobs)"
_DID = r"(?:had|did|was|were|came|used|took|got|has|always)"
_ELSEWHERE = re.compile(
    rf"(?:^| )(?<!this ){_NOT_THIS} (?:one )?{_UNIT} "
    rf"|(?:^| )(?:that|my|his|our|their|the) {_NOT_THIS} box {_DID} "
    rf"|(?:^| ){_NOT_THIS} (?:one|ones|two|time|few) (?:that )?(?:i|we|he|they) "
    rf"|(?:^| )(?:one|ones|{_UNIT}|box) (?:that )?(?:i|we|he) (?:did|built|rebuilt|worked) "
    r"|(?:^| )last (?:time|year|month|week) "
)


def other_work(tokens: Sequence[str]) -> bool:
    """Whether a remark tells of other work than this."""
    return _ELSEWHERE.search(" ".join(tokens) + " ") is not None
