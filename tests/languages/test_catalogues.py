"""Catalogues: every string is found, every planted defect is named, the built file answers."""

from gettext import GNUTranslations
from io import BytesIO
from pathlib import Path

import django.contrib.auth
import pytest
from babel.messages.catalog import Catalog
from babel.messages.extract import extract as babel_extract
from django.utils.translation.template import templatize

from relations.languages import catalogues

ROOT = Path(__file__).resolve().parents[2]
HEAD = """msgid ""
msgstr ""
"Language: {language}\\n"
"Content-Type: text/plain; charset=utf-8\\n"
"Plural-Forms: nplurals=2; plural=(n > 1);\\n"

"""


def catalogue(folder: Path, body: str, language: str = "fr") -> Catalog:
    path = folder / "django.po"
    path.write_text(HEAD.format(language=language) + body, "utf-8")
    return catalogues.read(path)


def codes(po: Catalog) -> list[str]:
    return [problem.code for problem in catalogues.problems(po)]


def found(folder: Path) -> set[tuple[str | None, object]]:
    extracted = catalogues.extract(folder, ["."])
    return {(message.context, message.id) for message in extracted if message.id}


def test_strings_of_python_are_found_with_context_and_plural(tmp_path: Path) -> None:
    (tmp_path / "a.py").write_text(
        '_("One")\ngettext("Two")\npgettext_lazy("door", "Three")\nngettext("four", "fours", n)\n'
        'npgettext("bag", "five", "fives", n)\nother("Six")\n_(name)\n_()\nngettext(one, two, n)\n'
    )
    assert found(tmp_path) == {
        (None, "One"),
        (None, "Two"),
        ("door", "Three"),
        (None, ("four", "fours")),
        ("bag", ("five", "fives")),
    }


def test_strings_of_templates_are_found_in_every_shape(tmp_path: Path) -> None:
    (tmp_path / "a.html").write_text(
        '{% translate "One" %}{% trans \'Two\' as two %}{% translate "Three" context "door" %}'
        '{% include "x.html" with word=_("Four") other=_(\'Five\') %}{{ x|default:_("Six") }}'
        "{% blocktranslate trimmed with a=b %}\n  Seven {{ a }}\n  and {{ c }}.\n"
        "{% endblocktranslate %}"
        '{% blocktranslate count n=n context "bag" %}{{ n }} one{% plural %}{{ n }} more'
        '{% endblocktranslate %}{# translate "Not this" #}{% translate name %}'
        '{% translate "50% of \\"all\\"" %}'
    )
    assert found(tmp_path) == {
        (None, "One"),
        (None, "Two"),
        ("door", "Three"),
        (None, "Four"),
        (None, "Five"),
        (None, "Six"),
        (None, "Seven %(a)s and %(c)s."),
        ("bag", ("%(n)s one", "%(n)s more")),
        (None, '50%% of "all"'),
    }


def test_migrations_and_other_files_hold_no_words(tmp_path: Path) -> None:
    (tmp_path / "migrations").mkdir()
    (tmp_path / "migrations" / "a.py").write_text('_("One")')
    (tmp_path / "a.txt").write_text('_("Two")')
    assert found(tmp_path) == set()


def test_places_are_told_by_file_and_line(tmp_path: Path) -> None:
    (tmp_path / "a.html").write_text('\n\n{% translate "One" %}')
    message = catalogues.extract(tmp_path, ["."]).get("One")
    assert message is not None
    assert message.locations == [("a.html", 3)]


def by_django(path: Path) -> set[object]:
    """The strings Django's own reading of a template leaves for gettext (an outside check)."""
    code = "\n".join(line.strip() for line in templatize(path.read_text("utf-8")).splitlines())
    source = BytesIO(code.encode())
    return {
        message
        for _, message, _, _ in babel_extract("python", source, keywords=catalogues.KEYWORDS)
        if message
    }


def templates_to_compare() -> list[Path]:
    auth = Path(django.contrib.auth.__file__).parents[1]
    return [
        path
        for folder in (
            ROOT / "templates",
            auth / "admin" / "templates",
            auth / "auth" / "templates",
        )
        for path in sorted(folder.rglob("*.html"))
    ]


def test_our_reading_of_templates_finds_what_djangos_finds() -> None:
    paths = templates_to_compare()
    ours = {path: {key for _, _, key in catalogues._of_template(path)} for path in paths}
    theirs = {path: by_django(path) for path in paths}
    assert sum(map(len, theirs.values())) > 150
    assert {
        path.name: theirs[path] ^ ours[path] for path in paths if theirs[path] != ours[path]
    } == {}


