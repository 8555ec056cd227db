"""What no module, template or script of the site does, and what its settings are behind TLS.

Each answers a requirement in asvs.md, which stands beside this file.
"""

import ast
import json
import math
import re
from collections.abc import Iterator
from contextlib import closing
from functools import cache
from pathlib import Path

import pytest
from django.contrib.sessions.backends.base import VALID_KEY_CHARS
from django.contrib.sessions.backends.db import SessionStore
from django.urls import URLPattern, URLResolver, get_resolver

from relations.privacy.crypt import derive
from tests import cast
from tests.clone import ROOT as PROJECT
from tests.clone import Clone
from tests.house.rooms import PACKAGE, ROOT, Module, modules

TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))
SCRIPTS = sorted((PACKAGE / "static").glob("*.js"))
HOSTILE = "<script>alert(1)</script>\"'>&"


def imported(module: Module) -> tuple[str, ...]:
    """Everything a module imports, as one dotted name each."""
    return _imported(module.path)


@cache
def _imported(path: Path) -> tuple[str, ...]:
    """Each module is read once for all that is asked of its imports; its tree is not kept."""
    found: list[str] = []
    for node in ast.walk(Module(path).tree):
        if isinstance(node, ast.Import):
            found += (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and not node.level:
            found += (f"{node.module}.{alias.name}" for alias in node.names)
    return tuple(found)


def importers(*names: str) -> set[str]:
    """The modules that import any of these packages or names."""
    heads = tuple(f"{name}." for name in names)
    return {
        module.path.relative_to(PACKAGE).as_posix()
        for module in modules()
        if any(f"{one}.".startswith(heads) for one in imported(module))
    }


# What is typed stays text.


@pytest.mark.django_db
def test_markup_that_somebody_typed_is_shown_as_text(client):
    person = cast.person("91", HOSTILE, instruction=HOSTILE)
    cast.signed_in(client, cast.artist())
    for address in ("/people/", f"/person/{person.code}/", f"/people/{person.code}/mend/"):
        page = client.get(address)
        assert page.status_code == 200
        assert b"<script>alert" not in page.content
        assert b"&lt;script&gt;alert(1)&lt;/script&gt;&quot;&#x27;&gt;&amp;" in page.content


def test_no_template_switches_escaping_off():
    off = re.compile(r"\|\s*(safe|safeseq)\b|{%\s*autoescape\s+off")
    assert not [str(path) for path in TEMPLATES if off.search(path.read_text())]


def test_markup_is_put_together_in_five_places_only():
    assert importers("django.utils.safestring") == {
        "documents/templatetags/paper_words.py",
        "languages/templatetags/words.py",
        "referrals/drawn.py",  # what referrals/svg.py wrote, which escapes every word
        "uses/templatetags/uses_words.py",
    }
    assert importers("django.utils.html.format_html", "django.utils.html.mark_safe") == {
        "languages/templatetags/words.py"
    }


def test_no_template_holds_a_script_or_hears_an_event():
    inner = re.compile(r"<script(?![^>]*\bsrc=)|<script[^>]*>[^<]+|\son\w+\s*=|javascript:", re.I)
    assert not [str(path) for path in TEMPLATES if inner.search(path.read_text())]
    assert inner.search("<script>let a = {{ a }}</script>")
    assert inner.search('<a onclick="a()">')


# Where a statement holds the name of a table, which no placeholder can stand for: names of ours.
NAMES_TABLES = {
    "privacy/damage.py",
    "privacy/residue.py",
    "rights/backing_up.py",
    "rights/restoring.py",
}


def put_together(tree: ast.AST) -> Iterator[ast.Call]:
    """Calls that hand a database a text put together from values, or leave the models' own way."""
    for node in ast.walk(tree):
        if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)):
            continue
        name, first = node.func.attr, node.args[0] if node.args else None
        is_text = isinstance(first, ast.JoinedStr) or (
            isinstance(first, ast.BinOp) and isinstance(first.op, ast.Mod)
        )
        is_format = isinstance(first, ast.Call) and getattr(first.func, "attr", "") == "format"
        if name in {"raw", "extra"} or (name.startswith("execute") and (is_text or is_format)):
            yield node


