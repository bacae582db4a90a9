"""Pronunciations held against the CMU Pronouncing Dictionary that comes with PocketSphinx."""

from pathlib import Path

import pytest

from benchvoice.errors import EngineError
from benchvoice.hearing.morphology import derive
from benchvoice.hearing.pronounce import model_folder, model_phones, pronounce

# The 39 phones of the CMU Pronouncing Dictionary, as its documentation lists them.
ARPABET = set(
    "AA AE AH AO AW AY B CH D DH EH ER EY F G HH IH IY JH K L M N NG OW OY P R S SH T TH UH UW V W "
    "Y Z ZH".split()
)


def cmudict() -> dict[str, list[str]]:
    """Read the dictionary with code of our own here: word to pronunciations."""
    found: dict[str, list[str]] = {}
    text = (model_folder() / "cmudict-en-us.dict").read_text(encoding="utf-8")
    for line in text.splitlines():
        word, *phones = line.split()
        found.setdefault(word.split("(")[0], []).append(" ".join(phones))
    return found


def test_the_models_phones_are_arpabet_and_its_own_noises() -> None:
    phones = model_phones(model_folder() / "en-us" / "mdef")
    assert phones - {"SIL", "+NSN+", "+SPN+"} == ARPABET


def test_known_words_have_the_dictionarys_sounds_and_all_of_them() -> None:
    known = cmudict()
    words = ["eight", "seal", "the", "either", "read", "bolts"]
    found = pronounce(words, {})
    assert found.missing == found.derived == ()
    assert {word: list(found.entries[word]) for word in words} == {w: known[w] for w in words}


def test_given_sounds_replace_the_dictionarys() -> None:
    # "thou" is a thousandth of an inch, said with the TH of "thousand"
    assert cmudict()["thou"] == ["DH AW"]
    assert pronounce(["thou"], {"thou": ("TH AW",)}).entries == {"thou": ("TH AW",)}


def test_unknown_words_are_reported() -> None:
    found = pronounce(["seal", "grundle", "xyzzy"], {})
    assert found.missing == ("grundle", "xyzzy")
    assert set(found.entries) == {"seal"}


def test_alternates_are_numbered_as_sphinx_reads_them() -> None:
    text = pronounce(["a"], {"a": ("AH", "EY")}).dictionary()
    assert text == "a AH\na(2) EY\n"


@pytest.mark.parametrize(
    ("sound", "says"),
    [("TH AW1", '"AW1" is not a sound'), ("th aw", '"th" is not'), ("", "empty"), ("Q", '"Q"')],
)
def test_a_wrong_sound_is_said_with_the_word_and_the_usable_ones(sound: str, says: str) -> None:
    with pytest.raises(EngineError, match=says) as error:
        pronounce(["thou"], {"thou": (sound,)})
    assert '"thou"' in str(error.value)
    assert "AA AE AH" in str(error.value)


def test_a_given_sound_is_checked_even_when_the_word_is_not_wanted() -> None:
    with pytest.raises(EngineError, match="not a sound"):
        pronounce(["seal"], {"thou": ("NO SUCH",)})


def test_what_is_no_model_is_said(tmp_path: Path) -> None:
    (tmp_path / "mdef").write_bytes(b"something else")
    with pytest.raises(EngineError, match="not a model definition"):
        model_phones(tmp_path / "mdef")


@pytest.mark.parametrize(
    ("word", "sound"),
    [
        ("shims", "SH IH M Z"),
        ("torqued", "T AO R K T"),
        ("bushing", "B UH SH IH NG"),
        ("galled", "G AO L D"),
        ("preload", "P R IY L OW D"),
        ("runout", "R AH N AW T"),
        ("impellers", "IH M P EH L ER Z"),
    ],
)
def test_forms_that_the_dictionary_lacks_are_made_by_rule(word: str, sound: str) -> None:
    assert word not in cmudict()
    found = pronounce([word], {})
    assert sound in found.entries[word]
    assert found.derived == (word,)


def test_a_form_of_a_given_word_follows_the_given_sound() -> None:
    assert pronounce(["grundles"], {"grundle": ("G R AH N D AH L",)}).entries == {
        "grundles": ("G R AH N D AH L Z",)
    }


@pytest.mark.parametrize(("ending", "share"), [("s", 0.92), ("ed", 0.94), ("ing", 0.92)])
def test_the_rules_agree_with_the_forms_the_dictionary_has(ending: str, share: float) -> None:
    """Each form in the dictionary is made again from its base, as if it were not there.

    The dictionary writes the weak vowel of "-es" and "-ed" as AH or IH, so
    the two count as one.  What is left are names and irregular words.
    """
    known = {word: tuple(sounds) for word, sounds in cmudict().items() if word.isalpha()}
    right = total = 0
    for word, sounds in known.items():
        if not word.endswith(ending):
            continue
        made = derive(word, lambda part, word=word: () if part == word else known.get(part, ()))
        if made:
            total += 1
            right += not {s.replace("IH", "AH") for s in made}.isdisjoint(
                s.replace("IH", "AH") for s in sounds
            )
    assert total > 3000
    assert right / total > share
