"""What it costs to split and place a scanned page, beside drawing that page once at 200 dpi."""

from itertools import count

import pypdfium2
import pytest

from relations.consent import coming_home
from relations.documents.models import Page
from relations.documents.sorting import Place, judge
from relations.documents.split import Stack
from relations.privacy.keys import keyring
from tests import cast
from tests.bench.timing import side_by_side
from tests.consent import desk
from tests.documents import scanner

pytestmark = pytest.mark.django_db
BAR = 1.4
DPI = 200
PAPERS, ROUNDS = 5, 2
NUMBERS = count(70_100)


def a_stack():
    """Five forms of two sides each, every second side upside down, as a scanner sends them."""
    key, lying = keyring.subkey("mark"), []
    for number, _ in zip(NUMBERS, range(PAPERS), strict=False):
        desk.paper(number, cast.danuta())
        for side in (1, 2):
            ink = scanner.drawn(scanner.printed(number, side, key), DPI)
            lying.append(scanner.flat(ink, 180 * (side - 1), seed=number))
    return scanner.pdf(lying, DPI)


def draw(content):
    """What is stood beside: each page drawn once, as fast as the engine draws."""
    document = pypdfium2.PdfDocument(content)
    for page in document:
        page.render(scale=DPI / 72).to_numpy()
        page.close()
    document.close()


def split(content):
    """Each page looked at, told by its codes, and put beside the other side of its paper."""
    keys, papers = keyring.mark_keys(), {}
    with Stack(content) as stack:
        for number in range(1, len(stack) + 1):
            look = stack.look(number)
            texts = [code.text for code in look.codes]
            code = judge(texts, is_blank=look.is_blank, is_torn=look.is_torn, keys=keys).code
            stack.digest(number)
            papers.setdefault(code.serial, []).append((code.page, number, look.turn))
        return [stack.take([page[1:] for page in sorted(sides)]) for sides in papers.values()]


def bring_home(upload):
    """All that follows once the stack is on the disk: opened, split, sealed, noted, filed."""
    while upload.ended_at is None:
        seen = coming_home.look_on(upload)
        how = {"by": cast.assistant(), "at": desk.AT}
        upload = coming_home.go_on(upload=upload, seen=seen, **how)


@pytest.mark.whole
def test_page_is_split_and_placed_in_little_more_than_it_takes_to_draw_it(figure):
    content = a_stack()
    assert len(split(content)) == PAPERS
    pair = side_by_side(lambda: split(content), lambda: draw(content))
    figure("a scanned page split and placed, drawings of it", pair.ratio, bar=f"<= {BAR}")
    assert pair.ratio <= BAR
    received = iter(
        [
            coming_home.receive(files=[one], by=cast.assistant(), at=desk.AT)
            for one in [content, *(a_stack() for _ in range(ROUNDS))]
        ]
    )
    whole = side_by_side(lambda: bring_home(next(received)), lambda: draw(content), rounds=ROUNDS)
    assert Page.objects.filter(place=Place.FILED).count() == (ROUNDS + 1) * PAPERS * 2
    figure("a page on its whole way into the register, drawings", whole.ratio, guide="3")
    figure(
        "a page on its whole way into the register",
        whole.seconds / (PAPERS * 2) * 1000,
        unit="ms a page",
        guide="50",
    )
