"""How many blanks a trip needs in each language, and in which order they are printed."""

from collections.abc import Mapping

# Three in ten more than people expected: for a slip of the pen, and for who comes unexpected.
TENTHS = 13


def blanks(expected: int) -> int:
    """Give ceil(1.3 x people expected to answer in a language). Source: job.md, F6."""
    return -(-TENTHS * expected // 10)


def share(total: int, weights: Mapping[str, int]) -> dict[str, int]:
    """Share `total` blanks out among languages by weight; where all weigh nothing, alike.

    Whole numbers that add up to `total`: what is left over goes where most was cut off, among
    equals to the language named first (largest remainder).
    """
    asked = dict(weights) if any(weights.values()) else dict.fromkeys(weights, 1)
    whole = sum(asked.values())
    given = {lang: total * weight // whole for lang, weight in asked.items()}
    cut = sorted(asked, key=lambda lang: -(total * asked[lang] % whole))
    for lang in cut[: total - sum(given.values())]:
        given[lang] += 1
    return given


def in_order(counts: Mapping[str, int]) -> list[str]:
    """Give each language as often as it has copies, spread so that every beginning is useful.

    First one of each, the largest need first; then each in its proportion. A print run that is
    cut off has a share of every language. Source: job.md, F8 (the vital part first).
    """
    places = [
        (copy / count, -count, lang) for lang, count in counts.items() for copy in range(count)
    ]
    return [lang for *_, lang in sorted(places)]
