"""The words of plain English that hold a remark together, by what they do."""

from __future__ import annotations

STRUCTURE: dict[str, tuple[str, ...]] = {
    "prep": (
        *("off", "off of", "from", "out of", "on", "in", "at", "of", "into", "onto", "inside"),
        *("under", "behind", "between", "across", "around", "near", "for", "over", "against"),
        *("through", "toward", "towards", "to", "with", "by", "next to", "beside", "above"),
        *("off from", "out from", "from under", "from behind", "in between", "below", "beneath"),
    ),
    "conj": ("and", "then", "plus", "also", "and then", "but", "as well as", "along with", ","),
    "or": ("or",),
    "article": ("a", "an", "the", "this", "these", "those", "its", "that", "my", "our", "some"),
    "be": (
        *("is", "are", "was", "were", "be", "been", "it's", "its", "has", "have", "had", "has got"),
        *("they're", "looks", "looks like", "seems", "reads", "reading", "measures", "came in at"),
        *("comes in at", "comes out at", "comes to", "they are", "that's", "which is", "gets"),
    ),
    "all": (
        *("all", "both", "each", "every", "everything", "all of them", "both of them", "the lot"),
        *("all of those", "all of it", "the whole lot", "every one", "all the same"),
        *("parts", "the parts", "all parts", "all the parts"),
    ),
    "same": (
        *("so is", "so are", "same with", "same for", "same goes for", "ditto", "likewise"),
        *("same thing with", "same again", "ditto for", "ditto the", "as is", "as are"),
    ),
    "verb": ("put", "used", "using", "took", "take", "did"),
    "rest": ("the rest", "the others", "rest", "the rest of them", "the other ones", "others"),
    "each side": (
        *("each side", "a side", "per side", "either side", "each end", "per end"),
        *("on each side", "on either side", "to a side", "on each end", "at each end"),
    ),
    "other": (
        *("other", "another", "one more", "more", "found the missing", "i found the missing"),
        *("here is the missing", "found that missing", "found the one missing", "got the missing"),
    ),
    "not": (
        *(
            "nor",
            "neither",
            "no",
            "not",
            "none",
            "nothing",
            "without",
            "isn't",
            "aren't",
            "wasn't",
            "weren't",
            "any",
        ),
        *("not any", "no sign of", "no signs of", "free of", "none of them", "never", "don't"),
        *("didn't", "doesn't", "hasn't", "haven't", "no longer"),
    ),
    "home": ("home",),
    "new": ("new", "brand new"),
    "last": ("last", "final"),
    "long": ("long", "in length", "of length"),
    "head": ("head", "heads", "across flats", "across the flats", "hex", "hex head", "wrench size"),
    "thick": ("thick",),
    "metric": ("m", "metric"),
    "hash": ("number",),
    "stack": (
        "stack",
        "stack order",
        "in the order",
        "in this order",
        "order",
        "stack up",
        "in order",
        "goes",
        "stacked",
        "sequence",
    ),
    "label": ("label", "labelled", "labeled", "marked", "called"),
    "tenths": ("tenth", "tenths"),
    "range": ("to", "through"),
    "filler": (
        *("what do you call it", "what do you call them", "what is it called"),
        *("whatever it is called", "what was it", "how do you say"),
    ),
    "it": ("it", "them", "they", "one", "ones", "there", "itself", "that one", "this one"),
}
"""From what the words do to the ways to say it."""
