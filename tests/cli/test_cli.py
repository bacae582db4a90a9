"""The commands as they are called: exit codes, JSON fields, one clear line for bad input."""

from __future__ import annotations

import io
import json
import sys
from errno import EACCES, EIO, ENOSPC
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile

from benchvoice.cli import main
from benchvoice.session import read_session

ROOT = Path(__file__).parents[2]
HISTORY = ROOT / "demo_sessions" / "history"
RECORDINGS = Path(__file__).parents[1] / "recordings"
REMARK_FIELDS = {"heard", "confidence", "kind", "command", "step", "findings", "unparsed"}
FINDING_FIELDS = {
    *("part", "count", "size", "place", "condition", "action", "disposition", "container"),
    "measure",
}


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, engine_cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep the user's cache, data and words out of the tests."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(engine_cache))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("BENCHVOICE_HOME", str(tmp_path / "home"))


@pytest.mark.parametrize(
    ("error", "code", "said"),
    [
        (KeyboardInterrupt(), 130, "stopped"),
        (OSError(ENOSPC, "full"), 2, "the output: cannot be used (full); check the path"),
        (PermissionError(EACCES, "closed", "a/b"), 2, "a/b: cannot be used (closed); check"),
        (OSError(EIO, "broken"), 1, "a fault of benchvoice itself: OSError"),
    ],
)
def test_what_stops_a_command_is_told_in_one_line(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    error: BaseException,
    code: int,
    said: str,
) -> None:
    """Also while it is only being imported, which takes a while."""

    def stopped(name: str) -> None:
        raise error

    monkeypatch.setattr("benchvoice.cli.arguments.import_module", stopped)
    got, out, err = run(capsys, "show", "job")
    assert (got, out, err.count("\n")) == (code, "", 1)
    assert said in err


def run(capsys: pytest.CaptureFixture[str], *argv: str | Path) -> tuple[int, str, str]:
    code = main([str(word) for word in argv])
    out, err = capsys.readouterr()
    return code, out, err


def lines(out: str) -> list[dict[str, Any]]:
    return [json.loads(line) for line in out.splitlines()]


def test_parse_gives_one_object_per_text(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "parse", "eight bolts off front one seal cracked", "next step")
    remark, command = lines(out)
    assert code == 0
    assert remark.keys() >= REMARK_FIELDS
    assert all(finding.keys() >= FINDING_FIELDS for finding in remark["findings"])
    bolts, seal = remark["findings"]
    assert (bolts["part"], bolts["count"], bolts["action"], bolts["place"]) == (
        *("bolt", 8, "removed", "front"),
    )
    assert (seal["part"], seal["count"], seal["condition"]) == ("seal", 1, "cracked")
    assert (command["kind"], command["command"], command["confidence"]) == ("command", "next", None)


def test_parse_reads_lines_and_knows_the_outline(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("ten bolts off the end cover\n\nbanana phone\n"))
    code, out, _ = run(capsys, "parse", "--outline", "reversing_gearbox")
    found, unclear = lines(out)
    assert code == 0
    assert found["step"]["id"] == "end_cover"
    assert 0 <= found["step"]["score"] <= 100
    assert (unclear["kind"], unclear["findings"]) == ("unclear", [])


def test_hear_adds_file_and_times(capsys: pytest.CaptureFixture[str]) -> None:
    audio = RECORDINGS / "bench_piper.flac"
    script = json.loads((RECORDINGS / "script.json").read_text(encoding="utf-8"))["bench_piper"]
    code, out, _ = run(capsys, "hear", audio, "--engine", "pocketsphinx", "--json")
    found = lines(out)
    assert code == 0
    assert len(found) == len(script)
    for one, truth in zip(found, script, strict=True):
        assert one.keys() >= REMARK_FIELDS | {"file", "start", "end"}
        assert one["file"] == str(audio)
        assert one["start"] == pytest.approx(truth["start"], abs=0.5)
        assert one["end"] == pytest.approx(truth["end"], abs=0.6)
    assert sum(o["heard"] == t["text"] for o, t in zip(found, script, strict=True)) >= 6


