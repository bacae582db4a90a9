from __future__ import annotations

import math
from dataclasses import replace

import pytest

from benchvoice.bench.understand import foreign_odds, sureness, understand, worth
from benchvoice.grammar import load_pack
from benchvoice.hearing import Clues, Heard, Hypothesis
from benchvoice.language import Parser
from benchvoice.remark import Finding, Remark, StepGuess


@pytest.fixture(scope="module")
def parser() -> Parser:
    return Parser(load_pack())


def heard(*guesses: tuple[str, float]) -> Heard:
    return Heard(tuple(Hypothesis(text, share, math.log(share)) for text, share in guesses))


def test_texts_of_one_meaning_vote_together(parser: Parser) -> None:
    found = understand(
        heard(
            ("eight bolts off front", 0.3),
            ("ate bolts of front", 0.35),
            ("eight bolts off the front", 0.25),
        ),
        parser,
    )
    assert found.remark.heard == "eight bolts off front"
    assert found.remark.confidence == pytest.approx(0.55)
    assert found.alternatives == ("ate bolts of front", "eight bolts off the front")


def test_sense_beats_a_slightly_likelier_nonsense(parser: Parser) -> None:
    found = understand(heard(("seal tack the", 0.55), ("one seal cracked", 0.45)), parser)
    assert found.remark.heard == "one seal cracked"


def test_a_clear_guess_is_not_outvoted_by_a_step(parser: Parser) -> None:
    def guess(remark: Remark) -> StepGuess | None:
        score = 60.0 if "nut" in remark.heard else 0.0
        return StepGuess(id="x", score=score)

    found = understand(heard(("eight bolts", 0.95), ("eight nuts", 0.05)), parser, guess)
    assert found.remark.heard == "eight bolts"
    assert found.remark.step == StepGuess(id="x", score=0.0)


def test_words_that_mean_nothing_count_against_it(parser: Parser) -> None:
    found = understand(heard(("eight bolts off front grumble", 0.8)), parser).remark
    assert (found.kind, len(found.unparsed)) == ("remark", 1)
    # by hand: one of five words
    assert found.confidence == pytest.approx(0.64)


def test_nothing_heard_is_unclear(parser: Parser) -> None:
    found = understand(Heard(), parser)
    assert (found.remark.kind, found.remark.confidence) == ("unclear", 0.0)


def test_worth_falls_with_what_is_left_over() -> None:
    whole = Remark(heard="", kind="remark", findings=(Finding(part="bolt"),))
    part = Remark(heard="", kind="remark", findings=(Finding(part="bolt"),), unparsed=("x",))
    assert worth(whole) > worth(part) > worth(Remark(heard="", unparsed=("x", "y")))


OURS = Clues(own=1.0, unlikely=1.0, worst=3.0, shortest=8.0)
"""Of "eight bolts off the front" in a synthetic voice, about."""
THEIRS = Clues(own=0.02, unlikely=6.0, worst=6.0, shortest=3.0)


def test_talk_that_looks_foreign_is_refused_whatever_it_would_mean(parser: Parser) -> None:
    sure = heard(("eight bolts off the front", 0.9))
    assert understand(replace(sure, clues=OURS), parser).remark.kind == "remark"
    refused = understand(replace(sure, clues=THEIRS), parser).remark
    assert (refused.kind, refused.findings) == ("unclear", ())
    assert refused.heard == "eight bolts off the front"
    assert understand(replace(sure, trusted=False), parser).remark.kind == "unclear"


@pytest.mark.parametrize(
    "less", [{"own": 0.5}, {"unlikely": 4.0}, {"worst": 6.0}, {"shortest": 3.0}]
)
def test_each_clue_of_other_talk_takes_from_the_confidence(
    parser: Parser, less: dict[str, float]
) -> None:
    said = heard(("eight bolts off the front", 0.9))
    sure = replace(said, clues=OURS)
    unsure = replace(said, clues=replace(OURS, **less))
    remark = parser.parse(said.text)
    assert foreign_odds(unsure, remark) > foreign_odds(sure, remark) > foreign_odds(said, remark)
    assert sureness(0.9, foreign_odds(unsure, remark)) < sureness(0.9, foreign_odds(sure, remark))


def test_without_clues_nothing_is_doubted(parser: Parser) -> None:
    found = understand(heard(("eight bolts off the front", 0.9)), parser).remark
    assert found.confidence == 0.9


def test_what_is_usual_of_a_kind_of_part_is_worth_more() -> None:
    """Seals are torn and shafts are turned (common practice, no source)."""
    pack = load_pack()
    parser = Parser(pack)
    worths = {
        said: worth(parser.parse(said), pack)
        for said in ("seals turned", "seals torn", "shaft turned", "seals off")
    }
    assert worths["seals turned"] < worths["seals off"] < worths["seals torn"]
    assert worths["shaft turned"] > worths["seals turned"]
    found = understand(heard(("seals turned", 0.6), ("seals torn", 0.4)), parser, pack=pack)
    assert found.remark.heard == "seals torn"
