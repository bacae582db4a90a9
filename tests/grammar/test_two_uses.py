"""One grammar, two uses: what is generated to be heard is what is understood."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from truth import generate_with_truth

from benchvoice.grammar import Pack, load_pack
from benchvoice.grammar.generate import vocabulary_words
from benchvoice.language import Parser
from benchvoice.remark import Remark, remark_to_json

REMARKS = Path(__file__).parents[1] / "remarks"
COUNT, SEED = 2_000, 20
LEAST = 0.97
TALK = frozenset({"where'd"})
"""Plain English around a remark that is no word of the trade."""
NOT_TRUTH = ("si", "text", "notes")


@pytest.fixture(scope="module")
def pack() -> Pack:
    return load_pack()


def fields(value: Any) -> Any:
    """Leave out what is empty and what only follows from the other fields."""
    if not isinstance(value, dict):
        return tuple(value) if isinstance(value, list) else value
    kept = {key: fields(item) for key, item in value.items() if key not in NOT_TRUTH}
    return {key: item for key, item in kept.items() if item not in (None, (), {})}


def test_what_is_generated_is_understood(pack: Pack) -> None:
    parser = Parser(pack)
    missed: list[str] = []
    kinds: set[str] = set()
    for text, truth in generate_with_truth(pack, COUNT, SEED):
        found = [fields(finding) for finding in remark_to_json(parser.parse(text))["findings"]]
        kinds.update(truth)
        if found != [fields(truth)]:
            missed.append(f"{text}\n    want {truth}\n    got  {found}")
    # so that a share cannot be reached by leaving fields out
    assert kinds >= {
        *("part", "count", "place", "condition", "action", "disposition", "container"),
        *("measure", "size", "orientation", "stack", "side", "ordinal", "mark", "tool", "group"),
    }
    assert len(missed) <= (1 - LEAST) * COUNT, f"{len(missed)} missed\n" + "\n".join(missed)


def test_a_changed_truth_would_be_noticed(pack: Pack) -> None:
    parser = Parser(pack)
    changed = 0
    for text, truth in generate_with_truth(pack, 500, SEED):
        if "count" in truth:
            found = [fields(finding) for finding in remark_to_json(parser.parse(text))["findings"]]
            assert found != [fields({**truth, "count": truth["count"] + 1})], text
            changed += 1
    assert changed > 100


def test_truths_are_the_same_for_a_seed(pack: Pack) -> None:
    assert list(generate_with_truth(pack, 50, 3)) == list(generate_with_truth(pack, 50, 3))
    assert list(generate_with_truth(pack, 50, 3)) != list(generate_with_truth(pack, 50, 4))


def test_words_of_understood_remarks_can_be_heard(pack: Pack) -> None:
    parser, known = Parser(pack), vocabulary_words(pack)
    cannot: dict[str, str] = {}
    for say in all_remarks():
        remark = parser.parse(say)
        for word in spoken_words(say, pack) - not_understood(remark):
            if word not in known and word.removesuffix("'s") not in known:
                cannot[word] = say
    assert not cannot


def all_remarks() -> list[str]:
    tables = [tomllib.loads(path.read_text("utf-8")) for path in sorted(REMARKS.glob("*.toml"))]
    return [remark["say"] for table in tables for remark in table.get("remark", ())]


def spoken_words(say: str, pack: Pack) -> set[str]:
    """Words of a remark but digits and what is only typed."""
    lower = re.sub(r"\S*\d\S*", " ", say.lower().replace("’", "'"))
    return set(re.findall(r"[a-z']*[a-z][a-z']*", lower)) - set(pack.typed) - TALK - {"x"}


def not_understood(remark: Remark) -> set[str]:
    """The words that were no part of the reading; a step's name is any words."""
    left = " ".join([*remark.unparsed, remark.words or ""])
    return set(re.findall(r"[a-z']+", left.lower()))
