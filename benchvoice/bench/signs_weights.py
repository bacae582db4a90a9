"""What each sign weighs; written by `tests/benchmarks/rejection_weights.py --write`, not by hand.

From 291 remarks and 252 utterances of talk, all synthetic.
"""

from benchvoice.bench.signs import Signs

BIAS = -1.5582
WEIGHTS = Signs(
    own=-4.7955,
    unlikely=0.6417,
    worst=0.4036,
    shortest=-0.4380,
    left_over=1.2441,
    apart=0.0000,
    thin=1.7359,
)
