"""`benchvoice sheet` and `benchvoice outline` as they are called."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import html5lib
import pytest
from sheet_help import job

from benchvoice.cli import main
from benchvoice.grammar import load_outline
from benchvoice.session import Header

HISTORY = Path(__file__).parents[2] / "demo_sessions" / "history"


def run(capsys: pytest.CaptureFixture[str], *argv: str | Path) -> tuple[int, str, str]:
    code = main([str(word) for word in argv])
    out, err = capsys.readouterr()
    return code, out, err


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    header = Header(job="J 1", outline="reversing_gearbox")
    job(tmp_path / "job", "start the end cover", "nine bolts off the end cover", header=header)
    return tmp_path / "job"


@pytest.mark.parametrize("kind", ["teardown", "parts", "reassembly", "hardware"])
def test_each_kind_in_each_format(
    capsys: pytest.CaptureFixture[str], folder: Path, tmp_path: Path, kind: str
) -> None:
    code, out, _ = run(capsys, "sheet", folder, "--kind", kind)
    assert code == 0
    assert "J 1" in out
    files = {name: tmp_path / f"sheet.{name}" for name in ("html", "csv", "json")}
    for file in files.values():  # the ending tells the format
        code, out, err = run(capsys, "sheet", folder, "--kind", kind, "--out", file)
        assert (code, out) == (0, "")
        assert str(file) in err
    html5lib.HTMLParser(strict=True).parse(files["html"].read_text("utf-8"))
    assert json.loads(files["json"].read_text("utf-8"))["head"]["sheet"] == kind
    with files["csv"].open(encoding="utf-8-sig", newline="") as file:
        assert next(csv.reader(file))[:4] == ["job", "unit", "serial", "invented"]
    code, out, _ = run(capsys, "sheet", folder, "--kind", kind, "--format", "json")
    assert json.loads(out)["head"]["job"] == "J 1"


def test_a_sheet_never_writes_over_the_session(
    capsys: pytest.CaptureFixture[str], folder: Path, tmp_path: Path
) -> None:
    journal = folder / "session.jsonl"
    before = journal.read_bytes()
    for out in (journal, folder / "clips" / "0001.flac", tmp_path / "no" / "such" / "x.html"):
        code, _, err = run(capsys, "sheet", folder, "--kind", "parts", "--out", out)
        assert code == 2
        assert err.count("\n") == 1
    assert journal.read_bytes() == before


def test_bad_calls_are_one_line(capsys: pytest.CaptureFixture[str], folder: Path) -> None:
    code, _, err = run(capsys, "sheet", folder, "--kind", "parts", "--link-clips")
    assert (code, err.count("\n")) == (2, 1)
    code, _, err = run(capsys, "sheet", folder / "none", "--kind", "parts")
    assert (code, err.count("\n")) == (2, 1)


def test_an_outline_that_is_gone_is_told_of_and_can_be_given(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    header = Header(outline="gone.toml")
    job(tmp_path / "job", "start the end cover", "nine bolts off the end cover", header=header)
    _, out, _ = run(capsys, "sheet", tmp_path / "job", "--kind", "teardown")
    assert "The outline gone.toml was not found" in out
    _, out, _ = run(
        capsys,
        *("sheet", tmp_path / "job", "--kind", "teardown", "--outline", "reversing_gearbox"),
    )
    assert "10 expected" in out


def test_a_free_session_is_talked_drafted_and_talked_along(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import io
    import sys

    said = "start the front cover\neight bolts off in tray one\nfinish this step\n"
    monkeypatch.setattr(sys, "stdin", io.StringIO(said))
    code, out, _ = run(capsys, "talk", "--keyboard", "--plain", "--session", tmp_path / "one")
    assert code == 0
    assert "started: front cover" in out
    made = tmp_path / "my_pump.toml"
    code, out, _ = run(capsys, "outline", "draft", tmp_path / "one", "--out", made)
    assert code == 0
    assert run(capsys, "outline", "check", made)[0] == 0
    assert [step.id for step in load_outline(made).steps()] == ["front_cover"]
    code, _, err = run(capsys, "outline", "draft", tmp_path / "one", "--out", made)
    assert code == 2  # it may have been worked on by hand
    assert "is there already" in err
    monkeypatch.setattr(sys, "stdin", io.StringIO("start the front cover\nseven bolts off\n"))
    argv = ("talk", "--keyboard", "--plain", "--outline", made, "--session", tmp_path / "two")
    code, out, _ = run(capsys, *argv)
    assert code == 0
    assert "8 bolts expected, 7 said" in out


def test_outline_check_says_all_and_gives_2(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "bad.toml"
    path.write_text('name = "x"\ntitle = 3\nunit = "y"\ncolour = 1\nstage = []\n', "utf-8")
    code, out, _ = run(capsys, "outline", "check", path)
    assert code == 2
    assert [row.partition(": ")[0] for row in out.splitlines()[:2]] == [f"{path}:2", f"{path}:4"]
    assert run(capsys, "outline", "check", "reversing_gearbox")[0] == 0


def test_outline_merge_reports_and_writes(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    out_file = tmp_path / "merged.toml"
    some = [HISTORY / f"invented_{number:02d}" for number in (1, 2, 3)]
    code, out, _ = run(capsys, "outline", "merge", *some, "--out", out_file)
    assert code == 0
    assert out.startswith("3 sessions compared")
    assert run(capsys, "outline", "check", out_file)[0] == 0


def test_sessions_of_two_outlines_are_not_merged(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    for name in ("reversing_gearbox", "worm_reducer"):
        job(tmp_path / name, "drain plug out", header=Header(outline=name))
    code, _, err = run(capsys, "outline", "merge", tmp_path)
    assert code == 2
    assert "different outlines" in err
