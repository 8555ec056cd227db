"""How the cost of the site's work grows from 300 people to 100,000, beside the growth of people.

What one does on one day, and a wall of sixty pictures, must not grow with the register; what reads
the whole register may grow with it, and no faster. Seconds are guides: the ratios are held.
"""

import pytest

from relations.languages.likeness import Known
from tests.bench import growth
from tests.bench.crowd import crowd

SIZES, LARGE = (300, 3_000), (30_000, 100_000)
# Of a day and of a wall: so many times what it costs at 300 people, at any size.
FIXED = {"today": 3.0, "wall": 2.5, "number": 2.5}
# Of what reads the whole register: so many times the growth of people, from each size to the next.
SLACK = 1.5
# To open names: 1.52 was seen from 3,000 people to 30,000, and 1.02 from there to 100,000.
SLACKS = {"names": 2.0}
# The same statements at every size; a backup has one for each table, and more for its pieces.
COUNTED = ("today", "artist", "wall", "all", "letting go", "map", "search", "number")
MANY = 100_000


@pytest.fixture
def sizes(is_quick: bool) -> tuple[int, ...]:
    return SIZES if is_quick else SIZES + LARGE


def test_cost_grows_no_faster_than_the_register(sizes, tmp_path, figure) -> None:
    found = {people: growth.grown(people, tmp_path / str(people)) for people in sizes}
    faults = [fault for work in found[SIZES[0]]["costs"] for fault in held(work, found, figure)]
    last = found[sizes[-1]]
    figure("filling the largest register", last["fill"], unit="s", guide="300")
    figure("memory of the site, filled", last["site"], unit="MB", guide="1500")
    figure("the peak of a backup above the site's", last["costs"]["backup"]["peak"], unit="MB",
           bar="<= 64")  # fmt: skip
    figure("the peak of the day above the site's", last["costs"]["today"]["peak"], unit="MB",
           bar="<= 32")  # fmt: skip
    assert faults == []
    assert last["costs"]["backup"]["peak"] <= 64
    assert last["costs"]["today"]["peak"] <= 32


def held(work: str, found: dict[int, dict], figure) -> list[str]:
    """The figures of one work at every size, and which bars it missed."""
    costs = {people: said["costs"][work] for people, said in found.items()}
    (first, least), *larger = costs.items()
    figure(f"{work} at {first:,} people", least["seconds"] * 1000, unit="ms")
    faults, before = [], first
    for people, cost in larger:
        figure(f"{work} at {people:,} people", cost["seconds"] * 1000, unit="ms")
        if work in FIXED:
            name, bar = f"{work} among {people:,} people beside {first:,}", FIXED[work]
            times = cost["seconds"] / least["seconds"]
        else:
            name = f"{work} among {people:,} people, growth beside theirs"
            bar = SLACKS.get(work, SLACK)
            times = cost["seconds"] / costs[before]["seconds"] / (people / before)
        figure(name, times, bar=f"<= {bar}")
        faults += [f"{name}: {times:.2f}"] * (times > bar)
        before = people
    figure(f"{work} beside its bare statements", costs[before]["seconds"] / costs[before]["raw"])
    if work in COUNTED:
        counts = [cost["statements"] for cost in costs.values()]
        figure(f"statements of {work}", counts[0])
        figure(f"statements of {work}, more at another size", max(counts) - min(counts), bar="0")
        faults += [f"statements of {work}: {counts}"] * (len(set(counts)) > 1)
    return faults


@pytest.mark.whole
def test_names_of_a_hundred_thousand_people_are_searched_in_memory(figure) -> None:
    """As the artist's search holds them, once they are opened."""
    names = crowd(MANY)
    before = growth.memory("VmRSS")
    known = Known(enumerate(names))
    figure("memory of 100,000 names", growth.memory("VmRSS") - before, unit="MB", guide="200")
    sought = names[:: MANY // 40]
    taken = [growth.seconds(lambda name=name: known.like(name)) for name in sought]
    found = [any(names[key] == name for key, _ in known.like(name)) for name in sought]
    figure("names alike among 100,000", sum(taken) / len(taken) * 1000, unit="ms", guide="25")
    assert all(found)
