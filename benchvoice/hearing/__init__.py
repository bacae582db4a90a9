"""Speech engines behind one protocol: an utterance's samples in, the best guesses out."""

from benchvoice.hearing.choice import EngineChoice, open_engine
from benchvoice.hearing.engine import (
    MAX_HYPOTHESES,
    Clues,
    Engine,
    Heard,
    Hypothesis,
    ScriptedEngine,
    best_first,
    plain_text,
)
from benchvoice.hearing.ngram import TrigramModel, estimate_trigrams, write_arpa
from benchvoice.hearing.pocketsphinx_engine import PocketSphinxEngine, build_pocketsphinx
from benchvoice.hearing.pronounce import Pronounced, pronounce
from benchvoice.hearing.report import Check, engine_report
from benchvoice.hearing.vosk_engine import VoskEngine, build_vosk
from benchvoice.hearing.vosk_model import fetch_model, find_model

__all__ = [
    "MAX_HYPOTHESES",
    "Check",
    "Clues",
    "Engine",
    "EngineChoice",
    "Heard",
    "Hypothesis",
    "PocketSphinxEngine",
    "Pronounced",
    "ScriptedEngine",
    "TrigramModel",
    "VoskEngine",
    "best_first",
    "build_pocketsphinx",
    "build_vosk",
    "engine_report",
    "estimate_trigrams",
    "fetch_model",
    "find_model",
    "open_engine",
    "plain_text",
    "pronounce",
    "write_arpa",
]
