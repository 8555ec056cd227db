"""What a form costs beside a bare page of one paragraph, laid out by the same engine."""

from itertools import cycle

from relations.consent import paper
from relations.documents import qr, serials
from relations.documents.render import render
from tests.bench.timing import side_by_side
from tests.consent.test_paper import KEY, form

PARAGRAPH = "<p>" + "The artist makes portraits with a slow camera. " * 12 + "</p>"
FORM_BAR = 25
NUMBERS = cycle(range(70_001, 70_999))


def bare_page():
    import weasyprint

    return weasyprint.HTML(string=PARAGRAPH).write_pdf()


def next_form():
    """Each time another serial, so that no finished paper is handed out again."""
    number = str(next(NUMBERS))
    serial = f"{number}-{serials.check(number)}"

    def payload(page):
        return qr.payload("F", serial, page, "A7", key=KEY)

    return paper.pdf(form("fr", "ar", draft=False, serial=serial, payload=payload))


def whole_form():
    return render(paper.html(form("fr", "ar")), lang="fr", title="70042-74", css=paper.style())


def test_form_costs_few_bare_pages(figure):
    next_form()
    further = side_by_side(next_form, bare_page)
    figure("a French-Arabic form, bare pages", further.ratio, bar=f"<= {FORM_BAR}")
    first = side_by_side(whole_form, bare_page, rounds=3)
    figure("the first form of two wordings, bare pages", first.ratio, guide="40")
    assert further.ratio <= FORM_BAR
