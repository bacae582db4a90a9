"""What learning from corrections is worth to a user whose words the trade's lists lack.

    python tests/benchmarks/learning_gain.py

Simulated: the remarks are those of the invented demo history, said by somebody
with invented words of his own for common parts.  He corrects the first
sessions; what they teach is tried on the rest, which he never corrected.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from benchvoice.grammar import Pack, load_outline, load_pack
from benchvoice.language import Parser
from benchvoice.learning import Pair, propose, taught
from benchvoice.session import find_sessions, read_session

HISTORY = Path(__file__).parents[2] / "demo_sessions" / "history"
OWN = {
    **{"bolts": "zappers", "bolt": "zapper", "gasket": "sandwich", "seals": "wipers"},
    **{"seal": "wiper", "snap ring": "clicker", "bearings": "spinners", "bearing": "spinner"},
    **{"shims": "slivers", "shim": "sliver", "scored": "tramlined", "dowel pins": "pegs"},
    **{"cap screws": "hexers", "cap screw": "hexer", "front cover": "face plate"},
}
"""Invented words of one user, for those of the trade; the places among them too."""


def said(text: str) -> str:
    """Say a text in the user's own words."""
    for word in sorted(OWN, key=len, reverse=True):
        text = re.sub(rf"\b{word}\b", OWN[word].upper(), text)
    return text.lower()


def remarks() -> Iterator[list[str]]:
    """Give the texts of each demo session that found something."""
    for folder in find_sessions([HISTORY]):
        entries = read_session(folder).entries
        yield [entry.remark.heard for entry in entries if entry.kind == "finding"]


def right(texts: list[str], pack: Pack, truth: Parser) -> int:
    """Count the texts that are read as what was meant."""
    parser = Parser(pack)
    return sum(parser.parse(said(text)).findings == truth.parse(text).findings for text in texts)


def main() -> None:
    """Print the figures."""
    pack = load_pack(load_outline("reversing_gearbox"))
    truth = Parser(pack)
    sessions = list(remarks())
    half = len(sessions) // 2
    rest = [text for session in sessions[half:] for text in session if said(text) != text]
    plain = [text for session in sessions for text in session if said(text) == text]
    print(f"{len(rest)} remarks with own words in the {len(sessions) - half} sessions held out")
    for count in range(half + 1):
        pairs = [
            Pair(session=f"{number}", seq=seq, was=said(text), became=text, by_ear=False)
            for number, session in enumerate(sessions[:count])
            for seq, text in enumerate(session, start=1)
            if said(text) != text
        ]
        proposals = propose(pairs, pack)
        learnt = taught(pack, proposals)
        parser = Parser(learnt)
        changed = sum(parser.parse(one).findings != truth.parse(one).findings for one in plain)
        print(
            f"  {count} sessions corrected ({len(pairs):3} remarks), {len(proposals):2} learnt: "
            f"{right(rest, learnt, truth):3} of {len(rest)} exactly right, "
            f"{changed} of {len(plain)} others changed"
        )


if __name__ == "__main__":
    main()