GOOD = 'msgid "Page %(number)s"\nmsgstr "La page %(number)s"\n'
DEFECTS = {
    "untranslated": 'msgid "Hide"\nmsgstr ""\n',
    "fuzzy": '#, fuzzy\nmsgid "Hide"\nmsgstr "Cacher"\n',
    "slots": 'msgid "Page %(number)s"\nmsgstr "La page %(nombre)s"\n',
    "slots ": 'msgid "Page %(number)s"\nmsgstr "La page %(number)"\n',
    "slots  ": 'msgid "Page {name}"\nmsgstr "La page {nom}"\n',
    "slots   ": 'msgid "%(n)s day"\nmsgid_plural "%(n)s days"\n'
    'msgstr[0] "%(n)s jour"\nmsgstr[1] "jours"\n',
    "plural_forms": 'msgid "day"\nmsgid_plural "days"\nmsgstr[0] "jour"\nmsgstr[1] ""\n',
    "line_break": 'msgid "Hide"\nmsgstr "\\nCacher"\n',
    "hidden": 'msgid "Hide"\nmsgstr "Ca\u202echer"\n',
    "same": 'msgid "Hide"\nmsgstr "Hide"\n',
}


def test_sound_catalogue_has_no_problem(tmp_path: Path) -> None:
    assert codes(catalogue(tmp_path, GOOD)) == []


@pytest.mark.parametrize("defect", DEFECTS)
def test_each_planted_defect_is_named(tmp_path: Path, defect: str) -> None:
    assert codes(catalogue(tmp_path, DEFECTS[defect])) == [defect.strip()]


ARABIC = (
    "nplurals=6; plural=(n==0 ? 0 : n==1 ? 1 : n==2 ? 2 : n%100>=3 && n%100<=10 ? 3 : "
    "n%100>=11 && n%100<=99 ? 4 : 5);"
)
DAYS = ("لا أيام (%(n)s)", "%(n)s يوم", "%(n)s يومان", "%(n)s أيام", "%(n)s يومًا", "%(n)s يوم")


def counted(*said: str) -> str:
    """The message of the days with these plural forms."""
    forms = "".join(f'msgstr[{at}] "{form}"\n' for at, form in enumerate(said))
    return f'msgid "%(n)s day"\nmsgid_plural "%(n)s days"\n{forms}'


def arabic(folder: Path, body: str, language: str = "ar", plurals: str = ARABIC) -> Catalog:
    lines = [f"Language: {language}"] if language else []
    lines += ["Content-Type: text/plain; charset=utf-8"]
    lines += [f"Plural-Forms: {plurals}"] if plurals else []
    head = "".join(f'"{line}\\n"\n' for line in lines)
    path = folder / "django.po"
    path.write_text(f'msgid ""\nmsgstr ""\n{head}\n{body}', "utf-8")
    return catalogues.read(path)


# Source: the table of languages.md 2.3, in its order, each defect with the code it is named by.
PLANTED = {
    "untranslated": ("untranslated", 'msgid "Hide"\nmsgstr ""\n'),
    "fuzzy": ("fuzzy", '#, fuzzy\nmsgid "Hide"\nmsgstr "إخفاء"\n'),
    "placeholder lost in one plural": ("slots", counted(*DAYS[:4], "يومًا", DAYS[5])),
    "placeholder misspelt": ("slots", 'msgid "To %(day)s"\nmsgstr "إلى %(dya)s"\n'),
    "placeholder without type": ("slots", 'msgid "To %(day)s"\nmsgstr "إلى %(day)"\n'),
    "leading newline": ("line_break", 'msgid "Hide"\nmsgstr "\\nإخفاء"\n'),
    "{nom} for {name}": ("slots", 'msgid "To {name}"\nmsgstr "إلى {nom}"\n'),
    "one plural form empty": ("plural_forms", counted(*DAYS[:2], "", *DAYS[3:])),
    "4 of 6 plural forms absent": ("plural_forms", counted(*DAYS[:2])),
    "English left in place": ("same", 'msgid "Hide"\nmsgstr "Hide"\n'),
    "U+202E inside": ("hidden", 'msgid "Hide"\nmsgstr "إخـ\u202eفاء"\n'),
}


@pytest.mark.parametrize("defect", PLANTED)
def test_each_defect_that_common_tools_let_through_is_named_in_arabic(
    tmp_path: Path, defect: str
) -> None:
    code, body = PLANTED[defect]
    assert codes(arabic(tmp_path, counted(*DAYS) + 'msgid "Out"\nmsgstr "خروج"\n')) == []
    assert codes(arabic(tmp_path, body)) == [code]


