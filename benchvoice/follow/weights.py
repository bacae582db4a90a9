"""Weights learned by tests/benchmarks/step_weights.py, in several runs each begun from the last."""

from __future__ import annotations

from benchvoice.follow.tendency import Tendency

EVIDENCE = {
    "hardware_worked": 6.29,
    "hardware_state": 7.8,
    "hardware_bare": 7.77,
    "hardware_named_whole": -0.3,
    "hardware_few": -0.11,
    "hardware_other_work": 0.63,
    "count_same": 2.32,
    "count_differs": -0.87,
    "count_beyond": -0.5,
    "size_same": 1.58,
    "size_differs": -1.78,
    "limit_of_part": 2.44,
    "limit": 1.56,
    "measure_no_limit": -4.0,
    "listed_said": 1.68,
    "listed_words": 0.78,
    "listed_place": 2.19,
    "name_within": 1.43,
    "name_said": 2.97,
    "name_words": 1.18,
    "name_place": 1.42,
    "name_kind": 1.96,
    "name_akin": 2.62,
    "name_other_work": 0.65,
    "name_general": 1.96,
    "put_back_worked": 3.04,
    "put_back_state": 3.54,
    "put_back_name": 0.93,
    "part_to_check": 2.18,
    "place_elsewhere": -0.42,
    "work_of_stage": 1.64,
    "work_possible": -0.7,
    "work_of_other_stage": -0.95,
    "state_strip": -0.3,
    "state_inspect": 0.66,
    "state_test": 1.09,
    "state_other": -1.45,
    "fate_strip": -0.24,
    "fate_inspect": 0.86,
    "fate_decide": 0.36,
    "fate_other": -0.98,
    "fate_named": 6.09,
    "bare_strip": -1.01,
    "bare_inspect": -1.31,
    "bare_test": 0.23,
}
"""Log odds for a step of each of `evidence.FEATURES`."""

DONE = -0.79
"""Log odds for a step that was declared finished."""

BETWEEN = Tendency(
    onward=(3.3, 1.67, 0.05, -1.15, -2.5, -2.11, -3.19, -3.61, 0.1, 1.29, 0.13, 0.07),
    aside=(0.0, -1.69, -0.2, -2.44, -3.46, -0.78, -1.01, 0.34, -0.52, -0.4, -0.03, -0.26),
    resume=(2.19, 2.13, 0.68, -1.04, 0.79, -2.16, -1.91, -0.18, -0.42, 0.35, 0.83, 0.67),
    other=(0.0, -0.29, 1.75, -1.72, -0.85, 0.15, -0.27, 0.73, -1.09, -0.83, -0.68, -1.84),
    remain=-0.15,
)

TOLD = Tendency(
    onward=(3.99, -0.7, -0.2, -0.02, -3.0, -2.0, -3.0, -4.0, 0.0, -0.0, -0.01, -0.0),
    aside=(0.0, -0.68, -0.49, -0.35, -3.02, -0.47, -0.33, -0.47, -0.01, -0.49, -0.01, -0.01),
    resume=(2.19, 2.13, 0.68, -1.04, 0.79, -2.16, -1.91, -0.18, -0.42, 0.35, 0.83, 0.67),
    other=(0.0, -0.29, 1.75, -1.72, -0.85, 0.15, -0.27, 0.73, -1.09, -0.83, -0.68, -1.84),
    remain=1.37,
)

WITHIN = Tendency(
    onward=(3.49, -1.73, -0.86, -0.48, -3.0, -1.98, -3.0, -4.0, -0.03, 0.06, -0.03, -0.01),
    aside=(0.0, -1.78, -1.3, -1.46, -3.04, 0.58, 1.0, 2.61, -0.07, 1.16, -0.03, -0.03),
    resume=(2.19, 2.13, 0.68, -1.04, 0.79, -2.16, -1.91, -0.18, -0.42, 0.35, 0.83, 0.67),
    other=(0.0, -0.29, 1.75, -1.72, -0.85, 0.15, -0.27, 0.73, -1.09, -0.83, -0.68, -1.84),
    remain=-2.34,
)

START = (0.55, -0.27, -0.28, -3.0)
"""Log odds of `tendency.STARTS`."""
