"""The choice of the engine, and the report of what this machine has."""

from pathlib import Path

import pytest

from benchvoice.audio import MicrophoneInfo
from benchvoice.errors import AudioError, EngineError
from benchvoice.hearing import choice, engine_report, general_model, open_engine

SENTENCES = [(("one", "seal", "cracked"), 1.0), (("next", "step"), 1.0)]


def no_model(given: Path | None = None) -> Path | None:
    return given


def test_auto_is_pocketsphinx_where_there_is_no_vosk_model(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(choice, "find_model", no_model)
    engine = open_engine("auto", SENTENCES, {}, cache_dir=tmp_path)
    assert engine.name.startswith("PocketSphinx")
    assert list(tmp_path.glob("*.arpa"))


def test_vosk_without_a_model_says_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(choice, "find_model", no_model)
    with pytest.raises(EngineError, match=r"no Vosk model.*BENCHVOICE_VOSK_MODEL.*pocketsphinx"):
        open_engine("vosk", SENTENCES, {})


def test_the_report_of_a_machine_with_everything() -> None:
    headset = MicrophoneInfo(3, "headset", 1, 48000.0, default=True)
    found = engine_report(
        which=lambda program: f"/usr/bin/{program}",
        microphones=lambda: (headset,),
        model=lambda: Path("/models/vosk-model-small-en-us-0.15"),
    )
    by_name = {check.what: check for check in found}
    assert by_name["Vosk model"].present
    assert by_name["microphone"].detail == "3 headset"
    assert by_name["espeak-ng voice"].present
    assert by_name["PocketSphinx model"].present
    assert len(by_name) == len(found)


def test_the_report_of_a_machine_with_nothing_says_how_to_mend_it() -> None:
    def no_portaudio() -> tuple[MicrophoneInfo, ...]:
        raise AudioError("PortAudio library is not installed", mend="install libportaudio2")

    def bad_model() -> Path | None:
        raise EngineError("the Vosk model is not a model folder", file="/nowhere")

    found = engine_report(which=lambda program: None, microphones=no_portaudio, model=bad_model)
    by_name = {check.what: check for check in found}
    for name in ("PortAudio", "microphone", "Vosk model", "espeak-ng voice", "flite voice"):
        assert not by_name[name].present
        assert by_name[name].mend
    assert "libportaudio2" in by_name["PortAudio"].mend


@pytest.mark.parametrize(
    ("version", "used"), [("1.27.0", True), ("1.28.0", False), ("1.32", False)]
)
def test_no_second_opinion_is_had_from_what_reports_its_use(
    monkeypatch: pytest.MonkeyPatch, version: str, used: bool
) -> None:
    monkeypatch.setattr(general_model.metadata, "version", lambda name: version)
    assert general_model.reports_its_use() is not used
    found = {check.what: check for check in engine_report(microphones=lambda: ())}
    if not used:
        assert not found["second opinion"].present
        assert "over the network" in found["second opinion"].detail
