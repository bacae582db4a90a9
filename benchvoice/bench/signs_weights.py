"""What each sign weighs; written by `tests/benchmarks/rejection_weights.py --write`, not by hand.

From 441 remarks and 117 utterances of talk, all synthetic.
"""

from benchvoice.bench.signs import Signs

BIAS = -4.1206
WEIGHTS = Signs(
    own=-3.5978,
    unlikely=0.7167,
    worst=0.4779,
    shortest=-0.3884,
    left_over=1.2272,
)
