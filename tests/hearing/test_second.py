"""A second opinion: how two engines' guesses are weighed, and the real model on people's voices.

The recordings are those of tests/recordings/human, with the transcripts that came with them.
"""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import soundfile

from benchvoice.audio import Samples
from benchvoice.hearing import Clues, Heard, Hypothesis, open_engine
from benchvoice.hearing.again import LONGEST
from benchvoice.hearing.general_model import (
    BEGIN,
    SPACE,
    STOP,
    GeneralModel,
    Writing,
    find_general_model,
)
from benchvoice.hearing.ngram import estimate_trigrams
from benchvoice.hearing.second import SecondOpinion, combined
from benchvoice.hearing.word_search import in_pieces
from benchvoice.hearing.written import whole_forms

HUMAN = Path(__file__).parents[1] / "recordings" / "human"
TRANSCRIPTS = json.loads((HUMAN / "transcripts.json").read_text(encoding="utf-8"))
DIGITS = "zero one two three four five six seven eight nine ten".split()
TENS = "eleven twelve thirteen twenty thirty forty fifty sixty seventy eighty ninety".split()
WORDS = "go forward backward meters bolts seals off the front cover".split()


@pytest.fixture(scope="module")
def model() -> GeneralModel:
    found = find_general_model()
    if found is None:
        pytest.skip("the second extra is not installed")
    return found


def recording(name: str) -> Samples:
    return soundfile.read(HUMAN / name, dtype="int16")[0]


def guesses(**shares: float) -> Heard:
    found = (Hypothesis(text, share, math.log(share)) for text, share in shares.items())
    return Heard(tuple(found), Clues(own=1.0, unlikely=1.0, worst=1.0, shortest=5.0))


def test_what_speaks_for_a_text_multiplies_its_odds() -> None:
    heard = combined(guesses(seal=0.6, steel=0.4), {"seal": -9.0, "steel": -7.0})
    # posterior odds are prior odds times the likelihood ratio (Bayes)
    odds = (0.42 / 0.62) * math.exp(2.0)  # each 0.02 more, what a text has that it never thought of
    assert heard.text == "steel"
    assert heard.confidence == pytest.approx(odds / (1 + odds))


def test_a_text_that_one_engine_never_thought_of_can_win_when_it_is_far_likelier() -> None:
    heard = combined(guesses(seal=0.9, steel=0.1), {"seal": -12.0, "steel": -13.0, "eel": -2.0})
    assert heard.text == "eel"
    assert sum(one.confidence for one in heard.hypotheses) == pytest.approx(1.0)


def test_what_was_not_asked_about_is_less_likely_than_the_worst_and_stays() -> None:
    heard = combined(guesses(seal=0.6, steel=0.4), {"steel": -4.0})
    assert [one.text for one in heard.hypotheses] == ["steel", "seal"]
    assert combined(guesses(seal=0.6, steel=0.4), {}) == guesses(seal=0.6, steel=0.4)


class Guessing:
    """An engine that always hears the same."""

    name = "guessing"
    missing = ("grundle",)

    def __init__(self, heard: Heard) -> None:
        self._heard = heard

    def hear(self, samples: Samples) -> Heard:
        return self._heard


def second(model: GeneralModel, heard: Heard, words: Sequence[str] = WORDS) -> SecondOpinion:
    said = [((word,), 1.0) for word in (*DIGITS, *TENS, *words)]
    return SecondOpinion(Guessing(heard), model, estimate_trigrams(said), ["backward"])


def test_a_person_is_heard_right_against_the_engines_own_guess(model: GeneralModel) -> None:
    wrong = Heard(
        tuple(
            Hypothesis(text, share, math.log(share))
            for text, share in (("go off ten bolts", 0.6), ("go forward ten meters", 0.3))
        ),
        Clues(own=1.0, unlikely=1.0, worst=1.0, shortest=5.0),
    )
    engine = second(model, wrong)
    heard = engine.hear(recording("go_forward.flac"))
    assert engine.missing == ("grundle",)
    assert heard.text == TRANSCRIPTS["go_forward"]
    assert heard.clues is not None
    assert heard.clues.apart == pytest.approx(0.0, abs=1.0)  # it writes much the same freely


def test_other_talk_is_far_from_all_that_the_remarks_allow(model: GeneralModel) -> None:
    without = second(model, guesses(bolts=0.8), ["bolts", "seals", "off"])
    clues = without.hear(recording("go_forward.flac")).clues
    assert clues is not None
    assert clues.apart is not None
    assert clues.apart > 3.0


