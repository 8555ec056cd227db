"""Metadata beside a cleared picture: what they say, and that exiftool and exiv2 read it so."""

import json
import subprocess
from dataclasses import replace
from datetime import date
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.consent.values import Form, NameForm, Person, Picture, Sitter, Use
from relations.people.values import Birth, Risk
from relations.pictures.values import Others, Recognisable
from relations.uses import sidecar
from relations.uses.sidecar import Release, Sidecar

MADE = date(2024, 2, 29)
ON = date(2026, 11, 23)
FREE = Form(
    given_on=MADE,
    sittings=frozenset({"S1"}),
    uses=frozenset(Use),
    is_filed=True,
    is_read=True,
    is_complete=True,
)
# Source: checks.md 3, [T]: IPTC Photo Metadata and PLUS LDF, "age of the youngest model pictured
# in the image, at the time that the image was made", in four independent code bases. The last
# three rows are our own reading of it: what is not sure is unknown.
AGES = [
    ([(40, 40), (17, 17), (22, 22)], "AG-A17"),
    ([(15, 15)], "AG-A15"),
    ([(24, 24)], "AG-A24"),
    ([(25, 25)], "AG-A25"),
    ([(71, 71)], "AG-A25"),
    ([(14, 14)], "AG-U14"),
    ([(3, 3)], "AG-U14"),
    ([sidecar.NOT_TOLD, (30, 30)], "AG-UNK"),
    ([(25, 25), (27, 27), (30, 30)], "AG-A25"),  # as IPTC's reference picture says of these
    ([], "AG-UNK"),
    ([(17, 18)], "AG-UNK"),
    ([(25, 40), (26, 26)], "AG-A25"),
    ([sidecar.NOT_TOLD, (12, 12)], "AG-U14"),
]


@pytest.mark.parametrize(("ages", "code"), AGES)
def test_age_disclosure_is_of_the_youngest_when_the_picture_was_made(ages, code) -> None:
    assert sidecar.age_disclosure(ages) == code
    assert sidecar.age_disclosure(ages[::-1]) == code


@pytest.mark.parametrize(
    ("birth", "met", "years"),
    [
        (Birth.on(date(2006, 2, 28)), False, (18, 18)),
        (Birth.on(date(2006, 3, 1)), False, (17, 17)),
        (Birth(date(2006, 1, 1), date(2006, 12, 31)), False, (17, 18)),
        (Birth(date(2006, 1, 1), date(2006, 12, 31)), True, (17, 18)),
        (None, True, (18, 150)),
        (None, False, (0, 150)),
    ],
)
def test_age_lies_between_years_where_only_those_are_known(birth, met, years) -> None:
    assert sidecar.age(birth, MADE, met_as_adult=met) == years


def somebody(code="01", *, years=40, risk=Risk.ORDINARY, form=FREE, **rest) -> Person:
    """Somebody who was so old on the day of the picture."""
    birth = None if years is None else Birth.on(date(2024 - years, 1, 1))
    forms = () if form is None else (form,)
    return Person(code, birth=birth, risk=risk, forms=forms, **rest)


def frame(*sitters, others=Others.NONE) -> Picture:
    """A picture with these in it, by code, or by code and whether they can be recognised."""
    seen = [(one, "yes") if isinstance(one, str) else one for one in sitters]
    frame = tuple(Sitter(code, Recognisable(seen)) for code, seen in seen)
    return Picture("K01", "S1", MADE, frame, others=others)


def by_code(*people: Person) -> dict[str, Person]:
    return {person.code: person for person in people}