def test_no_statement_is_put_together_from_values():
    found = {
        module.path.relative_to(PACKAGE).as_posix()
        for module in modules()
        if any(put_together(module.tree))
    }
    assert found <= NAMES_TABLES
    assert not importers("django.db.models.expressions.RawSQL")
    planted = ["Row.objects.raw('x')", "c.execute(f'{x}')", "c.execute('%s' % x)", "q.extra(x)"]
    assert all(any(put_together(ast.parse(line))) for line in planted)


def test_site_reads_no_xml_and_one_module_writes_tables_for_spreadsheets():
    readers = ("xml.etree", "xml.dom", "xml.sax.make_parser", "xml.sax.parse", "lxml", "defusedxml")
    assert not importers(*readers)
    assert not importers("openpyxl", "xlsxwriter", "odf")
    # What writes guards every cell; what reads shows it as text.
    assert importers("csv") == {"rights/in_csv.py", "people/contacts_tables.py"}
    assert not importers("pickle", "marshal", "shelve", "yaml")


# Ciphers, hashes and chance.


def test_one_module_knows_the_ciphers_and_only_approved_ones():
    assert importers("cryptography") == {"privacy/crypt.py"}
    (crypt,) = [module for module in modules("crypt") if module.room == "privacy"]
    names = {one.rpartition(".")[2] for one in imported(crypt) if one.startswith("cryptography")}
    ciphers = {"InvalidTag", "hashes", "AESGCM", "Argon2id", "HKDF", "HKDFExpand"}
    assert names == ciphers | {"padding", "rsa", "serialization"}  # to seal on a telephone
    assert importers("argon2") == set()  # Django calls it; its parameters are in hashers.py
    assert len(derive(bytes(32), b"", b"")) * 8 == 256


def test_no_weak_hash_is_used_but_in_the_codes_that_devices_know():
    weak = re.compile(r"\b(md5|sha1|sha-1)\b", re.I)
    users = {
        module.path.relative_to(PACKAGE).as_posix()
        for module in modules()
        for node in ast.walk(module.tree)
        if (
            isinstance(node, ast.Constant)
            and isinstance(node.value, str)
            and weak.fullmatch(node.value)
        )
        or (isinstance(node, ast.Attribute) and weak.fullmatch(node.attr))
    }
    assert users == {"privacy/codes.py"}


def test_what_must_not_be_guessed_comes_from_no_ordinary_chance():
    """Only the drawings of the rehearsal are made by it; others name its type, and are handed a
    generator of the system's."""
    from_chance = {one for module in modules() for one in imported(module) if "random" in one}
    assert from_chance == {"random", "random.Random"}
    made = {
        module.path.relative_to(PACKAGE).as_posix()
        for module in modules()
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Call) and ast.unparse(node.func) in {"Random", "random.Random"}
    }
    plain = [module for module in modules() if "random" in imported(module)]
    assert made == {module.path.relative_to(PACKAGE).as_posix() for module in plain}
    assert made == {"today/management/drawings.py"}


@pytest.mark.django_db
def test_key_of_a_session_is_long_and_comes_from_the_system():
    session = SessionStore()
    session.create()
    key = session.session_key or ""
    assert set(key) <= set(VALID_KEY_CHARS)
    assert len(key) * math.log2(len(set(VALID_KEY_CHARS))) >= 128
    made = "django.utils.crypto"
    tree = ast.parse(__import__(made, fromlist=["x"]).__loader__.get_source(made))
    assert any(isinstance(n, ast.Import) and n.names[0].name == "secrets" for n in ast.walk(tree))


# What is sent, and by whom.


def views(patterns: list[URLPattern | URLResolver]) -> Iterator[URLPattern]:
    for pattern in patterns:
        if isinstance(pattern, URLResolver):
            yield from views(pattern.url_patterns)
        else:
            yield pattern


