"""Parts needed, against the outline read as plain TOML."""

import tomllib
from collections import Counter
from pathlib import Path

from benchvoice.grammar import load_outline
from benchvoice.pricing import needs
from benchvoice.session import read_session

ROOT = Path(__file__).parents[2]


def always() -> Counter[str]:
    text = (ROOT / "grammars/outlines/reversing_gearbox.toml").read_text(encoding="utf-8")
    found: Counter[str] = Counter()
    for stage in tomllib.loads(text)["stage"]:
        for step in stage["step"]:
            for item in step.get("hardware", ()):
                if item.get("always_replace"):
                    found[item["part"]] += item.get("count", 1)
    return found


def test_before_opening_the_outline_alone_says_what_is_needed() -> None:
    found: Counter[str] = Counter()
    for item in needs(load_outline("reversing_gearbox")):
        found[item.part] += item.count or 0
    assert found == always()
    assert found


def test_a_session_adds_what_was_found_and_keeps_the_rest_of_the_outline() -> None:
    outline = load_outline("reversing_gearbox")
    session = read_session(ROOT / "demo_sessions/history/invented_01")
    found: Counter[str] = Counter()
    for item in needs(outline, session):
        found[item.part] += item.count or 1
    assert not always() - found
