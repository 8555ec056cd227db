"""Ten thousand invented people in five scripts, to look for somebody among."""

import json
import random
from itertools import product
from pathlib import Path

# Given and family names, spelt by hand; every pair of them is somebody invented.
NAMES = json.loads(
    (Path(__file__).parent.parent / "cases" / "crowd.json").read_text(encoding="utf-8")
)


def crowd(count: int = 10_000, seed: int = 20261126) -> list[str]:
    """So many different names, as many in each script, always the same ones in the same order."""
    chance, found = random.Random(seed), []
    for names in NAMES.values():
        pairs = [f"{first} {last}" for first, last in product(names["given"], names["family"])]
        # Where there are too few pairs, two given names make further people.
        more = [f"{one} {pair}" for one, pair in product(names["given"], pairs)]
        chance.shuffle(pairs)
        chance.shuffle(more)
        found += [*pairs, *more][: count // len(NAMES)]
    chance.shuffle(found)
    return found
