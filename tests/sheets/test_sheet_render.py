"""Sheets as text, HTML, CSV and JSON: nothing said can break out of them."""

from __future__ import annotations

import base64
import csv
import io
import json
import re
from pathlib import Path
from typing import Any, get_args
from urllib.parse import unquote

import html5lib
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from sheet_help import job, pack

from benchvoice.audio import write_clip
from benchvoice.session import Header, Session
from benchvoice.sheets import Sheet, csv_of, embedded, html_of, json_of, linked, sheet_of, text_of
from benchvoice.sheets.head import SheetKind
from benchvoice.sheets.render.html import css_text

KINDS: tuple[SheetKind, ...] = get_args(SheetKind)
HTML = "{http://www.w3.org/1999/xhtml}"
NASTY = (
    """"><script>alert(1)</script><img src=x onerror=alert(2)> </style></title> {{ 7*7 }} &amp;"""
)


def nasty(session: Session) -> Session:
    """The session as if all that is free text had been written by somebody malicious."""
    header = Header(job=NASTY, unit=NASTY, serial=NASTY, who=NASTY, outline="reversing_gearbox")
    entries = tuple(
        replace(
            entry,
            remark=replace(entry.remark, heard=NASTY, unparsed=(NASTY,), confidence=0.1),
            warnings=(NASTY,),
            findings=tuple(
                replace(finding, container=NASTY, condition=NASTY, mark=NASTY, orientation=NASTY)
                for finding in entry.findings
            ),
            clip=NASTY,
        )
        for entry in session.entries
    )
    return replace(session, header=header, entries=entries)


@pytest.fixture(scope="module")
def session(tmp_path_factory: pytest.TempPathFactory) -> Session:
    folder = tmp_path_factory.mktemp("job")
    made = job(
        folder,
        *("start the end cover", "nine bolts off the end cover in bag two", "take a note"),
        *("seen it before", "two piston seals torn replace", "case is cracked machine it"),
        *("blah foo bar", "five tenths end play", "backlash is fourteen thou"),
        *("finish the end cover", "start the covers on", "ten bolts installed in the end cover"),
        header=Header(job="J 7", unit="gearbox", serial="s-1", outline="reversing_gearbox"),
    )
    (folder / "clips").mkdir()
    for entry in made.entries:
        if entry.clip:
            tone = np.sin(np.arange(8000 + 400 * entry.seq) / 8) * 8000
            write_clip(folder / entry.clip, tone.astype(np.int16))
    return made


@pytest.fixture(scope="module", params=KINDS)
def sheet(request: pytest.FixtureRequest, session: Session) -> Sheet:
    return sheet_of(request.param, session, pack())


def parsed(page: str) -> Any:
    """Read a page by the WHATWG HTML standard's own rules; a parse error fails."""
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=True).parse(page)


# -- HTML


def test_the_page_is_valid_and_needs_nothing_from_outside(sheet: Sheet, session: Session) -> None:
    page = html_of(sheet, embedded(session.folder))
    tree = parsed(page)
    names = {element.tag.removeprefix(HTML) for element in tree.iter()}
    assert not names & {"script", "link", "img", "iframe", "object", "form", "input"}
    for element in tree.iter():
        for name, value in element.attrib.items():
            assert not name.lower().startswith("on")
            if name in ("src", "href"):
                assert value.startswith(("data:audio/flac;base64,", "#e"))
    assert "url(" not in page and "@import" not in page


@pytest.mark.parametrize("kind", KINDS)
def test_what_was_said_is_only_ever_text(session: Session, kind: SheetKind) -> None:
    made = sheet_of(kind, nasty(session), pack())
    tree = parsed(html_of(made, embedded(session.folder)))
    names = [element.tag.removeprefix(HTML) for element in tree.iter()]
    assert "script" not in names and "img" not in names
    assert names.count("style") == names.count("title") == 1
    text = "".join(tree.itertext())
    assert NASTY in text  # as it was said: nothing run, nothing lost
    assert "7*7" in text and " 49 " not in text


@given(st.text(max_size=60))
def test_a_css_string_stays_a_string(text: str) -> None:
    # Reference: CSS Syntax Level 3, 4.3.5 and 4.3.7: a string ends at its quote, a newline or a
    # backslash are the only other special ones, and an escape is up to six hexadecimal digits.
    shown = css_text(text)
    assert re.fullmatch(r'"(?:[A-Za-z0-9]|\\[0-9a-f]{6})*"', shown)
    back = re.sub(r"\\([0-9a-f]{6})", lambda found: chr(int(found[1], 16)), shown[1:-1])
    assert back == text


def test_clips_are_the_files_themselves(session: Session) -> None:
    page = html_of(sheet_of("teardown", session, pack()), embedded(session.folder))
    sources = [one.get("src") for one in parsed(page).iter(f"{HTML}audio")]
    files = {path.read_bytes() for path in (session.folder / "clips").iterdir()}
    found = {base64.b64decode(source.partition(",")[2]) for source in sources}
    assert found <= files
    shown = [one for one in session.standing if one.kind in ("finding", "noted", "unclear")]
    assert len(found) >= len(shown)


def test_linked_clips_are_found_from_the_page(session: Session, tmp_path: Path) -> None:
    page = tmp_path / "a folder" / "sheet.html"
    page.parent.mkdir()
    tree = parsed(html_of(sheet_of("teardown", session, pack()), linked(session.folder, page)))
    sources = [one.get("src") for one in tree.iter(f"{HTML}audio")]
    assert sources
    for source in sources:
        assert (page.parent / unquote(source)).is_file()


