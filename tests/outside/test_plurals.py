"""Every number from 0 to 200 takes the plural form that the Common Locale Data give it.

Source: CLDR plural rules (cardinal), as packed in Babel 2.18.0. Arabic has six forms: none, one,
two, few (3-10, 103-110), many (11-99, 111-199) and other (100, 101, 102, 200).
"""

from gettext import GNUTranslations
from io import BytesIO, StringIO
from pathlib import Path

import pytest
from babel import Locale
from babel.messages.pofile import read_po

from relations.languages import catalogues
from relations.languages.said import figures

ROOT = Path(__file__).resolve().parents[2]
FORMS = ("zero", "one", "two", "few", "many", "other")
NUMBERS = range(201)
ARABIC = (
    "nplurals=6; plural=(n==0 ? 0 : n==1 ? 1 : n==2 ? 2 : n%100>=3 && n%100<=10 ? 3 : "
    "n%100>=11 && n%100<=99 ? 4 : 5);"
)


def wanted(language):
    """The form of each number, counted as a .po counts the forms that these numbers need."""
    named = [Locale.parse(language, sep="-").plural_form(n) for n in NUMBERS]
    order = [form for form in FORMS if form in named]
    return [order.index(form) for form in named]


def catalogue(language, plurals, forms):
    """A catalogue of one message, each plural form of which says its own number."""
    said = "\n".join(f'msgstr[{at}] "{at}"' for at in range(forms))
    head = (
        f'"Language: {language}\\n"\n"Plural-Forms: {plurals}\\n"\n'
        '"Content-Type: text/plain; charset=utf-8\\n"\n'
    )
    return (
        f'msgid ""\nmsgstr ""\n{head}\nmsgid "%(n)s sheet"\nmsgid_plural "%(n)s sheets"\n{said}\n'
    )


def compiled(text, language):
    po = read_po(StringIO(text), locale=language)
    return GNUTranslations(BytesIO(catalogues.compiled(po)))


def chosen(made, number):
    return int(made.ngettext("%(n)s sheet", "%(n)s sheets", number))


def test_arabic_counts_in_six_forms():
    made = compiled(catalogue("ar", ARABIC, 6), "ar")
    assert [chosen(made, n) for n in NUMBERS] == wanted("ar")
    assert set(wanted("ar")) == set(range(6))


def test_wrong_rule_is_found():
    """Many and other the wrong way round, as some tables have them."""
    swapped = ARABIC.replace("? 4 : 5", "? 5 : 4")
    made = compiled(catalogue("ar", swapped, 6), "ar")
    differ = [n for n in NUMBERS if chosen(made, n) != wanted("ar")[n]]
    assert differ[:3] == [11, 12, 13]
    assert {100, 101, 102, 200} <= set(differ)


def test_figure_of_the_page_chooses_as_the_number_does():
    made = compiled(catalogue("ar", ARABIC, 6), "ar")
    assert [chosen(made, figures(n)) for n in NUMBERS] == wanted("ar")


@pytest.mark.parametrize(
    "path", sorted((ROOT / "locale").glob("*/LC_MESSAGES/django.po")), ids=lambda p: p.parts[-3]
)
def test_catalogue_of_the_site_counts_as_the_common_locale_data_do(path):
    language, po = path.parts[-3], catalogues.read(path)
    plurals = po.plural_forms.rstrip(";") + ";"
    made = compiled(catalogue(language, plurals, po.num_plurals), language)
    assert [chosen(made, n) for n in NUMBERS] == wanted(language)