@pytest.mark.parametrize(
    ("people", "told"),
    [
        ([somebody(years=40)], "AG-A25"),
        ([somebody(years=40, risk=Risk.GRAVE)], "AG-A25"),
        ([somebody(years=None)], "AG-UNK"),
        ([somebody(years=15)], "AG-A15"),
        ([somebody(years=9)], "AG-U14"),
        ([somebody(years=15, risk=Risk.RAISED)], None),
        ([somebody(years=9, risk=None)], None),
        ([somebody(years=15), somebody("02", years=50, risk=Risk.GRAVE)], None),
        ([somebody(years=18)], None),
        ([somebody(years=24)], None),
    ],
)
def test_exact_age_is_told_of_a_child_at_ordinary_risk_and_of_nobody_else(people, told) -> None:
    """Our rule, stricter than the standard asks; no other source."""
    picture = frame(*[person.code for person in people])
    assert sidecar.age_told(picture, by_code(*people)) == told


def test_age_of_nobody_who_cannot_be_recognised_is_told() -> None:
    people = by_code(somebody(years=40), somebody("02", years=9))
    assert sidecar.age_told(frame("01", ("02", "no")), people) == "AG-A25"
    assert sidecar.age_told(frame("01", ("02", "unsure")), people) == "AG-U14"
    assert sidecar.age_told(frame(("01", "no"), ("02", "no")), people) is None


LIMITS = [
    {"uses": frozenset({Use.EXHIBITION, Use.BOOK})},
    {"only_countries": frozenset({"FR"})},
    {"not_countries": frozenset({"FR"})},
    {"first_day": ON},
    {"last_day": ON},
    {"is_faceless": True},
    {"shows_first": True},
    {"approves_captions": True},
    {"has_own_condition": True},
    {"pictures_refused": frozenset({"K99"})},
]


def status(*people, **rest) -> Release:
    found = by_code(*people)
    return sidecar.release(frame(*found, **rest), found, Use.EXHIBITION, on=ON)


def test_everything_granted_without_limit_is_unlimited() -> None:
    assert status(somebody(), somebody("02")) == "MR-UMR"


@pytest.mark.parametrize("limit", LIMITS, ids=lambda limit: next(iter(limit)))
def test_any_limit_makes_it_limited(limit) -> None:
    limited = somebody(form=replace(FREE, **limit))
    assert status(limited) == "MR-LMR"
    assert status(somebody("02"), limited) == "MR-LMR"


@pytest.mark.parametrize(
    "nothing",
    [
        somebody(form=None),
        somebody(form=replace(FREE, is_filed=False)),
        somebody(form=replace(FREE, last_day=date(2026, 11, 22))),
        somebody(form=replace(FREE, uses=frozenset({Use.BOOK}))),
        somebody(taken_back={"exhibition": ON}),
        somebody(taken_back={"all": ON}),
    ],
)
def test_never_given_ended_refused_or_taken_back_is_none(nothing) -> None:
    assert status(nothing) == "MR-NON"
    assert status(nothing, somebody("02")) == "MR-LMR"  # one of several is missing


def test_another_use_taken_back_limits() -> None:
    assert status(somebody(taken_back={"web": ON})) == "MR-LMR"


def test_nobody_who_can_be_recognised_needs_no_release() -> None:
    people = by_code(somebody(form=None))
    use = {"use": Use.EXHIBITION, "on": ON}
    assert sidecar.release(frame(("01", "no")), people, **use) == "MR-NAP"
    assert status(somebody(), others=Others.SETTLED) == "MR-LMR"
    unlooked = frame(("01", "no"), others=Others.UNRESOLVED)
    assert sidecar.release(unlooked, people, **use) == "MR-LMR"


@pytest.mark.parametrize(
    ("shown", "agreed", "own", "name"),
    [
        ("pseudonym", ["Dawn"], "Zofia Wrzos", "Dawn"),
        ("pseudonym", [None], "Zofia Wrzos", ""),
        ("pseudonym", ["Dawn", "Dusk"], "Zofia Wrzos", ""),
        ("pseudonym", ["Dawn", None], "Zofia Wrzos", ""),
        ("first", ["Zofia"], "Zofia Wrzos", "Zofia"),
        ("first", [None], "Zofia Wrzos", ""),
        ("full", [None], "Zofia Wrzos", "Zofia Wrzos"),
        ("full", ["Z. Wrzos", "Z. Wrzos"], "Zofia Wrzos", "Z. Wrzos"),
        ("full", [None], "", ""),
        ("none", ["Dawn"], "Zofia Wrzos", ""),
        ("full", [], "Zofia Wrzos", ""),
    ],
)
def test_only_the_agreed_public_name_is_told(shown, agreed, own, name) -> None:
    forms = [replace(FREE, agreed_name=one) for one in agreed]
    assert sidecar.public_name(NameForm(shown), forms, own) == name