def test_without_sound_everyday_words_are_written_more_readily_than_the_trades(
    model: GeneralModel,
) -> None:
    # everyday words are the more frequent: CMU's language model of PocketSphinx has "thank you"
    # among its pairs and does not know "sprag" at all
    texts = ("Thank you.", "Sprag worn.", "The bolt is fitted.", "The bolt is pitted.")
    pieces = [in_pieces(model, (SPACE + text).replace(" ", SPACE)) for text in texts]
    thanks, sprag, fitted, pitted = (one.text for one in model.likelihoods(model.unheard, pieces))
    assert thanks > sprag
    assert fitted > pitted


def test_silence_of_the_engine_stays_silence(model: GeneralModel) -> None:
    assert second(model, Heard()).hear(recording("go_forward.flac")) == Heard()


@pytest.mark.parametrize("seconds", [0.02, 0.3, 7.9, 8.1, 40.0])
def test_utterances_may_be_of_any_length(model: GeneralModel, seconds: float) -> None:
    sound = np.resize(recording("digits.flac"), round(seconds * 16_000))
    heard = second(model, guesses(one=0.5, two=0.4)).hear(sound)
    assert {"one", "two"} <= {one.text for one in heard.hypotheses}
    assert heard.clues is not None
    assert (heard.clues.apart is None) == (seconds > LONGEST)


def test_the_same_sound_gives_the_same(model: GeneralModel) -> None:
    engine = second(model, guesses(one=0.5, two=0.4))
    sound = recording("digits.flac")
    assert engine.hear(sound) == engine.hear(sound)


def test_whole_texts_have_the_likelihood_of_their_pieces_one_by_one(model: GeneralModel) -> None:
    encoded = model.encode(recording("go_forward.flac"))
    texts = [in_pieces(model, text) for text in (f"{SPACE}Go{SPACE}forward.", f"{SPACE}go")]
    for text, found in zip(texts, model.likelihoods(encoded, texts), strict=True):
        writing, said, best, piece = Writing(model, encoded), 0.0, 0.0, BEGIN
        for following in (*text, STOP):
            (chances,) = writing.chances([piece], [0])
            said += float(chances[following])
            best += float(chances.max())
            piece = following
        # its arithmetic in bytes takes its scale from all rows together: they are not quite alike
        assert found.text == pytest.approx(said, abs=0.5)
        assert found.likeliest == pytest.approx(best, abs=0.5)


def test_a_remark_is_written_in_words_and_in_figures() -> None:
    forms = {
        form.replace(SPACE, " ") for form in whole_forms("forty two bolts two point five thou")
    }
    assert forms == {" Forty two bolts two point five thou.", " 42 bolts 2.5 thou."}
    assert list(whole_forms("an o ring torn"))[-1] == f"{SPACE}An{SPACE}O-ring{SPACE}torn."
    assert len(list(whole_forms("seals off"))) == 1


def test_a_text_is_split_into_pieces_that_nothing_joins_further(model: GeneralModel) -> None:
    # the pieces must give the text again, and no two neighbours may join to another piece
    for text in ("\u2581bolts", "\u2581Forty-two", "\u25812.5", "\u2581circlip"):
        numbers = in_pieces(model, text)
        pieces = [model.pieces[one] for one in numbers]
        assert "".join(pieces) == text
        assert not any(a + b in model.number for a, b in pairwise(pieces))


def test_the_embedded_engine_gets_one_where_the_model_is(
    model: GeneralModel, tmp_path: Path
) -> None:
    sentences = [(tuple(text.split()), 1.0) for text in ("go forward ten meters", "two bolts off")]
    alone = open_engine("pocketsphinx", sentences, {}, None, tmp_path, find_second=lambda: None)
    both = open_engine("pocketsphinx", sentences, {}, None, tmp_path, find_second=lambda: model)
    assert both.name == f"{alone.name}, with a second opinion"
    assert both.missing == alone.missing
    assert both.hear(recording("go_forward.flac")).text == "go forward ten meters"


def test_loading_the_model_leaves_nothing_behind_and_opens_no_socket(
    model: GeneralModel, tmp_path: Path, no_network: dict[str, str]
) -> None:
    # Releases of onnxruntime that report their use keep a number of the machine in the home folder.
    code = "from benchvoice.hearing.general_model import find_general_model as f; assert f()"
    home = {"HOME": str(tmp_path), "PYTHONDONTWRITEBYTECODE": "1"}
    subprocess.run([sys.executable, "-c", code], env=os.environ | no_network | home, check=True)
    assert not list(tmp_path.iterdir())
