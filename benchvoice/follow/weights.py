"""Weights learned by tests/benchmarks/step_weights.py; do not edit by hand."""

from __future__ import annotations

from benchvoice.follow.tendency import Tendency

EVIDENCE = {
    "hardware_worked": 5.66,
    "hardware_state": 7.49,
    "hardware_bare": 7.05,
    "hardware_named_whole": -0.39,
    "hardware_other_work": 0.43,
    "count_same": 0.38,
    "count_differs": -2.17,
    "count_beyond": -0.35,
    "size_same": 5.95,
    "size_differs": 0.11,
    "limit_of_part": -0.0,
    "limit": 4.98,
    "measure_no_limit": -4.97,
    "name_own": 1.34,
    "name_own_whole": 1.52,
    "name_said": 2.27,
    "name_said_whole": -0.76,
    "name_akin": 1.77,
    "name_other_work": 0.4,
    "name_implied": 0.49,
    "part_put_back": 3.51,
    "part_to_check": 2.02,
    "place_in_name": 3.91,
    "place_elsewhere": -0.53,
    "part_from_before": 2.96,
    "work_of_stage": 2.35,
    "work_possible": -2.38,
    "work_of_other_stage": 0.03,
    "state_inspect": 0.61,
    "state_strip": -0.4,
    "state_other": -0.21,
    "fate_decide": 4.6,
    "fate_strip_or_inspect": 0.21,
    "fate_other": -4.81,
    "fate_named": 4.38,
}
"""Log odds for a step of each of `evidence.FEATURES`."""

DONE = -0.39
"""Log odds for a step that was declared finished."""

BETWEEN = Tendency(
    onward=(4.83, 3.58, 2.3, 1.39, -0.4, -2.25, -1.6, -2.59, 0.65, -2.72, 0.44),
    aside=(-0.89, -1.43, -0.0, -2.56, -4.06, 0.77, -2.88, -0.58, -2.92, -1.99, -0.4),
    resume=(-1.03, 2.37, 2.49, 0.64, -2.41, 1.88, -0.67, -3.12, -0.75, -1.14, 1.98),
    other=(-0.89, 3.33, 0.1, -2.33, -2.98, -0.91, -2.04, -1.51, -3.01, 0.77, -0.53),
    remain=-0.29,
)

WITHIN = Tendency(
    onward=(3.52, -0.33, -0.4, -2.21, -2.89, 1.12, 3.25, 3.23, -0.87, 0.87, -1.2),
    aside=(-0.89, -1.72, -1.17, -3.16, -3.7, 0.49, -0.32, -1.21, -2.05, 1.08, -1.32),
    resume=(-1.03, 2.37, 2.49, 0.64, -2.41, 1.88, -0.67, -3.12, -0.75, -1.14, 1.98),
    other=(-0.89, 3.33, 0.1, -2.33, -2.98, -0.91, -2.04, -1.51, -3.01, 0.77, -0.53),
    remain=-1.59,
)

TOLD = Tendency(
    onward=(4.99, -0.21, -0.06, -0.03, 1.28, -1.13, -0.42, -1.77, 1.19, -2.18, 0.09),
    aside=(-0.89, -0.95, -0.92, -1.0, -1.23, -0.97, -1.02, -2.06, -1.04, -2.22, -0.9),
    resume=(-1.03, 2.37, 2.49, 0.64, -2.41, 1.88, -0.67, -3.12, -0.75, -1.14, 1.98),
    other=(-0.89, 3.33, 0.1, -2.33, -2.98, -0.91, -2.04, -1.51, -3.01, 0.77, -0.53),
    remain=2.22,
)

START = (0.46, -0.01, -0.45)
"""Log odds of `tendency.STARTS`."""
