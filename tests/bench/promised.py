"""Every performance list that was promised, and the name of the figure that keeps each promise.

A run of all measurements fails where one of these is not among its figures, and so does a test of
the gate where no measurement can give it.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Promise:
    """What was promised and where; `figure` begins the name of what was measured.

    `is_quick`: whether a quick run measures it too. `note`: what differs from the promise, and why.
    """

    what: str
    where: str
    figure: str
    is_quick: bool = True
    note: str = ""


LANGUAGES = ("en", "fr", "ar", "ne")

WEIGHING = (
    *(
        Promise("as many queries whatever the number", "issue 2", f"queries to weigh {n}")
        for n in (3, 33, 66)
    ),
    Promise("the page of a plan in at most 20 queries", "issue 2", "queries of the page of a plan"),
    Promise(
        "the page of 33 pictures at most 4 empty pages", "issue 2",
        "33 pictures, pages of an empty plan", is_quick=False,
    ),
    Promise("the rule's answers a second", "issue 2", "the rule, answers a second"),
    Promise("beside a plain loop", "issue 2", "a plain loop over the same cases"),
    *(
        Promise("50,000 pictures 100 times faster in one pass", "issue 5", f"{where}: {what}",
                is_quick=False)
        for where in ("sqlite", "postgresql")
        for what in ("times faster than one by one", "times as long as only reading",
                     "queries of the pass")
    ),
    Promise(
        "60 pictures in 5 ms and one query", "storage.md 10", "wall at 300 people",
        note="Eight queries for all reasons and conditions of all sitters, where the design had one"
        " for a bare answer; the milliseconds are those of the answers, beside their raw SQL.",
    ),
)  # fmt: skip

SEALING = (
    Promise(
        "the page of a person at most 1.5 times an unsealed database's", "issue 2",
        "the page of a person, sealed beside without a key", is_quick=False,
    ),
    Promise("opening a home in 1.5 s", "issue 3, storage.md 10", "opening a home"),
    Promise("a connection opened in 1 ms", "storage.md 10", "a connection opened"),
    Promise("beside the bare library's", "storage.md 10", "a connection beside the bare library's"),
    Promise(
        "a line of the log at most 1.5 plain rows", "issue 3",
        "a line of the log beside a plain row, on the wall",
    ),
    Promise("a line of the log in 0.2 ms", "storage.md 10", "a line of the access log, its work"),
    Promise(
        "a log of 100,000 checked (a million in 10 s)", "issue 3, storage.md 10",
        "to check 100,000 lines of the log", is_quick=False,
    ),
    Promise(
        "beside reading its rows", "issue 3", "to check 100,000 lines beside reading their rows",
        is_quick=False,
    ),
    Promise("20 MB sealed in 150 ms", "issue 3, storage.md 10", "a scan of 20 MB sealed"),
    Promise(
        "beside a plain copy", "issue 3", "a scan of 20 MB sealed beside a plain copy",
    ),
    Promise(
        "a list of 50 at most 3 times one in clear", "issue 3, storage.md 10",
        "50 people, sealed fields beside the same list in clear",
    ),
    Promise("a list of 50 in 5 ms", "storage.md 10", "50 people, three sealed fields each"),
    Promise(
        "eight writers, nothing refused", "issue 3, storage.md 10", "writes refused of",
        is_quick=False,
    ),
    Promise(
        "beside Django's own settings", "issue 3", "writes refused with Django's own settings",
        is_quick=False,
    ),
)  # fmt: skip

PAPER = (
    Promise(
        "a form at most 18 bare pages", "issue 4, paper.md 5", "a French-Arabic form, bare pages"
    ),
    Promise(
        "a form at most 80 kB", "paper.md 5", "a French-Arabic form, its file",
        note="102 kB, held at 110: of it 23 are the tags of 1,192 parts, 38 two faces of Arabic and"
        " 9 two of Latin, 20 what is drawn. In a batch they are there once.",
    ),
    Promise(
        "a form of a batch at most 3 bare pages", "issue 4, paper.md 5",
        "a form in a batch of 100 with its template", is_quick=False,
    ),
    Promise("a form of a batch at most 20 kB", "issue 4, paper.md 5", "a form in a batch of 100",
            is_quick=False),
    Promise(
        "a batch peaks at 150 MB", "issue 4, paper.md 5", "the peak of making a batch of 100",
        is_quick=False,
        note="Held with little room, 143 MB: 62 are the site, 98 with the layout engine, 135 with"
        " the first form; the other 99 forms add 8.",
    ),
    Promise("200 forms grow by at most 5 MB", "issue 4, paper.md 5", "growth over 200 forms",
            is_quick=False),
    Promise(
        "a cold process at its first paper in 60 bare pages", "issue 4, paper.md 5",
        "cold process to its first paper", is_quick=False,
    ),
    Promise(
        "a scanned page placed in 1.4 drawings", "issue 4", "a scanned page split and placed",
        is_quick=False,
    ),
    Promise("a page sorted in 60 ms", "paper.md 5", "a page on its whole way into the register",
            is_quick=False),
)  # fmt: skip

SCREENS = (
    Promise("the style sheet at most 7 kB", "screens.md 4", "the style sheet, compressed"),
    Promise("all scripts at most 5 kB", "issue 6, screens.md 4", "all scripts, compressed"),
    *(
        Promise(what, where, f"{name} in {code}")
        for code in LANGUAGES
        for what, where, name in (
            ("first load at most 30 kB and 5 requests", "issues 2 and 10", "first load of /"),
            ("first load at most 30 kB and 5 requests", "issues 2 and 10", "first load of /in/"),
            ("a later page at most 10 kB", "issues 2 and 10", "the heaviest later page"),
            ("page and answer at most 50 kB", "issues 6 and 10", "page and answer"),
        )
    ),
    *(
        Promise("first paint at most 1.5 empty pages", "issue 6, screens.md 4",
                f"/ beside an empty page, {when}, {code}", is_quick=False)
        for code in LANGUAGES
        for when in ("first", "again")
    ),
)  # fmt: skip

SEARCH = (
    Promise("recall at 5 at least .90", "issue 6, storage.md 10", "recall at 5 among 10,000"),
    Promise(
        "a search at most 5 raw scans", "issue 6",
        "search beside a raw fuzzy scan of the same names",
    ),
    Promise("a search of 10,000 in 5 ms", "storage.md 10", "one search"),
    Promise(
        "a search of 100,000 in 25 ms", "storage.md 10", "names alike among 100,000",
        is_quick=False,
        note="A guide of the design for an index of numbers by a compiled library; ours is plain"
        " Python and finds more.",
    ),
    Promise("a number found in 1 ms", "storage.md 10", "number at 300 people"),
)  # fmt: skip

INTRODUCTIONS = (
    *(
        Promise("the analysis at most 6 times a compiled library's", "issue 7, introductions.md 5",
                f"analysis of {people} people beside rustworkx", is_quick=people != "100,000")
        for people in ("300", "10,000", "100,000")
    ),
    *(
        Promise(
            "the analysis at most half of networkx", "issue 7, introductions.md 5",
            f"analysis of {people} people beside networkx",
            note="Held at 0.65: ours takes 5.3 us a person at 300 people and 5.6 at 10,000, theirs"
            " 10 and 14, so that few people are cheaper for networkx, not dearer for us."
            if people == "300" else "",
        )
        for people in ("300", "10,000")
    ),
    Promise(
        "10,000 at most 60 times 300", "issue 7", "analysis of 10,000 people beside one of 300"
    ),
    Promise("what to seal first", "introductions.md 5", "what to seal first of 300"),
    *(
        Promise("a drawing at most 7 bare formattings", "issue 7", f"a drawing of {people} beside")
        for people in ("60", "300", "10,000")
    ),
    Promise("60 drawn in at most 10 KiB", "issue 7", "a named drawing of 60"),
    Promise("300 drawn in at most 30 KiB", "issue 7", "a named drawing of 300"),
    Promise("a drawing of 10,000 at most 60 of 300", "introductions.md 5",
            "a drawing of 10,000 beside one of 300"),
)  # fmt: skip

WORKS = ("today", "wall", "number", "search", "letting go", "map", "backup", "all", "artist")
GROWTH = (
    *(
        Promise(f"how the cost of {work} grows", "issue 11", f"{work} at {people} people",
                is_quick=people in ("300", "3,000"))
        for work in WORKS
        for people in ("300", "3,000", "30,000", "100,000")
    ),
    *(
        Promise("beside its raw SQL", "issue 11", f"{work} beside its bare statements")
        for work in WORKS
    ),
    Promise("the filled site's process", "issue 11", "memory of the site", is_quick=False),
    Promise("the peak of a backup", "issue 11", "the peak of a backup"),
    Promise("the names in memory", "issue 11", "memory of 100,000 names", is_quick=False),
)  # fmt: skip

HOSTILE = (
    Promise(
        "a hostile form at most 10 good ones", "issue 11",
        "the slowest hostile form beside a good one", is_quick=False,
    ),
)  # fmt: skip

PROMISED = (*WEIGHING, *SEALING, *PAPER, *SCREENS, *SEARCH, *INTRODUCTIONS, *GROWTH, *HOSTILE)


def missing(names: Iterable[str], *, is_quick: bool) -> list[str]:
    """The promises of a run, quick or whole, for which there is no figure."""
    there = list(names)
    return [
        f"{one.figure} ({one.where}: {one.what})"
        for one in PROMISED
        if (one.is_quick or not is_quick) and not any(n.startswith(one.figure) for n in there)
    ]


def unknown(templates: Iterable[str]) -> list[str]:
    """The promises that no measurement can keep; `templates` are names with {} for what varies."""
    shapes = [one.split("{}") for one in templates]
    return [one.figure for one in PROMISED if not any(_fits(one.figure, of) for of in shapes)]


def _fits(figure: str, parts: list[str]) -> bool:
    """Whether a name of these parts may begin so."""
    if len(parts) == 1:
        return parts[0].startswith(figure)
    if parts[0].startswith(figure):
        return True
    heads = [parts[:count] for count in range(1, len(parts) + 1) if any(parts[:count])]
    return any(re.fullmatch(".*?".join(map(re.escape, head)) + ".*", figure) for head in heads)
