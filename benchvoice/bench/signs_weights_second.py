"""What each sign weighs; written by `tests/benchmarks/rejection_weights.py --write`, not by hand.

From 285 remarks and 177 utterances of talk, all synthetic.
"""

from benchvoice.bench.signs import Signs

BIAS = -4.0724
WEIGHTS = Signs(
    own=-3.8748,
    unlikely=0.5908,
    worst=0.3315,
    shortest=-0.2769,
    left_over=0.8077,
    apart=0.4366,
    thin=2.5260,
)