def test_no_page_takes_a_form_without_its_token(settings):
    everywhere = list(views(get_resolver().url_patterns))
    assert len(everywhere) > 50
    exempt = [one.name for one in everywhere if getattr(one.callback, "csrf_exempt", False)]
    assert exempt == []
    assert "django.middleware.csrf.CsrfViewMiddleware" in settings.MIDDLEWARE


@pytest.mark.django_db
@pytest.mark.parametrize(
    "address",
    [
        "/.git/HEAD",
        "/manage.py",
        "/static/",
        "/static/../settings.py",
        "/static/..%2fsettings.py",
        "/static/%2e%2e/settings.py",
        "/var/real/keys.json",
        "/register.db",
    ],
)
def test_nothing_that_lies_beside_the_static_files_is_served(client, address):
    with closing(client.get("/static/site.css")) as sheet:
        assert b"".join(sheet).startswith((PACKAGE / "static" / "site.css").read_bytes()[:100])
    assert client.get(address).status_code == 404


def test_scripts_keep_nothing_in_the_browser_and_read_no_cookie():
    kept = re.compile(r"localStorage|sessionStorage|indexedDB|caches\b|document\.cookie", re.I)
    found = {path.name: set(kept.findall(path.read_text())) for path in SCRIPTS}
    assert found
    # What waits in the outbox is sealed; signing out takes it and the worker's pages away.
    assert found.pop("outbox.js") == {"indexedDB", "caches"}
    assert not any(found.values())


def test_name_of_a_file_that_is_sent_holds_what_we_made_only():
    """No name that was typed: literals, and the serial, number and ending of a paper of ours."""
    for module in modules("*views"):
        for node in ast.walk(module.tree):
            if not (isinstance(node, ast.Assign) and "Content-Disposition" in ast.unparse(node)):
                continue
            names = {part.id for part in ast.walk(node.value) if isinstance(part, ast.Name)}
            assert names <= {"serial", "number", "ending", "name"}, str(module)
    taken = [one for one in views(get_resolver().url_patterns) if "serial" in str(one.pattern)]
    converters = {type(one.pattern.converters["serial"]) for one in taken}
    assert len(converters) == 1
    regex = re.compile(converters.pop().regex)
    assert regex.fullmatch("70042-74")
    assert not [sign for sign in '"\\;\r\n/ ' if regex.fullmatch(f"70042-74{sign}")]


# The settings themselves, read as a server reads them.

SAID = """
import json
from django.conf import settings
print(json.dumps({name: getattr(settings, name) for name in dir(settings) if name.isupper()},
    default=str))
"""


def said(**environment):
    return json.loads(Clone(PROJECT).read(SAID, **environment))


def test_behind_tls_everything_is_sent_sealed():
    behind = said(RELATIONS_TLS="yes")
    assert behind["SECURE_SSL_REDIRECT"]
    assert behind["SESSION_COOKIE_SECURE"]
    assert behind["CSRF_COOKIE_SECURE"]
    assert behind["SECURE_HSTS_SECONDS"] >= 365 * 24 * 3600
    assert behind["SECURE_HSTS_INCLUDE_SUBDOMAINS"]
    assert behind["SECURE_PROXY_SSL_HEADER"] == ["HTTP_X_FORWARDED_PROTO", "https"]


def test_no_environment_switches_debugging_on():
    for environment in ({}, {"DEBUG": "yes"}, {"RELATIONS_DEBUG": "yes", "RELATIONS_TLS": "yes"}):
        assert said(**environment)["DEBUG"] is False
    assert "django.contrib.admin" not in said()["INSTALLED_APPS"]


def test_nothing_is_cached_on_the_way_out():
    kept = said()
    assert not [name for name in kept["MIDDLEWARE"] if "CacheMiddleware" in name]
    assert not importers("django.core.cache", "django.views.decorators.cache")
    assert kept["SESSION_ENGINE"] == "django.contrib.sessions.backends.db"
