"""The printed page in a real browser: paper, page breaks, sound."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import tomllib
from pathlib import Path

import numpy as np
import pypdf
import pytest
import soundfile
from sheet_help import job, pack

from benchvoice.audio import write_clip
from benchvoice.session import Header, Session
from benchvoice.sheets import embedded, html_of, sheet_of
from benchvoice.sheets.reassembly import ReassemblySheet

pytestmark = pytest.mark.hardware

SCRIPT = Path(__file__).parents[2] / "demo_sessions" / "script.toml"
A4 = (595.0, 842.0)
"""ISO 216: 210 mm x 297 mm, in points of 1/72 inch."""
LETTER = (612.0, 792.0)
"""ANSI Y14.1 size A: 8.5 in x 11 in, in points."""


@pytest.fixture(scope="module")
def session(tmp_path_factory: pytest.TempPathFactory) -> Session:
    folder = tmp_path_factory.mktemp("job")
    said = [remark["say"] for remark in tomllib.loads(SCRIPT.read_text("utf-8"))["remark"]]
    made = job(folder, *said, header=Header(job="J 7", unit="gearbox", serial="s-1"))
    (folder / "clips").mkdir()
    for entry in made.entries[:6]:
        tone = np.sin(np.arange(8000 * entry.seq) / 8) * 8000
        write_clip(folder / (entry.clip or ""), tone.astype(np.int16))
    return made


def chromium(folder: Path, page: str, *options: str) -> str:
    """Open a page in headless Chromium; give what it prints."""
    browser = shutil.which("chromium") or shutil.which("chromium-browser")
    if browser is None:
        pytest.skip("there is no chromium here")
    file = folder / "sheet.html"
    file.write_text(page, encoding="utf-8")
    quiet = ("--disable-quic", "--no-first-run", "--disable-background-networking",
             "--disable-component-update", "--disable-sync", "--disable-extensions")  # fmt: skip
    done = subprocess.run(
        [browser, "--headless", "--no-sandbox", "--disable-gpu", *quiet,
         f"--user-data-dir={folder / 'profile'}", *options, str(file)],
        capture_output=True, text=True, timeout=120, check=True,
        env={**os.environ, "HOME": str(folder)},
    )  # fmt: skip
    return done.stdout


def printed(folder: Path, page: str) -> pypdf.PdfReader:
    chromium(folder, page, "--no-pdf-header-footer", f"--print-to-pdf={folder / 'sheet.pdf'}")
    return pypdf.PdfReader(folder / "sheet.pdf")


def flat(text: str) -> str:
    """Text without what a printer's font changes: spaces, and letters drawn as one."""
    for joined, letters in (
        ("\ufb00", "ff"),
        ("\ufb01", "fi"),
        ("\ufb02", "fl"),
        ("\ufb03", "ffi"),
    ):
        text = text.replace(joined, letters)
    return re.sub(r"\s+", "", text)


@pytest.mark.parametrize(("size", "points"), [("letter", LETTER), ("A4", A4)])
def test_the_reassembly_sheet_prints_whole_steps(
    tmp_path: Path, session: Session, size: str, points: tuple[float, float]
) -> None:
    made = sheet_of("reassembly", session, pack())
    assert isinstance(made, ReassemblySheet)
    page = html_of(made).replace("@page { margin", f"@page {{ size: {size}; margin")
    reader = printed(tmp_path, page)
    pages = [flat(one.extract_text()) for one in reader.pages]
    assert [float(side) for side in reader.pages[0].mediabox[2:]] == pytest.approx(points, abs=1)
    assert 4 <= len(pages) <= 16
    for number, text in enumerate(pages, start=1):
        assert f"{number}of{len(pages)}" in text
        assert "Reassemblysheet|jobJ7|unitgearbox|serials-1|INVENTEDDEMODATA" in text
        assert "manualandlocalcodescomebeforethissheet" in text
    short = 0
    for number, step in enumerate(made.steps, start=1):
        (start,) = [at for at, text in enumerate(pages) if f"{number}{flat(step.title)}" in text]
        if not step.fits or len(step.fits) > 8:
            continue
        short += 1
        for fit in step.fits:  # a step that fits on a page is on one page, cautions and all
            assert flat(fit.what) in pages[start]
        for caution in step.cautions:
            assert flat(caution) in pages[start]
    assert short >= 4


def test_clips_play_under_the_pages_own_rules(tmp_path: Path, session: Session) -> None:
    page = html_of(sheet_of("teardown", session, pack()), embedded(session.folder))
    assert "default-src 'none'" in page  # as it is: no script could run
    ask = """<script>for (const one of document.querySelectorAll("audio")) {
      const tell = () => one.setAttribute("data-seconds", one.duration || String(one.error));
      one.addEventListener("loadedmetadata", tell); one.addEventListener("error", tell);
      if (one.readyState > 0) tell(); }</script></body>"""
    asked = page.replace("default-src 'none'", "default-src 'none'; script-src 'unsafe-inline'")
    shown = chromium(tmp_path, asked.replace("</body>", ask), "--dump-dom", "--timeout=4000")
    found = [float(seconds) for seconds in re.findall(r'data-seconds="([^"]*)"', shown)]
    files = [session.folder / (entry.clip or "") for entry in session.entries[:6]]
    lengths = sorted(soundfile.info(file).duration for file in files)
    assert sorted(found) == pytest.approx(lengths, abs=0.05)
