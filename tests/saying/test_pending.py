from __future__ import annotations

from benchvoice.saying import Line, Pending, Urgency


def line(text: str, urgency: Urgency) -> Line:
    return Line(text, urgency)


def test_harm_and_money_first_then_in_the_order_they_came() -> None:
    pending = Pending()
    for text, urgency in (
        ("an entry", Urgency.ENTRY),
        ("nine of ten", Urgency.WARNING),
        ("an answer", Urgency.ANSWER),
        ("hot oil", Urgency.CAUTION),
        ("seven of eight", Urgency.WARNING),
    ):
        pending.put(line(text, urgency), 0.0)
    said = [found.text for _ in range(5) if (found := pending.take(1.0))]
    assert said == ["hot oil", "nine of ten", "seven of eight", "an answer", "an entry"]
    assert pending.take(1.0) is None


def test_what_is_stale_is_not_said_and_the_pressing_lasts_longer() -> None:
    pending = Pending()
    pending.put(line("an entry", Urgency.ENTRY), 0.0)
    pending.put(line("nine of ten", Urgency.WARNING), 0.0)
    assert pending.take(20.0) == line("nine of ten", Urgency.WARNING)
    assert pending.take(20.0) is None


def test_a_newer_question_or_entry_takes_the_place_of_an_older() -> None:
    pending = Pending()
    pending.put(line("nine bolts, right?", Urgency.QUESTION), 0.0)
    pending.put(line("ten bolts, right?", Urgency.QUESTION), 1.0)
    pending.put(line("nine of ten", Urgency.WARNING), 1.0)
    pending.put(line("nine of ten", Urgency.WARNING), 1.0)
    assert len(pending) == 2
    pending.clear()
    assert len(pending) == 0
