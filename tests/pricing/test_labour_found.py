"""Labour that findings bring."""

from decimal import Decimal
from pathlib import Path

from benchvoice.pricing.labour_found import labour_found
from benchvoice.quoting.quote import Adder
from benchvoice.remark import Finding, Remark
from benchvoice.session import Entry, Header, Session

SEIZED = Adder(
    step="front",
    title="Front cover off",
    condition="seized bolt",
    minutes=40.0,
    low=25.0,
    high=60.0,
    found=2,
    timed=8,
)


def said(seq: int, step: str, *findings: Finding, struck: bool = False) -> Entry:
    return Entry(
        seq=seq,
        sitting=1,
        t=60.0 * seq,
        wall="2026-03-02T08:00:00+00:00",
        kind="finding",
        remark=Remark(heard=f"said {seq}", kind="remark", findings=findings),
        step=step,
        clip=f"clips/{seq:04d}.flac",
        findings=findings,
        struck=struck,
    )


def session(*entries: Entry) -> Session:
    return Session(folder=Path("job"), header=Header(), entries=entries)


def test_what_the_quote_allowed_for_already_is_not_charged_again() -> None:
    """Found in 2 of 8, a quarter of the 40 minutes is in the quote: 30 are left, by hand."""
    bolt = Finding(part="bolt", count=3, condition="seized")
    (one,) = labour_found(session(said(4, "front", bolt), said(5, "front", bolt)), [SEIZED])
    assert (one.minutes, one.entry, one.clip) == (Decimal("30.0"), 4, "clips/0004.flac")


def test_only_what_stands_on_that_step_brings_labour() -> None:
    bolt = Finding(part="bolt", condition="seized")
    nut = Finding(part="nut", condition="seized")
    elsewhere = said(1, "pump", bolt)
    assert not labour_found(session(elsewhere, said(2, "front", nut)), [SEIZED])
    assert not labour_found(session(said(3, "front", bolt, struck=True)), [SEIZED])


def test_a_finding_of_another_step_in_the_same_remark_counts_there() -> None:
    bolt = Finding(part="bolt", condition="seized", own_step="front")
    assert len(labour_found(session(said(1, "pump", bolt)), [SEIZED])) == 1