TOLD = Sidecar(
    title="K01",
    release=Release.LIMITED,
    usage_terms="Exhibition wall, France; until 31 December 2029.",
    release_ids=("60022-64", "70042-74"),
    age="AG-A17",
    people=("“Dawn”", "حورية", "<Zofia & Co>"),
    caption="At the mole,\nbefore <the> tide & after “it”.",
    alt_text="A hand on a rope",
    terms_in={"fr": "Mur d’exposition, France ; jusqu’au 31 décembre 2029."},
)
BARE = Sidecar("K02", Release.NOT_APPLICABLE, "Book.")


def test_what_is_empty_is_left_out() -> None:
    assert set(sidecar.properties(TOLD)) - set(sidecar.properties(BARE)) == {
        "dc:description",
        "Iptc4xmpCore:AltTextAccessibility",
        "Iptc4xmpExt:PersonInImage",
        "plus:ModelReleaseID",
        "plus:MinorModelAgeDisclosure",
    }


def test_no_day_no_model_age_and_no_note_on_the_sitters_is_told() -> None:
    told = sidecar.written(sidecar.properties(TOLD)).decode()
    assert not [word for word in ("Date", "Ext:ModelAge", "Addl", "creator") if word in told]


# As exiftool 12.57 and exiv2 0.27.6 name them. Source: checks.md 3.
EXIFTOOL = {
    "dc:title": "XMP-dc:Title",
    "dc:description": "XMP-dc:Description",
    "Iptc4xmpCore:AltTextAccessibility": "XMP-iptcCore:AltTextAccessibility",
    "Iptc4xmpExt:AddlModelInfo": "XMP-iptcExt:AdditionalModelInformation",
    "Iptc4xmpExt:ModelAge": "XMP-iptcExt:ModelAge",
    "Iptc4xmpExt:PersonInImage": "XMP-iptcExt:PersonInImage",
    "photoshop:DateCreated": "XMP-photoshop:DateCreated",
    "plus:PLUSVersion": "XMP-plus:PLUSVersion",
    "plus:ModelReleaseStatus": "XMP-plus:ModelReleaseStatus",
    "plus:ModelReleaseID": "XMP-plus:ModelReleaseID",
    "plus:MinorModelAgeDisclosure": "XMP-plus:MinorModelAgeDisclosure",
    "plus:PropertyReleaseStatus": "XMP-plus:PropertyReleaseStatus",
    "plus:DataMining": "XMP-plus:DataMining",
    "xmpRights:Marked": "XMP-xmpRights:Marked",
    "xmpRights:UsageTerms": "XMP-xmpRights:UsageTerms",
}
EXIV2 = {"Iptc4xmpExt": "iptcExt", "Iptc4xmpCore": "iptc"}
# It takes the address off these codes (-n).
SHORTENED = {
    f"plus:{name}"
    for name in ("ModelReleaseStatus", "MinorModelAgeDisclosure", "PropertyReleaseStatus")
}


def run(*command: str) -> str:
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stderr == ""
    return done.stdout


def by_exiftool(file: Path) -> dict[str, object]:
    (found,) = json.loads(run("exiftool", "-j", "-G1", "-n", "-XMP:all", str(file)))
    return {name: value for name, value in found.items() if name != "SourceFile"}


