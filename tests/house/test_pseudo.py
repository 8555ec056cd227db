"""No page says an English word that cannot be translated, for anybody, nor when a form is refused.

Nor does one print a number but in the figures that its reader asked for: that is heard on the same
walk. What a plain number is, tests/house/figures.py says.

Each page is rendered in a language that is made up, in the place of French, so that a sentence of
Django's own which our catalogues lack stands there in French and is found, too.
"""

import re
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from zoneinfo import available_timezones

import pytest
from babel import Locale
from django.conf import settings as site
from django.utils import translation

from relations.consent.models import Wording
from relations.languages import catalogues
from tests.house import pseudo
from tests.house.asking import Asker
from tests.house.figures import listening
from tests.house.pages import pages, table
from tests.house.speaking import answers, plain, said, source, speak

pytestmark = [pytest.mark.django_db, pytest.mark.once]

LETTERS = "A-Za-z\u00c0-\u024f"
WORD = re.compile(rf"[{LETTERS}’'-]*[{LETTERS}][{LETTERS}’'-]*")
# A code, a serial or an hour: what holds a digit is no word.
CODED = re.compile(r"\S*\d\S*")
IN_PLACE_OF = "fr"
# Letters that choose nothing but a line or an answer on a sheet of paper.
SINGLE = {chr(letter) for letter in range(ord("A"), ord("Z") + 1)}
PAGES_AT_LEAST, ANSWERS_AT_LEAST = 180, 700


@cache
def of_others() -> frozenset[str]:
    """Words that no catalogue of ours says: days, countries, languages and towns, by CLDR."""
    there = Locale.parse(IN_PLACE_OF)
    names = [*there.territories.values(), *there.languages.values(), *there.scripts.values()]
    for shapes in (there.months, there.days):
        names += [
            name for shape in shapes.values() for one in shape.values() for name in one.values()
        ]
    names += [town for zone in there.time_zones.values() if (town := zone.get("city"))]
    # A town that CLDR does not name is called as its zone is.
    names += [part.replace("_", " ") for zone in available_timezones() for part in zone.split("/")]
    codes = [code for code in there.territories if code.isalpha()]
    return words((*names, *codes, *dict(site.LANGUAGES), *dict(site.LANGUAGES).values()))


def words(texts: Iterable[str]) -> frozenset[str]:
    """The words of some texts, however they are written large."""
    return frozenset(
        word.casefold() for text in texts for word in WORD.findall(CODED.sub(" ", plain(text)))
    )


def unmarked(html: str) -> frozenset[str]:
    """Plain words of a page that no catalogue could have said otherwise."""
    texts = (text for text, is_own in said(html) if not is_own)
    singles = {letter.casefold() for letter in SINGLE}
    return words(texts) - of_others() - singles


@pytest.fixture
def made_up(settings, tmp_path: Path, askers: dict[str, Asker]) -> Iterator[None]:
    """Everybody reads the made-up language."""
    pseudo.build(tmp_path, source(), IN_PLACE_OF)
    settings.LOCALE_PATHS = [tmp_path]
    speak(askers, IN_PLACE_OF)
    yield
    translation.activate("en")


def test_every_word_can_be_translated_and_every_number_is_in_figures(
    askers, made_once, made_up
) -> None:
    """Looked at, and sent empty: by everybody who may, with what is then said to them."""
    rows, found, plain_numbers, asked, seen = table(), {}, {}, 0, set()
    # How each language calls itself, in its own letters: that is never translated.
    themselves = words(wording.labels["language"] for wording in Wording.objects.all())
    with listening() as heard:
        for page in pages():
            for where, answer in answers(askers, page, rows[page.name], made_once):
                asked += 1
                seen.add(page.name)
                html = answer.content.decode()
                for word in unmarked(html) - themselves:
                    found.setdefault(word, where)
                for place in heard.printed(html):
                    plain_numbers.setdefault(place, where)
    assert found == {}
    assert plain_numbers == {}
    assert len(seen) >= PAGES_AT_LEAST
    assert asked >= ANSWERS_AT_LEAST


def test_word_that_was_never_marked_is_found() -> None:
    page = '<html dir="ltr"><title>Ｐａｇｅ 7</title><p>Ｈｉｄｅ <b>Hide</b></p>'
    assert unmarked(page) == {"hide"}
    assert unmarked('<a aria-label="Hide"></a>') == {"hide"}
    assert unmarked('<p title="Hide">Ｏｕｔ</p>') == {"hide"}
    # Django's own French where our catalogue is silent.
    assert unmarked("<p>Ce champ est obligatoire.</p>") >= {"champ", "obligatoire"}


def test_what_is_no_word_of_the_site_is_left_alone() -> None:
    assert unmarked('<p>K07/T3 10:30 <bdi>Teresa</bdi> <span dir="auto">quay</span></p>') == set()
    assert unmarked('<p lang="en">Hide</p><p>lundi 23 novembre, Népal, FR</p>') == set()


def test_made_up_language_keeps_what_a_translation_must_keep() -> None:
    assert pseudo.spoken("To %(day)s: <b>50%%</b> {name}&nbsp;now") == (
        "Ｔｏ %(day)s: <b>50%%</b> {name}&nbsp;ｎｏｗ"
    )
    made = pseudo.catalogue(source(), "ar")
    assert [str(problem) for problem in catalogues.problems(made)] == ["plural_header: ''"]
