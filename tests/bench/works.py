"""The works whose cost is measured as a register grows, each sure of what came of it."""

from collections.abc import Callable
from pathlib import Path

from relations.consent import queries as consent
from relations.consent.weighing import weigh_all
from relations.people import known_names, search
from relations.pictures.models import Picture
from relations.privacy.home import today
from relations.privacy.models import User
from relations.rights import backing_up, due
from relations.uses import queries
from tests.bench import register
from tests.bench.crowd import crowd
from tests.bench.site import Site

Work = Callable[[], object]


def works(people: int, shelf: Path) -> dict[str, Work]:
    """By name; backups are written into `shelf`."""
    sites = {user.username: Site(user) for user in User.objects.all()}
    artist, assistant = sites[register.ARTIST], sites[register.ASSISTANT]
    sought = crowd(people)[people // 3]
    return {
        "today": lambda: page(assistant, "/"),
        "artist": lambda: page(artist, "/"),
        "wall": wall,
        "number": number,
        "letting go": letting_go,
        "map": lambda: page(artist, "/introductions/"),
        "all": everything,
        "names": lambda: (known_names.forget(), find(sought)),
        "search": lambda: find(sought),
        "backup": lambda: backing_up.make(shelf),
    }


def page(site: Site, path: str) -> None:
    answer = site.ask(path)
    if answer.status != 200:
        raise AssertionError(f"{path} answers {answer.status}")


def wall() -> None:
    """What the page of a plan of sixty pictures asks."""
    if len(queries.weighed(queries.plan_or_404(register.PLAN), today())) != register.WALL:
        raise AssertionError("the wall is not whole")


def everything() -> None:
    """Every picture there is, for one planned use, in one pass."""
    plan = queries.rule_plan(queries.plan_or_404(register.PLAN))
    found = consent.load(Picture.objects.all(), today())
    weigh_all(found.pictures, found.people, plan, today=today())


def letting_go() -> None:
    """All that is due to be let go, by every clock."""
    if len(due.proposals(today())) != register.DUE:
        raise AssertionError("others are due than those of whom word came long ago")


def number() -> None:
    """Whose a number is."""
    if len(search.by_number(register.OWN_NUMBER)) != 1:
        raise AssertionError("a number finds one whose it is")


def find(sought: str) -> None:
    """Whom a name may mean, as the artist types it."""
    if sought not in {one.call_name for one in search.find(sought)}:
        raise AssertionError("nobody of that name is found")
