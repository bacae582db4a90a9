"""Weights learned by tests/benchmarks/step_weights.py, in several runs each begun from the last.

The last of START is its prior, set by hand.
"""

from __future__ import annotations

from benchvoice.follow.tendency import Tendency

EVIDENCE = {
    "hardware_worked": 5.1,
    "hardware_state": 6.14,
    "hardware_bare": 6.54,
    "hardware_named_whole": 1.59,
    "hardware_other_work": 0.15,
    "count_same": 3.12,
    "count_differs": -0.56,
    "count_beyond": -0.26,
    "size_same": 1.59,
    "size_differs": -0.87,
    "limit_of_part": 0.0,
    "limit": 2.63,
    "measure_no_limit": -2.64,
    "name_own": 1.94,
    "name_own_whole": 1.29,
    "name_said": 1.83,
    "name_said_whole": -0.85,
    "name_akin": 1.53,
    "name_other_work": -0.03,
    "name_implied": 0.63,
    "part_put_back": 2.67,
    "part_to_check": 2.45,
    "place_in_name": 2.62,
    "place_elsewhere": -1.01,
    "part_from_before": 2.63,
    "work_of_stage": 1.31,
    "work_possible": 0.61,
    "work_of_other_stage": -1.92,
    "state_inspect": 1.23,
    "state_strip": -0.72,
    "state_other": -0.51,
    "fate_decide": 2.31,
    "fate_strip_or_inspect": -0.38,
    "fate_other": -1.93,
    "fate_named": 4.84,
}
"""Log odds for a step of each of `evidence.FEATURES`."""

DONE = -0.81
"""Log odds for a step that was declared finished."""

BETWEEN = Tendency(
    onward=(4.05, 2.72, 1.56, 0.86, -2.95, -1.27, -1.13, -1.81, 0.59, -2.13, 0.08, 0.04),
    aside=(0.0, -0.69, -0.97, -2.08, -3.44, 0.77, -0.27, 0.61, -0.29, -1.01, 0.0, -0.12),
    resume=(1.88, 2.01, 1.25, -0.32, -0.6, -0.28, -0.91, -1.28, 0.04, -1.94, 1.1, -0.52),
    other=(0.0, 1.74, -1.16, -0.3, -0.92, -0.13, -1.21, 0.22, -1.43, 0.05, 1.22, -1.38),
    remain=-0.47,
)

TOLD = Tendency(
    onward=(4.02, -0.17, -0.31, -0.14, -2.91, -0.62, -0.05, -0.59, -0.04, -0.63, -0.0, -0.03),
    aside=(0.0, -0.17, -0.33, -0.13, -2.94, -0.7, -0.25, -0.63, 0.01, -0.72, 0.01, 0.02),
    resume=(1.88, 2.01, 1.25, -0.32, -0.6, -0.28, -0.91, -1.28, 0.04, -1.94, 1.1, -0.52),
    other=(0.0, 1.74, -1.16, -0.3, -0.92, -0.13, -1.21, 0.22, -1.43, 0.05, 1.22, -1.38),
    remain=1.69,
)

START = (1.03, -0.0, -1.03, -3.0)
"""Log odds of `tendency.STARTS`."""
