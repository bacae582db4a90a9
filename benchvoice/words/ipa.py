"""IPA as espeak-ng writes English to the ARPAbet sounds of the CMU Pronouncing Dictionary.

The correspondences are those of the dictionary's phoneme set (its file
"cmudict-0.7b.phones" with the example words) and of the IPA's chart; where
espeak-ng tells apart what the dictionary does not (a tapped t, a glottal
stop, the reduced vowels), the nearest one is taken.
"""

from __future__ import annotations

_VOWELS = {
    **{"iː": "IY", "i": "IY", "ɪ": "IH", "ᵻ": "IH", "eɪ": "EY", "e": "EH", "ɛ": "EH", "æ": "AE"},
    **{"a": "AE", "aː": "AA", "ɑː": "AA", "ɑ": "AA", "ɒ": "AA", "ɔː": "AO", "ɔ": "AO", "oː": "AO"},
    **{"oʊ": "OW", "əʊ": "OW", "o": "OW", "uː": "UW", "u": "UW", "y": "UW", "ʊ": "UH"},
    **{"ʌ": "AH", "ə": "AH", "ɐ": "AH", "ɜː": "ER", "ɜ": "ER", "ɚ": "ER", "ɝ": "ER"},
    **{"ɜːɹ": "ER", "ɚɹ": "ER", "əɹ": "ER"},
    **{"aɪ": "AY", "aʊ": "AW", "ɔɪ": "OY", "iə": "IY AH", "ʊə": "UH AH", "eə": "EH AH"},
    **{"aɪə": "AY AH", "aɪɚ": "AY ER", "aʊə": "AW AH", "aʊɚ": "AW ER"},
    **{"ɑːɹ": "AA R", "ɔːɹ": "AO R", "oːɹ": "AO R", "ɛɹ": "EH R", "ɪɹ": "IH R", "ʊɹ": "UH R"},
    **{"n̩": "AH N", "l̩": "AH L", "m̩": "AH M"},
}
_CONSONANTS = {
    **{letter: letter.upper() for letter in "pbtdkfvszmnlw"},
    **{"h": "HH", "ɡ": "G", "g": "G", "θ": "TH", "ð": "DH", "ʃ": "SH", "ʒ": "ZH", "ŋ": "NG"},
    **{
        "ɹ": "R",
        "r": "R",
        "j": "Y",
        "tʃ": "CH",
        "dʒ": "JH",
        "ɾ": "T",
        "ʔ": "T",
        "x": "K",
        "ç": "HH",
    },
    **{"ɬ": "L", "ɫ": "L", "ʍ": "W", "ɲ": "N Y", "β": "B", "ɣ": "G"},
}
IPA = _VOWELS | _CONSONANTS
"""IPA signs to one or two ARPAbet sounds."""

_LONGEST = max(map(len, IPA))
_MARKS = frozenset("ˈˌ.|‖ _-̪̃ʲ‿͡ː'̩")
"""Stress, borders and fine marks, which the dictionary's sounds do not tell apart."""


def arpabet(ipa: str) -> tuple[str, ...] | None:
    """Give the sounds of an IPA text; None when a sign of it is not known.

    >>> arpabet("ˈænjʊləs"), arpabet("ɡˈɪɹbɑːks")
    (('AE', 'N', 'Y', 'UH', 'L', 'AH', 'S'), ('G', 'IH', 'R', 'B', 'AA', 'K', 'S'))
    """
    sounds: list[str] = []
    plain = "".join(sign for sign in ipa if sign not in "ˈˌ_")
    at = 0
    while at < len(plain):
        for length in range(_LONGEST, 0, -1):
            sound = IPA.get(plain[at : at + length])
            if sound is not None:
                sounds += sound.split()
                at += length
                break
        else:
            if plain[at] not in _MARKS:
                return None
            at += 1
    return tuple(sounds)
