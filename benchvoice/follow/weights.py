"""Weights learned by tests/benchmarks/step_weights.py, in runs begun from the last.

The asides WITHIN a remark were made rarer by 1 than learned, on the choosing seeds: what is said in
one breath is seldom of two steps, and generated jobs join remarks at random.  So were those right
after a command (TOLD), and to remain made likelier: a count that is off is a fault of the step that
was begun, and no sign of another; generated jobs never miscount.
"""

from __future__ import annotations

from benchvoice.follow.tendency import Tendency

EVIDENCE = {
    "hardware_worked": 7.5,
    "hardware_state": 6.33,
    "hardware_bare": 6.58,
    "hardware_other_work": 0.74,
    "count_same": 2.26,
    "count_differs": -1.05,
    "count_beyond": -1.48,
    "one_of_one": 0.47,
    "one_of_many": -0.56,
    "many_of_one": -0.51,
    "many_of_many": 0.59,
    "size_same": 3.51,
    "size_differs": -0.59,
    "limit_of_part": 2.96,
    "limit": 1.44,
    "measure_no_limit": -4.39,
    "listed_said": 1.15,
    "listed_words": 0.4,
    "listed_place": 2.11,
    "name_within": 0.52,
    "name_said": 2.69,
    "name_words": 0.53,
    "name_place": 1.37,
    "name_kind": 1.65,
    "name_akin": 2.84,
    "name_other_work": 1.05,
    "name_general": 2.42,
    "sound_said": 0.49,
    "sound_words": 0.83,
    "put_back_worked": 2.73,
    "put_back_state": 3.91,
    "put_back_name": 0.95,
    "put_back_place": 1.2,
    "part_to_check": 2.57,
    "place_elsewhere": -0.78,
    "work_of_stage": 1.48,
    "work_possible": -0.76,
    "work_of_other_stage": -0.72,
    "state_strip": -0.49,
    "state_inspect": 0.91,
    "state_test": 1.14,
    "state_other": -1.55,
    "fate_strip": -0.22,
    "fate_inspect": 1.02,
    "fate_decide": 0.03,
    "fate_other": -0.83,
    "fate_named": 6.15,
    "bare_strip": -1.03,
    "bare_inspect": -1.07,
    "bare_test": 0.2,
}
"""Log odds for a step of each of `evidence.FEATURES`."""

DONE = -0.75
"""Log odds for a step that was declared finished."""

BETWEEN = Tendency(
    onward=(3.35, 1.86, 0.32, -0.64, -2.61, -1.96, -3.12, -3.83, 0.19, 0.34, 0.19, 0.0),
    aside=(0.0, -1.55, -0.23, -3.1, -3.54, -0.37, -0.92, 0.29, -0.4, 0.0, 0.01, -0.22),
    resume=(2.03, 2.02, 0.22, -1.23, 0.63, -2.0, -2.31, 0.42, -0.03, 1.18, 1.05, 0.37),
    other=(0.0, 0.25, 1.86, -1.69, -0.87, 0.89, -0.63, 0.41, -1.32, -0.49, -0.92, -2.05),
    remain=-0.22,
)

TOLD = Tendency(
    onward=(4.26, -0.64, -0.19, -0.05, -3.0, -2.0, -3.0, -4.0, 0.0, 0.0, -0.01, 0.0),
    aside=(-1.0, -1.63, -1.79, -1.37, -4.03, -1.45, -1.37, -1.45, -1.03, -1.4, -1.01, -1.01),
    resume=(2.03, 2.02, 0.22, -1.23, 0.63, -2.0, -2.31, 0.42, -0.03, 1.18, 1.05, 0.37),
    other=(0.0, 0.25, 1.86, -1.69, -0.87, 0.89, -0.63, 0.41, -1.32, -0.49, -0.92, -2.05),
    remain=3.0,
)

WITHIN = Tendency(
    onward=(3.59, -2.2, -0.85, -0.39, -3.0, -1.95, -3.01, -4.0, -0.03, 0.0, -0.02, -0.01),
    aside=(-1.0, -2.99, -2.29, -2.52, -4.06, -0.41, 0.31, 1.69, -1.07, 0.23, -1.02, -1.04),
    resume=(2.03, 2.02, 0.22, -1.23, 0.63, -2.0, -2.31, 0.42, -0.03, 1.18, 1.05, 0.37),
    other=(0.0, 0.25, 1.86, -1.69, -0.87, 0.89, -0.63, 0.41, -1.32, -0.49, -0.92, -2.05),
    remain=-2.6,
)

START = (1.45, -0.61, -0.83, -3.0)
"""Log odds of `tendency.STARTS`."""
