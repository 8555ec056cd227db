"""The map for one trusted person: other codes, half-years, and stubs for all who are left out."""

import re
import subprocess
from io import BytesIO

import pikepdf
import pytest

from relations.people.models import Participant
from relations.referrals import shared
from relations.referrals import working_map as maps
from relations.referrals.sharing import Part
from tests.referrals import shared_cast as project

pytestmark = pytest.mark.django_db


def text_of(content: bytes) -> str:
    ran = subprocess.run(["pdftotext", "-", "-"], input=content, capture_output=True, check=True)
    return ran.stdout.decode()


def test_every_line_and_every_group_may_be_chosen_lines_first_and_the_largest_of_both():
    project.project()
    found = maps.parts(shared.whole())
    keys = [key for key, _ in found]
    assert all(key.startswith("line:") for key in keys[:-3])
    sizes = [int(words.split("–")[1].split()[0]) for _, words in found[:-3]]
    assert sizes == sorted(sizes, reverse=True)
    assert keys[-3:] == ["group:elm", "group:oak", "group:ash"]
    assert "line:?" not in keys
    assert ("line:X7", "Line of X7 – 3 people") in found


def test_with_nobody_there_is_nothing_to_choose():
    assert maps.parts(shared.whole()) == []


def test_who_said_no_and_who_is_at_grave_risk_are_left_out_alike():
    project.project()
    whole = shared.whole()
    assert maps.shown(whole, Part.LINE, "Q07") == ["Q07"]
    everybody = set(maps.shown(whole, Part.GROUP, "oak")) | set(
        maps.shown(whole, Part.GROUP, "elm")
    )
    assert not everybody & {"Q08", "Q09"}


@pytest.mark.needs("pdftotext")
def test_map_of_a_group_bears_other_codes_each_time_and_no_name_no_code_of_ours_and_no_day():
    project.project()
    whole = shared.whole()
    one, two = (maps.pdf(whole, Part.GROUP, "elm") for _ in range(2))
    text = text_of(one)
    shown = len(maps.shown(whole, Part.GROUP, "elm"))
    assert sorted(set(re.findall(r"P\d{3}", text)))[-1] >= f"P{shown:03}"
    assert f"Working map · {shown} people" in text
    assert "It is not anonymous" in text
    assert "left out" in text
    with pikepdf.open(BytesIO(one)) as pdf:
        info = {key: str(value) for key, value in pdf.docinfo.items()}
        streams = b"".join(s.read_bytes() for s in pdf.objects if isinstance(s, pikepdf.Stream))
    assert set(info) <= {"/Title", "/Producer"}
    whole_text = text + str(info) + streams.decode("latin-1")
    for person in Participant.objects.all():
        assert person.code not in text
        assert f"{person.heard_on:%Y-%m-%d}" not in whole_text
    assert not [word for word in (project.NAME, project.ARABIC, "X7") if word in whole_text]
    assert text_of(two) != text


@pytest.mark.needs("pdftotext")
def test_a_long_line_takes_several_sheets_each_with_the_caution():
    people = project.project()
    for person in people[1:]:
        person.introductions.update(introducer=people[0], outside=None, is_withheld=False)
    content = maps.pdf(shared.whole(), Part.LINE, "Q01")
    assert text_of(content).count("It is not anonymous") == 2
