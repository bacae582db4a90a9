"""Findings in words."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from benchvoice.follow import finding_text
from benchvoice.follow.wording import ordinal_text
from benchvoice.remark import Finding, remark_from_json

REMARKS = Path(__file__).parents[1] / "remarks"


@given(st.integers(1, 500))
def test_ordinals_agree_with_num2words(number: int) -> None:
    assert ordinal_text(number) == num2words(number, to="ordinal_num")


def wanted() -> list[Finding]:
    """All findings that the evaluation remarks call for."""
    found = []
    for path in sorted(REMARKS.glob("*.toml")):
        for remark in tomllib.loads(path.read_text("utf-8")).get("remark", []):
            for finding in remark.get("find", []):
                found += remark_from_json({"heard": "", "findings": [finding]}).findings
    return found


def test_every_part_of_a_finding_is_in_its_words() -> None:
    findings = wanted()
    assert len(findings) > 100
    for finding in findings:
        text = finding_text(finding)
        assert "\n" not in text
        said = [finding.place, *finding.conditions, finding.container, finding.orientation]
        if finding.count in (None, 1):
            said.append(finding.part)
        for piece in said:
            assert not piece or piece in text, text
        if finding.count is not None and finding.ordinal is None and finding.part:
            assert str(finding.count) in text


@pytest.mark.parametrize(
    ("finding", "text"),
    [
        (
            Finding(
                part="bolt", count=8, place="front cover", action="removed", container="tray 4"
            ),
            "8 bolts, front cover, removed -> tray 4",
        ),
        (Finding(part="plate", ordinal=2, condition="warped"), "2nd plate, warped"),
        (Finding(place="case", condition="not cracked"), "case, not cracked"),
        (Finding(), "nothing"),
    ],
)
def test_wording(finding: Finding, text: str) -> None:
    assert finding_text(finding) == text