def as_exiftool(told: dict[str, sidecar.Value]) -> dict[str, object]:
    """The same as exiftool prints it: one of a bag as itself, a language beside the name."""
    found: dict[str, object] = {}
    for name, value in told.items():
        tag = EXIFTOOL[name]
        if isinstance(value, tuple):
            found[tag] = value[0] if len(value) == 1 else list(value)
        elif isinstance(value, str):
            found[tag] = value.rpartition("/")[2] if name in SHORTENED else value
        else:
            for language, words in value.items():
                found[tag if language == "x-default" else f"{tag}-{language}"] = words
    return found | {"XMP-xmpRights:Marked": True}


def by_exiv2(file: Path) -> dict[str, str]:
    lines = run("exiv2", "-PXkv", str(file)).splitlines()
    return {key: rest[0] if rest else "" for key, *rest in (line.split(None, 1) for line in lines)}


def as_exiv2(told: dict[str, sidecar.Value]) -> dict[str, str]:
    found = {}
    for name, value in told.items():
        prefix, _, tag = name.partition(":")
        key = f"Xmp.{EXIV2.get(prefix, prefix)}.{tag}"
        if isinstance(value, tuple):
            found[key] = ", ".join(value)
        elif isinstance(value, str):
            found[key] = value
        else:
            found[key] = ", ".join(f'lang="{tag}" {words}' for tag, words in value.items())
    return found


def kept(told: dict[str, sidecar.Value], folder: Path) -> Path:
    file = folder / "S-0042-03.xmp"
    file.write_bytes(sidecar.written(told))
    return file


# Source: checks.md 3, the hand-made sidecar and what both readers printed of it.
BY_HAND: dict[str, sidecar.Value] = {
    "plus:PLUSVersion": "1.2.0",
    "plus:ModelReleaseStatus": sidecar.plus("MR-LMR"),
    "plus:MinorModelAgeDisclosure": sidecar.plus("AG-A17"),
    "plus:PropertyReleaseStatus": sidecar.plus("PR-NAP"),
    "plus:DataMining": sidecar.plus("DMI-PROHIBITED"),
    "photoshop:DateCreated": "2024-02-29",
    "Iptc4xmpExt:AddlModelInfo": "Signed with interpreter",
    "xmpRights:Marked": "True",
    "plus:ModelReleaseID": ("REL-0042-2",),
    "Iptc4xmpExt:PersonInImage": ("“Dawn”",),
    "Iptc4xmpExt:ModelAge": ("17",),
    "dc:title": {"x-default": "Portrait 42", "fr": "Portrait no 42"},
    "xmpRights:UsageTerms": {"x-default": "Exhibition and book only; until 2029-12-31"},
}
PRINTED = {
    "XMP-plus:PLUSVersion": "1.2.0",
    "XMP-plus:ModelReleaseStatus": "MR-LMR",
    "XMP-plus:MinorModelAgeDisclosure": "AG-A17",
    "XMP-plus:PropertyReleaseStatus": "PR-NAP",
    "XMP-plus:DataMining": "http://ns.useplus.org/ldf/vocab/DMI-PROHIBITED",
    "XMP-photoshop:DateCreated": "2024:02:29",
    "XMP-iptcExt:AdditionalModelInformation": "Signed with interpreter",
    "XMP-xmpRights:Marked": True,
    "XMP-plus:ModelReleaseID": "REL-0042-2",
    "XMP-iptcExt:PersonInImage": "“Dawn”",
    "XMP-iptcExt:ModelAge": 17,
    "XMP-dc:Title": "Portrait 42",
    "XMP-dc:Title-fr": "Portrait no 42",
    "XMP-xmpRights:UsageTerms": "Exhibition and book only; until 2029-12-31",
}


@pytest.mark.needs("exiftool")
def test_exiftool_reads_the_hand_made_sidecar_as_the_design_lists_it(tmp_path) -> None:
    file = kept(BY_HAND, tmp_path)
    assert by_exiftool(file) == PRINTED
    assert run("exiftool", "-s3", "-validate", str(file)).strip() == "OK"
    said = run("exiftool", "-s", "-G1", "-XMP-plus:all", str(file))
    assert "ModelReleaseStatus              : Limited or Incomplete Model Releases" in said
    assert "MinorModelAgeDisclosure         : Age 17" in said