def test_replay_then_show_then_quote(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    session = tmp_path / "job"
    audio = RECORDINGS / "bench_piper.flac"
    code, out, err = run(
        capsys,
        *("replay", audio, "--outline", "reversing_gearbox", "--session", session),
        *("--engine", "pocketsphinx", "--job", "J-7", "--json"),
    )
    events = lines(out)
    assert (code, err) == (0, "")
    assert events
    assert all(event["remark"].keys() >= REMARK_FIELDS for event in events)
    assert all((session / event["clip"]).is_file() for event in events)
    first = json.loads((session / "session.jsonl").read_text(encoding="utf-8").splitlines()[0])
    assert first["schema"] == 2

    code, out, _ = run(capsys, "show", session)
    assert code == 0
    assert "J-7" in out

    code, out, _ = run(capsys, "quote", "--outline", "reversing_gearbox", session, "--json")
    assert code == 0
    assert json.loads(out)["sessions"] <= 1


def test_quote_json_is_as_published(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(
        capsys, "quote", "--outline", "reversing_gearbox", HISTORY, "--rate", "95", "--json"
    )
    quote = json.loads(out)
    assert code == 0
    assert quote.keys() >= {"outline", "sessions", "unit", "steps", "total", "price"}
    assert (quote["outline"], quote["sessions"], quote["unit"]) == ("reversing_gearbox", 12, "min")
    for step in quote["steps"]:
        assert step.keys() == {"id", "n", "p50", "p80", "p90"}
        assert 0 < step["p50"] <= step["p80"] <= step["p90"]
    total = quote["total"]
    assert total["p50"] < total["p80"] < total["p90"] < sum(s["p90"] for s in quote["steps"])
    assert quote["price"]["p50"] == pytest.approx(total["p50"] / 60 * 95, abs=0.01)


def test_quote_without_sessions_rests_on_the_book(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "quote", "--outline", "worm_reducer", "--json")
    assert code == 0
    assert json.loads(out)["price"] is None
    assert {step["n"] for step in json.loads(out)["steps"]} == {0}


def test_talk_by_keyboard_needs_no_audio(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setitem(sys.modules, "sounddevice", None)
    monkeypatch.setattr(sys, "stdin", io.StringIO("nine bolts off the end cover\nmake it ten\n"))
    session = tmp_path / "job"
    code, out, _ = run(
        capsys, "talk", "--keyboard", "--outline", "reversing_gearbox", "--session", session
    )
    assert code == 0
    assert "! end cover: 10 bolts expected, 9 said" in out
    assert "Now 10 bolts" in out
    _, out, _ = run(capsys, "show", session)
    assert "10 bolts, end cover" in out
    assert "Counts that do not add up" not in out


@pytest.mark.parametrize("leave", ["quit", "Quit", " EXIT "])
def test_leaving_is_said_with_capitals_too(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path, leave: str
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO(f"{leave}\nnine bolts off the end cover\n"))
    run(capsys, "talk", "--keyboard", "--session", tmp_path / "job")
    assert read_session(tmp_path / "job").entries == ()


def test_a_job_taken_up_again_has_its_outline_and_cautions(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Common practice, no source: what was dangerous yesterday is so today."""
    talk = ("talk", "--keyboard", "--session", tmp_path / "job")
    monkeypatch.setattr(sys, "stdin", io.StringIO("start the forward piston\n"))
    run(capsys, *talk, "--outline", "reversing_gearbox")
    monkeypatch.setattr(sys, "stdin", io.StringIO("eleven return springs out\n"))
    code, out, _ = run(capsys, *talk)
    assert code == 0
    assert "Taken up again, at: Forward clutch piston out." in out
    assert out.index("CAUTION Springs under high load") < out.index("12 return springs expected")
    code, _, err = run(capsys, *talk, "--outline", "worm_reducer")
    assert code == 2
    assert "is of the outline reversing_gearbox" in err


def test_check_names_what_mends_a_lack(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "check", "--json")
    found = {line["what"]: line for line in lines(out)}
    assert code == 0
    assert found["PocketSphinx model"]["present"] is True
    assert all(line["mend"] for line in found.values() if not line["present"])


def test_several_jobs_side_by_side_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "show", HISTORY)
    assert code == 0
    assert sum("invented" in line or " * " in line for line in out.splitlines()) >= 12


@pytest.mark.parametrize(
    ("argv", "wanted"),
    [
        (("hear", "no.wav"), "no.wav"),
        (("parse", "x", "--outline", "no_such"), "no_such: no such outline; give a path or one of"),
        (("show", "nowhere"), "nowhere"),
        (("quote", "--outline", "worm_reducer", "nowhere"), "nowhere"),
        (("quote", "--outline", "worm_reducer", "--rate", "-5"), "rate"),
        (
            ("hear", str(RECORDINGS / "bench_piper.flac"), "--engine", "vosk", "--model", "none"),
            "none",
        ),
    ],
)
def test_bad_input_is_one_clear_line_and_code_2(
    capsys: pytest.CaptureFixture[str], argv: tuple[str, ...], wanted: str
) -> None:
    code, out, err = run(capsys, *argv)
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 1
    assert wanted in err
    assert "; " in err  # what is wrong; how to mend it


def test_an_outline_mistake_names_file_line_and_mend(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "own.toml"
    path.write_text(
        'name = "own"\ntitle = "Own"\nunit = "pump"\n\n[[stage]]\nid = "strip"\n'
        'title = "Strip"\nkind = "strip"\n\n[[stage.step]]\nid = "cover"\ntitle = "Cover"\n'
        "minuts = 5\n",
        encoding="utf-8",
    )
    code, _, err = run(capsys, "parse", "x", "--outline", path)
    assert code == 2
    assert f'{path}:13: "minuts" is not a known entry here; check its spelling' in err


def test_wrong_arguments_are_code_2(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["replay"])
    assert ended.value.code == 2
    capsys.readouterr()


def test_our_own_failure_is_code_1(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("benchvoice.cli.commands.parse.load_pack", lambda *files: 1 / 0)
    code, _, err = run(capsys, "parse", "eight bolts")
    assert code == 1
    assert "ZeroDivisionError" in err
    assert len(err.splitlines()) == 1


def test_silence_is_no_remark(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "silence.wav"
    soundfile.write(path, np.zeros(16_000, dtype=np.int16), 16_000)
    code, out, _ = run(capsys, "hear", path, "--engine", "pocketsphinx", "--json")
    assert (code, out) == (0, "")


def test_words_of_the_users_own_are_added_understood_listed_and_removed(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("benchvoice.cli.commands.words.find_guesser", lambda: None)
    code, out, _ = run(capsys, "words", "add", "trunnion nut", "--kind", "fastener")
    assert code == 2
    code, out, _ = run(capsys, "words", "add", "trunnion", "--sounds", "T R AH N Y AH N")
    assert code == 0
    assert "trunnion sounds T R AH N Y AH N (as you gave it)" in out
    assert run(capsys, "words", "add", "trunnion nut", "--kind", "fastener")[0] == 0
    _, out, _ = run(capsys, "parse", "two trunnion nuts off the front cover")
    (finding,) = lines(out)[0]["findings"]
    assert (finding["part"], finding["count"]) == ("trunnion nut", 2)
    _, out, _ = run(capsys, "words", "list")
    assert "trunnion nut" in out
    assert run(capsys, "words", "remove", "trunnion nut")[0] == 0
    assert run(capsys, "words", "remove", "trunnion nut")[0] == 2


def test_the_hint_names_the_word_that_was_guessed_and_works(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(
        "benchvoice.cli.commands.words.find_guesser", lambda: lambda word: ("T R AH N Y AH N",)
    )
    code, out, _ = run(capsys, "words", "add", "trunnion nut", "--kind", "fastener")
    assert code == 0
    (hint,) = (line for line in out.splitlines() if "wrong?" in line)
    assert hint.strip() == ('wrong? benchvoice words add "trunnion" --sounds "..." puts it right')
    given = ("words", "add", "trunnion", "--sounds", "T R AH N IY AH N")
    assert run(capsys, *given)[0] == 0


@pytest.mark.parametrize(
    ("options", "error"),
    [
        (("--attention", "bolt"), "is a word that remarks have in them"),
        (("--attention", "x7"), "cannot be spoken as it is written"),
        (("--hold", "shift"), "is not a key that can be held"),
        (("--pause", "9"), "is no usable pause"),
    ],
)
def test_ways_to_talk_that_cannot_be_are_refused(
    options: tuple[str, str], error: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code, _, err = run(capsys, "talk", "--keyboard", "--outline", "worm_reducer", *options)
    assert code == 2
    assert error in err
    assert len(err.splitlines()) == 1
