"""What a file of metadata says beside a cleared picture, by IPTC and PLUS, and its RDF/XML."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from xml.sax.saxutils import escape, quoteattr

from relations.consent.rules import binding, is_taken_back
from relations.consent.values import Form, NameForm, Person, Picture, Use
from relations.people.rules import OF_AGE, age_on, counted
from relations.people.values import Birth, Risk
from relations.pictures.values import Others, Recognisable

# Source: checks.md 3 (IPTC Photo Metadata 2025.1, PLUS LDF), as exiftool and exiv2 know them.
NAMESPACES = {
    "dc": "http://purl.org/dc/elements/1.1/",
    "Iptc4xmpCore": "http://iptc.org/std/Iptc4xmpCore/1.0/xmlns/",
    "Iptc4xmpExt": "http://iptc.org/std/Iptc4xmpExt/2008-02-29/",
    "photoshop": "http://ns.adobe.com/photoshop/1.0/",
    "plus": "http://ns.useplus.org/ldf/xmp/1.0/",
    "xmpRights": "http://ns.adobe.com/xap/1.0/rights/",
}
PLUS_VERSION = "1.2.0"
CODES = "http://ns.useplus.org/ldf/vocab/"
NO_MINING = "DMI-PROHIBITED"
NO_PROPERTY_RELEASE = "PR-NON"  # none is ever kept here
ALL_LANGUAGES = "x-default"
NOT_TOLD = (0, 150)  # the years between which an age lies that nobody told

# One word, several in no order, or the same said in several languages, `x-default` among them.
Value = str | tuple[str, ...] | Mapping[str, str]


class Release(StrEnum):
    """Whether those who can be recognised gave their leave (PLUS, Model Release Status)."""

    NONE = "MR-NON"
    NOT_APPLICABLE = "MR-NAP"
    UNLIMITED = "MR-UMR"
    LIMITED = "MR-LMR"  # or incomplete


@dataclass(frozen=True, slots=True)
class Sidecar:
    """What is told of one picture; whatever is empty is left out."""

    title: str
    release: Release
    usage_terms: str
    release_ids: tuple[str, ...] = ()
    age: str | None = None
    people: tuple[str, ...] = ()
    caption: str = ""
    alt_text: str = ""
    terms_in: Mapping[str, str] = field(default_factory=dict)  # further languages


def plus(code: str) -> str:
    """A code of PLUS as it is written: a whole address."""
    return f"{CODES}{code}"


def age_disclosure(ages: Iterable[tuple[int, int]]) -> str:
    """The PLUS code for the age of the youngest in a picture on the day when it was made.

    `ages`: of each, the least and the most years they may have been, both alike where it is
    known; nobody is as unknown. Where the code of the youngest is not sure it is "AG-UNK".
    Source: checks.md 3, PLUS Minor Model Age Disclosure.
    """
    told = list(ages) or [NOT_TOLD]
    youngest = {
        _age_code(min(least for least, _ in told)),
        _age_code(min(most for _, most in told)),
    }
    return youngest.pop() if len(youngest) == 1 else "AG-UNK"


def _age_code(years: int) -> str:
    if years <= 14:
        return "AG-U14"
    return f"AG-A{min(years, 25)}"


def age(birth: Birth | None, made_on: date, *, met_as_adult: bool = False) -> tuple[int, int]:
    """The least and the most years somebody may have been on a day; a known birth wins."""
    if birth is None:
        return (OF_AGE, NOT_TOLD[1]) if met_as_adult else NOT_TOLD
    return age_on(birth.latest, made_on), age_on(birth.earliest, made_on)


def age_told(picture: Picture, people: Mapping[str, Person]) -> str | None:
    """The age code that a sidecar tells, or None where it tells none.

    Only those who can be recognised count. Our rule: "25 or over" and "unknown" say nothing of
    anybody and are told; the age of a child is, since the code is there to guard children, but
    not of one at raised or grave risk; the age of an adult under 25 is nobody's business.
    """
    faces = [people[code] for code in _faces(picture)]
    if not faces:
        return None
    code = age_disclosure(
        age(person.birth, picture.made_on, met_as_adult=person.met_as_adult) for person in faces
    )
    if code in ("AG-A25", "AG-UNK"):
        return code
    is_child = code == "AG-U14" or int(code.removeprefix("AG-A")) < OF_AGE
    at_risk = any(counted(person.risk) is not Risk.ORDINARY for person in faces)
    return code if is_child and not at_risk else None


def _faces(picture: Picture) -> list[str]:
    """Those who can be recognised, from left to right; unsure counts as yes."""
    return [one.code for one in picture.sitters if one.recognisable is not Recognisable.NO]


def release(picture: Picture, people: Mapping[str, Person], use: Use, *, on: date) -> Release:
    """The release status of a picture on a day, for a use that it was cleared for.

    Our mapping, not the standard's (checks.md 3): all of those who can be recognised granted
    everything without limit, "unlimited"; any limit, or one of several missing, "limited";
    refused, taken back, ended or never given, "none"; nobody can be recognised, "not applicable".
    """
    found = {_leave(people[code], picture.sitting, use, on) for code in _faces(picture)}
    if picture.others is not Others.NONE:
        found.add(Release.LIMITED)
    if not found:
        return Release.NOT_APPLICABLE
    return found.pop() if len(found) == 1 else Release.LIMITED


def _leave(person: Person, sitting: str, use: Use, on: date) -> Release:
    base, forms = binding(person.forms, sitting)
    if (
        base is None
        or is_taken_back(person, use, base)
        or any(_is_over(form, on) for form in forms)
    ):
        return Release.NONE
    if not all(use in form.uses for form in forms):
        return Release.NONE
    is_free = not person.taken_back and all(map(_has_no_limit, forms))
    return Release.UNLIMITED if is_free else Release.LIMITED


def _is_over(form: Form, on: date) -> bool:
    return form.last_day is not None and form.last_day < on


def _has_no_limit(form: Form) -> bool:
    days = (form.first_day, form.last_day)
    wishes = (form.is_faceless, form.shows_first, form.approves_captions, form.has_own_condition)
    is_narrowed = form.is_limited or bool(form.pictures_refused) or any(wishes)
    return form.uses.issuperset(Use) and days == (None, None) and not is_narrowed


def public_name(shown: NameForm, forms: Iterable[Form], own: str = "") -> str:
    """The name that may stand beside a picture, "" for none.

    `shown`: how the plan names them; `own`: their name as it is written. A pseudonym or a first
    name is the one agreed on the forms, and the same on all; a full name without one is their
    own. Nothing is made up out of parts of a name.
    """
    agreed = {form.agreed_name or "" for form in forms}
    if shown is NameForm.NONE or len(agreed) != 1:
        return ""
    name = agreed.pop()
    return name or (own if shown is NameForm.FULL else "")


def properties(told: Sidecar) -> dict[str, Value]:
    """What a sidecar says, by the names of XMP; codes of PLUS are whole addresses."""
    found: dict[str, Value] = {
        "dc:title": {ALL_LANGUAGES: told.title},
        "dc:description": {ALL_LANGUAGES: told.caption},
        "Iptc4xmpCore:AltTextAccessibility": {ALL_LANGUAGES: told.alt_text},
        "Iptc4xmpExt:PersonInImage": told.people,
        "plus:PLUSVersion": PLUS_VERSION,
        "plus:ModelReleaseStatus": plus(told.release),
        "plus:ModelReleaseID": told.release_ids,
        "plus:MinorModelAgeDisclosure": plus(told.age) if told.age else "",
        "plus:PropertyReleaseStatus": plus(NO_PROPERTY_RELEASE),
        "plus:DataMining": plus(NO_MINING),
        "xmpRights:Marked": "True",
        "xmpRights:UsageTerms": {ALL_LANGUAGES: told.usage_terms, **told.terms_in},
    }
    return {name: value for name, value in found.items() if _says(value)}


def _says(value: Value) -> bool:
    return any(value.values()) if isinstance(value, Mapping) else bool(value)


def written(told: Mapping[str, Value]) -> bytes:
    """An XMP packet in UTF-8, to be kept beside a picture file under its name with ".xmp".

    Names are those of `NAMESPACES` (KeyError for another); text that XML cannot hold is dropped.
    Source: ISO 16684-1 (XMP), from memory; read back by exiftool and exiv2 in the tests.
    """
    used = sorted({name.split(":")[0] for name in told})
    spaces = "".join(f"\n    xmlns:{prefix}={quoteattr(NAMESPACES[prefix])}" for prefix in used)
    lines = "\n".join(f"   <{name}>{_value(value)}</{name}>" for name, value in told.items())
    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>\n'
        '<x:xmpmeta xmlns:x="adobe:ns:meta/">\n'
        ' <rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">\n'
        f'  <rdf:Description rdf:about=""{spaces}>\n{lines}\n  </rdf:Description>\n'
        ' </rdf:RDF>\n</x:xmpmeta>\n<?xpacket end="w"?>\n'
    ).encode()


def _value(value: Value) -> str:
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, tuple):
        items = "".join(f"<rdf:li>{_text(item)}</rdf:li>" for item in value)
        return f"<rdf:Bag>{items}</rdf:Bag>"
    # Whoever knows no language takes the first.
    order = sorted(value, key=lambda tag: tag != ALL_LANGUAGES)
    items = "".join(
        f"<rdf:li xml:lang={quoteattr(tag)}>{_text(value[tag])}</rdf:li>" for tag in order
    )
    return f"<rdf:Alt>{items}</rdf:Alt>"


def _text(words: str) -> str:
    # A lone carriage return would be read as the end of a line.
    return escape("".join(filter(_is_in_xml, words)), {"\r": "&#13;"})


def _is_in_xml(sign: str) -> bool:
    """Whether XML 1.0 can hold a sign (production 2, Char)."""
    point = ord(sign)
    return (
        sign in "\t\n\r" or 0x20 <= point <= 0xD7FF or 0xE000 <= point <= 0xFFFD or point > 0xFFFF
    )
