"""Sounds by spelling, against the CMU Pronouncing Dictionary (the copy with PocketSphinx)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rapidfuzz.distance import Levenshtein

from benchvoice.grammar import load_pack
from benchvoice.hearing import pronounce
from benchvoice.hearing.pronounce import model_folder, model_phones
from benchvoice.words import Guesser, find_guesser
from benchvoice.words.ipa import IPA, arpabet
from benchvoice.words.spelling import by_library, by_program


@pytest.fixture(scope="module")
def guess() -> Guesser:
    guesser = find_guesser()
    if guesser is None:
        pytest.skip("neither espeak-ng nor the extra `words` is installed")
    return guesser


def speech_sounds() -> set[str]:
    phones = model_phones(model_folder() / "en-us" / "mdef")
    return {phone for phone in phones if phone.isalpha() and phone != "SIL"}


def test_the_table_gives_all_sounds_of_the_model_and_no_others() -> None:
    given = {sound for way in IPA.values() for sound in way.split()}
    assert given == speech_sounds()
    assert len(given) == 39


@pytest.mark.parametrize(
    ("ipa", "sounds"),
    [
        # IPA of English, Handbook of the International Phonetic Association (1999), American
        # English, in the dictionary's sounds (its entries "bolt", "gear", "chuck", "judge", "oil")
        ("bˈoʊlt", "B OW L T"),
        ("ɡˈɪɹ", "G IH R"),
        ("tʃˈʌk", "CH AH K"),
        ("dʒˈʌdʒ", "JH AH JH"),
        ("ˈɔɪl", "OY L"),
    ],
)
def test_english_in_ipa(ipa: str, sounds: str) -> None:
    assert arpabet(ipa) == tuple(sounds.split())
    word = {"bˈoʊlt": "bolt", "ɡˈɪɹ": "gear", "tʃˈʌk": "chuck", "dʒˈʌdʒ": "judge", "ˈɔɪl": "oil"}
    assert sounds in pronounce([word[ipa]], {}).entries[word[ipa]]


def test_a_sign_that_is_not_known_gives_nothing_rather_than_something_wrong() -> None:
    assert arpabet("bǃoʊlt") is None


@given(st.text(max_size=12))
def test_any_text_gives_sounds_of_the_model_or_nothing(text: str) -> None:
    found = arpabet(text)
    assert found is None or set(found) <= speech_sounds()


@pytest.mark.hardware
def test_every_word_of_the_trade_gets_sounds_near_those_of_the_dictionary(guess: Guesser) -> None:
    """An eighth of the trade's words that the dictionary has.

    The limit is generous: `tests/benchmarks/spelling_sounds.py` prints the rate.
    """
    pack = load_pack()
    said = {w for _, term in pack.terms() for say in (term.name, *term.say) for w in say.split()}
    known = pronounce(said, {}).entries
    words = sorted(word for word in known if len(word) > 3)[::8]
    edits = sounds = 0
    for word in words:
        got = guess(word)
        assert got is not None, word
        far, length = min(
            (Levenshtein.distance(way.split(), got), len(way.split())) for way in known[word]
        )
        edits, sounds = edits + far, sounds + length
    assert len(words) > 100
    assert edits / sounds < 0.06


@pytest.mark.hardware
@pytest.mark.parametrize("guesser", [by_library, by_program])
def test_library_and_program_say_the_same(guesser: Guesser) -> None:
    found = guesser("circlip")
    if found is None:
        pytest.skip("not installed (espeak-ng, or pip install 'benchvoice[words]')")
    assert found == tuple("S ER K L IH P".split())