def test_form_of_one_number_alone_may_say_it_in_words(tmp_path: Path) -> None:
    """As gettext's own check has it: "two days" needs no 2 where only two takes this form."""
    dual = counted("لا أيام", "يوم واحد", "يومان", *DAYS[3:])
    assert codes(arabic(tmp_path, dual)) == []
    for form in range(3, 6):
        lost = [*DAYS[:form], "أيام", *DAYS[form + 1 :]]
        assert codes(arabic(tmp_path, counted(*lost))) == ["slots"]
    # In French one form serves 0 and 1: no word says both.
    french = counted("un jour", "%(n)s jours")
    assert codes(arabic(tmp_path, french, "fr", "nplurals=2; plural=(n > 1);")) == ["slots"]


def test_header_must_name_the_language_and_count_as_cldr_does(tmp_path: Path) -> None:
    sound = counted(*DAYS)
    assert codes(arabic(tmp_path, sound, language="")) == ["no_language"]
    assert codes(arabic(tmp_path, sound, language="tongues")) == ["no_language"]
    # Babel's own rule of Arabic, which it would take where the header is silent.
    swapped = ARABIC.replace("n%100>=11 && n%100<=99", "n%100>=0 && n%100<=2")
    for plurals in (swapped, "", ARABIC.replace("n==2", "n==3"), "nplurals=6; plural=(n + );"):
        assert codes(arabic(tmp_path, sound, plurals=plurals)) == ["plural_header"]
    two = "nplurals=2; plural=(n != 1);"
    assert codes(arabic(tmp_path, counted(*DAYS[:2]), plurals=two)) == ["plural_header"]
    assert codes(arabic(tmp_path, counted("%(n)s día", "%(n)s días"), "es", two)) == []


def test_catalogue_with_a_planted_defect_is_not_built(tmp_path: Path) -> None:
    for code, body in PLANTED.values():
        arabic(tmp_path, body)
        with pytest.raises(ValueError, match=code):
            catalogues.build(tmp_path / "django.po")
        assert [path.name for path in tmp_path.iterdir()] == ["django.po"]
    arabic(tmp_path, counted(*DAYS))
    assert catalogues.build(tmp_path / "django.po") == 1
    with (tmp_path / "django.mo").open("rb") as file:
        built = GNUTranslations(file)
    said = [built.ngettext("%(n)s day", "%(n)s days", n) for n in (0, 1, 2, 3, 11, 100, 102, 103)]
    assert said == [DAYS[at] for at in (0, 1, 2, 3, 4, 5, 5, 3)]


def test_catalogue_must_say_its_language(tmp_path: Path) -> None:
    assert codes(catalogue(tmp_path, GOOD, language="")) == ["no_language"]


def test_word_that_is_the_same_in_both_languages_is_said_to_be(tmp_path: Path) -> None:
    assert codes(catalogue(tmp_path, '# same word\nmsgid "Page"\nmsgstr "Page"\n')) == []
    assert codes(catalogue(tmp_path, 'msgid "%(a)s, %(b)s"\nmsgstr "%(a)s, %(b)s"\n')) == []


def test_missing_and_left_over_strings_are_told_apart(tmp_path: Path) -> None:
    template = Catalog()
    template.add("Hide")
    template.add(("day", "days"))
    problems = catalogues.problems(catalogue(tmp_path, GOOD), template)
    assert [str(problem) for problem in problems] == [
        "missing: 'Hide'",
        "missing: 'day'",
        "left_over: 'Page %(number)s'",
    ]


def test_file_that_is_no_catalogue_is_refused(tmp_path: Path) -> None:
    (tmp_path / "django.po").write_text('msgid "a"\nrubbish')
    with pytest.raises(ValueError, match="misformatted"):
        catalogues.read(tmp_path / "django.po")


def test_built_file_answers_as_the_catalogue_does(tmp_path: Path) -> None:
    body = GOOD + 'msgid "day"\nmsgid_plural "days"\nmsgstr[0] "jour"\nmsgstr[1] "jours"\n'
    built = GNUTranslations(BytesIO(catalogues.compiled(catalogue(tmp_path, body))))
    assert built.gettext("Page %(number)s") == "La page %(number)s"
    assert [built.ngettext("day", "days", n) for n in (0, 1, 2)] == ["jour", "jour", "jours"]