def test_without_clips_they_are_only_named(session: Session) -> None:
    page = html_of(sheet_of("teardown", session, pack()))
    assert not list(parsed(page).iter(f"{HTML}audio"))
    assert "clips/0002.flac (not on this page)" in page


@pytest.mark.parametrize("clip", ["../secret.flac", "/etc/passwd", "clips/none.flac", "", None])
def test_a_journal_cannot_point_out_of_its_folder(tmp_path: Path, clip: str | None) -> None:
    folder = tmp_path / "job"
    folder.mkdir()
    (tmp_path / "secret.flac").write_bytes(b"secret")
    assert embedded(folder)(clip) is None
    assert linked(folder, tmp_path / "x.html")(clip) is None


def test_every_page_says_what_comes_first_and_whose_it_is(sheet: Sheet) -> None:
    tree = parsed(html_of(sheet))
    text = " ".join("".join(tree.itertext()).split())
    assert "unit maker's manual, local codes and licensed practice come before this sheet" in text
    for field in ("J 7", "s-1", sheet.head.title):
        assert field in text
    assert css_text(" | ".join([sheet.head.title, "job J 7"]))[:-1] in html_of(sheet)


# -- CSV


def read_csv(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def test_csv_is_read_back_by_the_standard_library(sheet: Sheet) -> None:
    text = csv_of(sheet)
    assert text.endswith("\r\n")  # RFC 4180, 2.1
    found = read_csv(text)
    assert found
    for row in found:
        assert None not in row and None not in row.values()  # every row as long as the first
        assert (row["job"], row["unit"], row["serial"]) == ("J 7", "gearbox", "s-1")
        assert row["invented"] == "invented"


@settings(max_examples=60, deadline=None)
@given(
    lead=st.sampled_from(["=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff20"]),
    rest=st.text(st.characters(codec="utf-8"), max_size=20),
)
def test_no_cell_starts_a_formula(session: Session, lead: str, rest: str) -> None:
    # Reference: OWASP, "CSV Injection": a cell must not begin with = + - @, tab, CR, LF or the
    # full-width forms; put ' before it, quote every field, double the quotes.
    said = f"{lead}cmd|' /C calc'!A0;{rest}"
    header = Header(job=said, unit=said)
    made = sheet_of("parts", replace(session, header=header), pack())
    for line in csv.reader(io.StringIO(csv_of(made), newline=""), strict=True):
        for cell in line:
            assert not cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b"))
            assert not cell.startswith("\uff20")
    assert all(row["job"] == f"'{said}" for row in read_csv(csv_of(made)))


def test_every_cell_is_quoted(session: Session) -> None:
    # so that a spreadsheet that splits at ";" cannot find a formula within a cell (OWASP)
    for line in csv_of(sheet_of("hardware", session, pack())).splitlines():
        assert re.fullmatch(r'"(?:[^"]|"")*"(?:,"(?:[^"]|"")*")*', line)


# -- JSON and text


def test_json_is_the_sheet(sheet: Sheet) -> None:
    found = json.loads(json_of(sheet))
    assert found["schema"] == 1
    assert found["head"]["sheet"] == sheet.head.sheet
    assert set(found) == {"schema", *sheet.__struct_fields__}


def test_json_fields_are_a_contract(session: Session) -> None:
    # fields may be added; none of these may go
    lists = {
        "teardown": {"steps", "measures", "containers", "open", "not_understood", "damage"},
        "parts": {"order", "send_out", "decide", "discarded", "undecided"},
        "reassembly": {"before", "steps"},
        "hardware": {"steps", "containers"},
    }
    for kind in KINDS:
        found = json.loads(json_of(sheet_of(kind, session, pack())))
        assert found.keys() >= {"schema", "head"} | lists[kind]


@pytest.mark.parametrize("width", [40, 80, 120])
def test_text_is_ascii_and_fits(sheet: Sheet, width: int) -> None:
    text = text_of(sheet, width)
    assert text.isascii()
    assert max(map(len, text.splitlines())) <= width
    assert "manual" in text and "J 7" in text


@pytest.mark.parametrize("kind", KINDS)
def test_text_of_anything_prints(session: Session, kind: SheetKind) -> None:
    text = text_of(sheet_of(kind, nasty(session), pack()), 60)
    assert text.isascii()
    assert all(char.isprintable() for char in text.replace("\n", ""))


def test_a_box_to_tick_for_each_thing_that_goes_in(session: Session) -> None:
    made = sheet_of("reassembly", session, pack())
    boxes = sum(len(step.fits) + len(step.readings) for step in made.steps)  # type: ignore[union-attr]
    assert text_of(made).count("[ ]") == boxes > 0
    page = parsed(html_of(made))
    spans = [one for one in page.iter(f"{HTML}span") if one.get("class") == "box"]
    assert len(spans) == boxes


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_is_only_in_the_margin_of_the_paper(session: Session, kind: SheetKind) -> None:
    """Not every browser prints page margin boxes: what they say is on the page or in its title."""
    known = replace(session, header=replace(session.header, job="J 7", unit="U 8", serial="S 9"))
    page = html5lib.parse(html_of(sheet_of(kind, known, pack())))
    body = " ".join(page.find(f"{HTML}body").itertext())
    title = page.find(f".//{HTML}title").text
    for said in ("J 7", "U 8", "S 9"):
        assert said in body
        assert said in title
    assert "The unit maker's manual, local codes" in body
    assert "Invented for the demo" in body