@pytest.mark.needs("exiv2")
def test_exiv2_reads_the_hand_made_sidecar_as_the_design_lists_it(tmp_path) -> None:
    file = kept(BY_HAND, tmp_path)
    assert by_exiv2(file) == as_exiv2(BY_HAND)
    said = " ".join(run("exiv2", "-px", str(file)).split())
    assert "Xmp.plus.ModelReleaseStatus XmpText 38 Limited or Incomplete Model Releases" in said
    assert "Xmp.plus.ModelReleaseID XmpBag 1 REL-0042-2" in said
    assert "Xmp.iptcExt.PersonInImage XmpBag 1 “Dawn”" in said


@pytest.mark.needs("exiftool")
@pytest.mark.parametrize("told", [TOLD, BARE], ids=["all", "little"])
def test_exiftool_reads_back_what_was_told(told, tmp_path) -> None:
    said = sidecar.properties(told)
    file = kept(said, tmp_path)
    assert by_exiftool(file) == as_exiftool(said)
    assert run("exiftool", "-s3", "-validate", str(file)).strip() == "OK"


@pytest.mark.needs("exiv2")
@pytest.mark.parametrize("told", [TOLD, BARE], ids=["all", "little"])
def test_exiv2_reads_back_what_was_told(told, tmp_path) -> None:
    # Told on one line: it prints line by line.
    said = sidecar.properties(replace(told, caption=told.caption.replace("\n", " ")))
    assert by_exiv2(kept(said, tmp_path)) == as_exiv2(said)


@pytest.mark.needs("exiftool")
@pytest.mark.parametrize("code", ["AG-A14", "MR-LPR"])
def test_codes_that_are_none_are_not_known_to_the_reader(code, tmp_path) -> None:
    """Source: checks.md 0, trap 10; so the codes that we write are told from slips."""
    name = "MinorModelAgeDisclosure" if code.startswith("AG") else "ModelReleaseStatus"
    file = kept({f"plus:{name}": sidecar.plus(code)}, tmp_path)
    assert "Unknown" in run("exiftool", "-s3", f"-XMP-plus:{name}", str(file))


@pytest.mark.needs("exiftool")
def test_every_code_that_can_be_told_is_known_to_the_reader(tmp_path) -> None:
    ages = ["AG-UNK", "AG-U14", *(f"AG-A{years}" for years in range(15, 26))]
    for number, code in enumerate(ages):
        told = {
            "plus:MinorModelAgeDisclosure": sidecar.plus(code),
            "plus:ModelReleaseStatus": sidecar.plus(list(Release)[number % 4]),
            "plus:PropertyReleaseStatus": sidecar.plus(sidecar.NO_PROPERTY_RELEASE),
        }
        (tmp_path / f"{number:02}.xmp").write_bytes(sidecar.written(told))
    said = run("exiftool", "-q", "-s3", "-XMP-plus:all", "-ext", "xmp", str(tmp_path))
    assert len(said.splitlines()) >= 3 * len(ages)
    assert "Unknown (" not in said
    assert {sidecar.age_disclosure([(years, years)]) for years in range(100)} < set(ages)


@given(st.text(), st.text())
def test_whatever_is_said_is_well_formed_and_stands_as_it_was_said(one, two) -> None:
    told = {"dc:title": {"x-default": one}, "plus:ModelReleaseID": (one, two)}
    root = ElementTree.fromstring(sidecar.written(told))  # our own bytes
    found = [item.text or "" for item in root.iter() if item.tag.endswith("}li")]
    said = ["".join(filter(sidecar._is_in_xml, text)) for text in (one, one, two)]
    assert found == said


def test_property_of_no_known_namespace_is_an_error() -> None:
    with pytest.raises(KeyError):
        sidecar.written({"xmp:Rating": "5"})
