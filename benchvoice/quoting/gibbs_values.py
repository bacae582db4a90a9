"""What the sampler sees, and where its chains stand; shapes as in `gibbs.py`."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Indices = NDArray[np.int64]


@dataclass(frozen=True)
class Table:
    """Log minutes with gaps, and all that is known beside them."""

    y: Array
    """(S, K) log minutes, 0 where not timed."""
    seen: Array
    """(S, K) 1 where timed, else 0."""
    offset: Array
    """(K,) log book minutes, or the typical log minutes for steps without."""
    kind: Array
    """(K, 2) one-hot: with book minutes, without."""
    stage: Array
    """(K, G) one-hot stage of each step."""
    weigh: Array
    """(S,) how much each session's timings count, above 0 up to 1."""
    who: Array
    """(S, T) one-hot technician; T is 0 when they cannot be told apart, a row 0 when unknown."""
    repeat: Array
    """(S,) log2 of which repeat it was, less the average of that; all 0 when unknown."""
    found: Array
    """(P, S, K) 1 where the step's condition in that slot was found."""


@dataclass
class State:
    """Current values of the chains; see the model for the names."""

    level: Array
    """(C, 2) common offset of each kind of step."""
    mean: Array
    """(C, K) m_k."""
    session: Array
    """(C, S) u_s."""
    stage: Array
    """(C, S, G) v_sg."""
    weight: Array
    """(C, S, K) scale-mixture weights of the Student-t residual, 0 where not timed."""
    adder: Array
    """(C, P, K) a_ck, of the condition c in each slot."""
    who: Array
    """(C, T) t_w."""
    learning: Array
    """(C,) l, log minutes for each doubling of the repeats."""
    level_var: Array
    """(C, 2) variance of the step means around offset + level."""
    session_var: Array
    """(C,)."""
    stage_var: Array
    """(C,), all 0 when the outline has one stage only."""
    adder_var: Array
    """(C,)."""
    who_var: Array
    """(C,)."""
    residual_var: Array
    """(C,) common residual variance."""
    uneven: Array
    """(C, K) the step's residual variance over the common one."""
    steadiness: Array
    """(C,) common factor of the scales of the session, stage and residual spreads."""
    df: Indices
    """(C,) index into `Prior.residual_df`."""
    evenness: Indices
    """(C,) index into `Prior.evenness`."""
