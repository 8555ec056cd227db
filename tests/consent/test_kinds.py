"""Each kind of form holds what its way of giving needs, and nothing of another's."""

import json
import re

import pytest

from relations.consent import kinds, paper
from relations.consent.completeness import Way
from relations.consent.values import FormKind
from tests.consent.test_paper import WORDINGS, form


def page(kind: FormKind, one: str = "en", other: str = "ar") -> str:
    return paper.html(form(one, other, kind=kind))


# job.md, "What makes a form complete for its way of giving"; ids of boxes, keys of lines.
NEEDED = {
    FormKind.ADULT: {"way.signed", "way.with_support", "read_myself", "sitter", "supporter"},
    FormKind.CHILD: {
        *("childs_answer.yes", "childs_answer.no", "childs_words", "childs_reader"),
        *(f"authority.{n}.{r}" for n in ("first", "second") for r in ("parent", "court", "alone")),
        "again_at_18",
    },
    FormKind.CANNOT_READ: {
        *("read_to_me", "thumb_or_cross", "witness", "signed_on", "present_throughout"),
        *("witness_reads", "witness_apart"),
    },
    FormKind.SPOKEN: {"recording", "serial_spoken", "one_by_one", "ours", "signed_on"},
    FormKind.SIGN_LANGUAGE: {
        *("video", "serial_shown", "asked_singly", "interpreter", "interpreter_apart"),
        *("face_never", "ours", "signed_on", "language_pair"),
    },
    FormKind.GROUP: {
        *("frame_place", "frame_count", "own_form", "sitter"),
        *("recognisable.yes", "recognisable.no", "recognisable.unsure"),
    },
}
EVERY = {"copy_kept.yes", "copy_kept.no", "day", "explained_by"}
# What belongs to one kind alone.
OWN = {
    FormKind.CHILD: "authority.first.parent",
    FormKind.CANNOT_READ: "thumb_or_cross",
    FormKind.SPOKEN: "recording",
    FormKind.SIGN_LANGUAGE: "video",
    FormKind.GROUP: "frame_place",
}


def stands(what: str, shown: str) -> bool:
    label = WORDINGS["en"]["labels"].get(what)
    return f'id="t-{what}"' in shown or (label is not None and f">{label}</" in shown)


@pytest.mark.parametrize("kind", FormKind)
def test_kind_holds_all_that_its_way_needs(kind):
    shown = page(kind)
    missing = {what for what in NEEDED[kind] | EVERY if not stands(what, shown)}
    assert not missing


@pytest.mark.parametrize("kind", FormKind)
def test_kind_holds_nothing_of_another_kind(kind):
    shown = page(kind)
    others = {what for other, what in OWN.items() if other is not kind}
    assert not {what for what in others if stands(what, shown)}


@pytest.mark.parametrize("kind", FormKind)
def test_points_and_numbers_are_the_same_on_every_kind(kind):
    assert re.findall(r"<h1>(\d+)", page(kind)) == re.findall(r"<h1>(\d+)", page(FormKind.ADULT))


@pytest.mark.parametrize("kind", FormKind)
def test_no_box_has_the_id_of_another(kind):
    found = re.findall(r'id="(t-[^"]+)"', page(kind))
    assert len(found) == len(set(found)) > 40


@pytest.mark.parametrize("lang", WORDINGS)
def test_every_language_has_the_words_of_every_kind(lang):
    labels = set(WORDINGS[lang]["labels"])
    assert not {label for giving in kinds.KINDS.values() for label in giving.labels} - labels
    assert json.dumps(WORDINGS[lang]["labels"]["heading"])


def test_way_of_giving_follows_from_the_kind_where_it_has_one():
    found = {kind: kinds.default_way(kind) for kind in FormKind}
    assert found == {
        FormKind.ADULT: None,
        FormKind.GROUP: None,
        FormKind.CHILD: Way.CHILD,
        FormKind.CANNOT_READ: Way.MARK_AND_WITNESS,
        FormKind.SPOKEN: Way.SPOKEN,
        FormKind.SIGN_LANGUAGE: Way.SIGN_LANGUAGE,
    }


@pytest.mark.parametrize(
    ("way", "kind"),
    [(Way.SPOKEN, FormKind.SPOKEN), (Way.SIGNED, FormKind.ADULT), ("", FormKind.ADULT)],
)
def test_old_paper_is_of_the_kind_of_its_way(way, kind):
    assert kinds.kind_of(way) is kind
