"""Weights learned by tests/benchmarks/step_weights.py; do not edit by hand."""

from __future__ import annotations

from benchvoice.follow.tendency import Tendency

EVIDENCE = {
    "hardware_worked": 6.36,
    "hardware_state": 8.37,
    "hardware_bare": 6.31,
    "hardware_named_whole": 1.79,
    "hardware_other_work": 4.3,
    "count_same": 3.49,
    "count_differs": -1.27,
    "count_beyond": -0.27,
    "size_same": 2.71,
    "size_differs": -1.51,
    "limit_of_part": 0.01,
    "limit": 3.14,
    "measure_no_limit": -3.15,
    "name_own": 2.27,
    "name_own_whole": 0.42,
    "name_said": 1.77,
    "name_said_whole": 0.11,
    "name_akin": 3.07,
    "name_other_work": 4.29,
    "name_implied": 0.15,
    "mirrored": -0.09,
    "place_in_name": 1.54,
    "place_elsewhere": -0.11,
    "part_from_before": 2.1,
    "work_of_stage": 2.53,
    "work_possible": 0.11,
    "work_of_other_stage": -2.64,
    "state_inspect": 0.49,
    "state_strip": -0.83,
    "state_other": 0.35,
    "fate_decide": 3.3,
    "fate_strip_or_inspect": -2.19,
    "fate_other": -1.12,
    "fate_named": 3.53,
}
"""Log odds for a step of each of `evidence.FEATURES`."""

DONE = -0.25
"""Log odds for a step that was declared finished."""

BETWEEN = Tendency(
    onward=(4.96, 3.62, 2.22, 0.54, -0.23, -2.7, -2.55, -3.19, 0.35, -3.71, 0.46),
    aside=(-0.58, -1.07, 0.02, -2.9, -3.6, 1.51, -0.78, 0.55, -2.58, -2.76, -1.15),
    resume=(-0.86, 3.06, 1.63, -0.88, -3.15, -1.74, -1.75, -2.2, -1.2, -2.38, 1.9),
    other=(-0.58, -0.12, 2.58, -2.88, -2.99, 2.15, 0.79, 2.33, -1.93, -2.12, -2.16),
    remain=0.83,
)

WITHIN = Tendency(
    onward=(3.06, -1.49, -0.88, -0.13, -1.08, 1.21, 2.51, 3.39, -1.28, 0.34, -0.76),
    aside=(-0.58, -1.49, -2.14, -1.78, -2.8, -1.5, -0.33, -0.14, -2.51, -3.03, -1.02),
    resume=(-0.86, 3.06, 1.63, -0.88, -3.15, -1.74, -1.75, -2.2, -1.2, -2.38, 1.9),
    other=(-0.58, -0.12, 2.58, -2.88, -2.99, 2.15, 0.79, 2.33, -1.93, -2.12, -2.16),
    remain=-1.19,
)

TOLD = Tendency(
    onward=(5.16, -0.3, -0.18, -0.52, -0.45, -0.3, -0.54, -0.99, -1.05, -1.38, -0.96),
    aside=(-0.58, -0.86, -0.62, -0.67, -0.81, -0.63, -0.77, -1.11, -0.77, -1.21, -0.66),
    resume=(-0.86, 3.06, 1.63, -0.88, -3.15, -1.74, -1.75, -2.2, -1.2, -2.38, 1.9),
    other=(-0.58, -0.12, 2.58, -2.88, -2.99, 2.15, 0.79, 2.33, -1.93, -2.12, -2.16),
    remain=0.43,
)

START = (1.2, -0.03, -1.17)
"""Log odds of `tendency.STARTS`."""
