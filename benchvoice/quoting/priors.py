"""What the quote assumes before it has seen a session, in natural-log minutes.

All spreads are standard deviations of log minutes: 0.3 is about a third more
or a quarter less.  The numbers are sensible guesses, no source; they are weak,
so that three to five sessions outweigh them.
"""

from __future__ import annotations

from dataclasses import dataclass

HALF_T_DF = 5.0
"""Degrees of freedom of the half-Student-t priors of the spreads."""


@dataclass(frozen=True)
class Prior:
    """Prior scales; each `*_spread` is the scale of a half-Student-t (5 df) prior.

    Half-t priors of group spreads: Gelman 2006, "Prior distributions for
    variance parameters in hierarchical models", Bayesian Analysis 1(3).
    """

    book_offset: float = 0.5
    """Sd of how much slower or faster than book the shop is, over all steps."""
    book_spread: float = 0.35
    """How far single steps are from book after that."""
    free_offset: float = 0.7
    """Sd of the typical length of a step without book minutes."""
    free_spread: float = 0.7
    """How far steps without book minutes differ from each other."""
    session_spread: float = 0.28
    """Unit condition and technician: shared by all steps of a session."""
    stage_spread: float = 0.12
    """Shared by the steps of one stage of a session, on top of that."""
    residual_spread: float = 0.3
    """What is left of one step in one session."""
    steadiness: float = 0.6
    """Sd of the log of a factor of all three scales above: a steady shop is steady in all."""
    adder_spread: float = 0.2
    """What a condition found adds to its step (or takes off)."""
    who_spread: float = 0.15
    """How far technicians differ."""
    learning: float = 0.06
    """Sd of what each doubling of the repeats changes; 0.06 is a learning curve of 94% or 106%."""
    free_minutes: float = 10.0
    """Typical step when there are neither book minutes nor sessions."""
    residual_df: tuple[float, ...] = (3.0, 5.0, 8.0, 15.0, 60.0)
    """Candidates for the Student-t residual's degrees of freedom, equally likely."""
    shape_worth: float = 25.0
    """The Student-t shape of the residual counts as much as so many timings; see `luck.deal`."""
    evenness: tuple[float, ...] = (5.0, 10.0, 20.0, 60.0)
    """Candidates for how alike the steps' residual spreads are (inverse-gamma df)."""


DEFAULT = Prior()
