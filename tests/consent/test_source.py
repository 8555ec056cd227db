"""A change in the artist's own words sends its translations back; old forms keep theirs."""

import os
import subprocess
import sys

import pytest

from relations.consent import source
from relations.consent.approvals import freeze
from relations.consent.values import ClauseState
from relations.consent.wordings import write_wording
from tests import cast
from tests.consent import desk
from tests.consent.test_wordings import refused, texts

pytestmark = pytest.mark.django_db


def changed(held, language="en", labels=None, **clauses):
    return write_wording(
        language=language, texts=texts(held[language], **clauses), labels=labels, by=cast.artist()
    )


def states(wording):
    return dict(wording.clauses.filter(paper="form").values_list("key", "state"))


def test_changed_clause_sends_its_translations_back_and_no_other_clause():
    held = desk.wordings()
    for tag in ("en", "fr"):
        for clause in held[tag].clauses.all():
            desk.approve(clause)
    changed(held, who=("Who we are", "We are three."))
    assert source.latest("fr") == held["fr"], "nobody can print it yet"
    found = states(held["fr"])
    assert found.pop("who") == ClauseState.DRAFTED
    assert set(found.values()) == {ClauseState.APPROVED}
    late = held["fr"].clauses.get(paper="form", key="who")
    assert (late.read_back, late.approved_by, late.why) == ("", None, "")
    assert source.behind(held["fr"]) == {"who"}
    assert [one.name for one in held["fr"].clauses.all() if source.is_behind(one)] == ["who"]
    assert not source.is_behind(held["en"].clauses.get(paper="form", key="who"))
    assert states(held["en"])["who"] == ClauseState.TRANSLATED


def test_frozen_translation_stays_and_its_next_version_is_opened():
    held = desk.frozen("en", "fr")
    changed(held, who=("Who we are", "We are three."))
    new = source.latest("fr")
    assert (new.version, new.frozen_at, new.written_by) == (2, None, held["fr"].written_by)
    assert states(new)["who"] == ClauseState.DRAFTED
    assert set(states(held["fr"]).values()) == {ClauseState.APPROVED}
    held["fr"].refresh_from_db()
    assert held["fr"].frozen_at


def test_change_of_a_translation_sends_nothing_back():
    held = desk.frozen("en", "fr", "ar")
    changed(held, language="fr", who=("Qui", "Trois."))
    assert (source.latest("ar"), source.latest("en")) == (held["ar"], held["en"])


def test_change_of_a_line_alone_opens_frozen_translations_to_be_compared():
    held = desk.frozen("en", "fr")
    own = changed(held, labels={"yes": "yes!"})
    assert own.lines_edition == 2
    new = source.latest("fr")
    assert (new.version, new.lines_edition) == (2, 1)
    assert set(states(new).values()) == {ClauseState.APPROVED}
    assert source.latest("ar") == held["ar"], "what is not frozen waits anyway"


def test_only_what_was_read_on_the_same_edition_may_be_printed():
    held = desk.frozen("en", "fr")
    source.refuse_unready(held["en"], held["fr"])
    new = changed(held, who=("Who we are", "We are three."))
    assert refused(source.refuse_unready, first=new, second=held["fr"]) == ("first_unread",)
    desk.approve(new.clauses.get(paper="form", key="who"))
    freeze(wording=new, by=desk.reader(), at=desk.AT)
    assert refused(source.refuse_unready, first=new, second=held["fr"]) == ("editions_differ",)
    again = source.latest("fr")
    assert refused(source.refuse_unready, first=new, second=again) == ("second_unread",)
    write_wording(language="fr", texts=texts(again), stands={"who"}, by=cast.artist())
    desk.approve(again.clauses.get(paper="form", key="who"))
    freeze(wording=again, by=desk.reader(), at=desk.AT)
    source.refuse_unready(new, again)
    source.refuse_pair(new, held["fr"])


def test_two_wordings_that_do_not_belong_together_are_refused():
    held = desk.wordings()
    assert refused(source.refuse_pair, first=held["fr"], second=held["fr"]) == ("same_language",)
    held["ar"].clauses.filter(paper="form", key="day").delete()
    assert refused(source.refuse_pair, first=held["fr"], second=held["ar"]) == ("clauses_differ",)


def test_language_the_artist_writes_is_a_setting(settings):
    held = desk.wordings()
    assert source.own() == held["en"]
    assert source.is_own("en") and source.followed("en") == {}
    settings.RELATIONS_SOURCE_LANGUAGE = "fr"
    assert source.own() == held["fr"]
    assert not source.is_own("en") and source.followed("en")["who"].wording == held["fr"]
    settings.RELATIONS_SOURCE_LANGUAGE = "sv"
    assert source.own() is None and source.followed("fr") == {}
    assert not source.is_behind(held["fr"].clauses.first())


@pytest.mark.parametrize(
    ("said", "is_taken"), [("fr", True), ("zh-Hant", True), ("English", False)]
)
def test_setting_that_names_no_language_stops_loudly(said, is_taken):
    ran = subprocess.run(
        [sys.executable, "-c", "from relations import settings"],
        env={**os.environ, "RELATIONS_SOURCE_LANGUAGE": said},
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert (ran.returncode == 0) == is_taken
    assert ("must be a language such as en" in ran.stderr) != is_taken


def test_copy_of_a_clause_carries_all_that_was_read_of_it():
    held = desk.frozen("fr")
    clause = held["fr"].clauses.first()
    copy = source.carry(clause, held["ar"])
    assert (copy.wording, copy.pk != clause.pk) == (held["ar"], True)
    assert (copy.read_back, copy.approved_by, copy.text) == (
        clause.read_back, clause.approved_by, clause.text
    )  # fmt: skip
