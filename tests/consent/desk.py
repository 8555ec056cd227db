"""The desk on which the tests of forms lay their papers: readers, wordings, blanks, scans."""

from datetime import date, datetime
from io import BytesIO
from pathlib import Path
from typing import Any

from PIL import Image

from relations.consent import actions
from relations.consent.models import Clause, Form, Wording
from relations.consent.states import State as FormState
from relations.consent.values import ClauseState
from relations.documents.models import Sheet
from relations.documents.serials import check
from relations.people.models import Participant
from relations.pictures.models import Appearance, Caption, Picture, Quote, Sitting
from relations.privacy.models import Role, User
from tests import cast
from tests.measuring import unmeasured

WORDINGS = Path(__file__).parent.parent.parent / "fixtures" / "wordings.json"
LANGUAGES = ["en", "fr", "es", "pt", "ar", "ne", "bn"]
AT = cast.moment()
# What a reader says that a clause says, where a test does not care.
SAID_BACK = "It says what is written there."
# A paper on which every line that is asked for is there.
WHOLE: dict[str, Any] = {
    "way": "signed",
    "given_on": date(2026, 11, 20),
    "uses": ["book", "exhibition"],
    "name_form": "full",
    "may_keep": True,
    "copy_kept": True,
}


def reader() -> User:
    """Reads every language of the wordings and wrote none."""
    found = User.objects.filter(username="yara").first()
    return found or User.objects.create_user(
        "yara", None, role=Role.WORDING_READER, called="Yara", languages=LANGUAGES
    )


def wordings() -> dict[str, Wording]:
    """The site's own drafts, written in by the artist and read by nobody.

    The site writes them into an empty register once; into every other goes what it wrote.
    """
    is_empty = not Wording.objects.exists()
    artist = cast.artist()
    if is_empty and _drafts:
        _write_again(artist)
    else:
        unmeasured(actions.load_wordings, path=WORDINGS, by=artist)
        if is_empty:
            _drafts.extend((list(Wording.objects.all()), list(Clause.objects.all())))
    return {wording.language: wording for wording in Wording.objects.all()}


_drafts: list[list[Any]] = []  # the wordings and their clauses, as the site wrote them


def _write_again(by: User) -> None:
    held, clauses = _drafts
    for wording in held:
        wording.written_by = by
    for clause in clauses:
        clause.translated_by = by
    Wording.objects.bulk_create(held)
    Clause.objects.bulk_create(clauses)


def frozen(*languages: str) -> dict[str, Wording]:
    """The drafts, of which these languages were read and frozen."""
    held = wordings()
    for language in languages:
        if held[language].frozen_at is not None:
            continue
        read(held[language])
        freeze(held[language])
    return held


def read(wording: Wording) -> None:
    """Every clause said back and approved at once, as `approve` leaves each of them."""
    clauses = list(wording.clauses.all())
    done = {"state": ClauseState.APPROVED, "read_back": SAID_BACK, "read_back_by": reader()}
    done |= {"approved_by": reader(), "approved_on": cast.TODAY, "why": ""}
    for clause in clauses:
        for name, value in {**done, "approved_words": clause.words}.items():
            setattr(clause, name, value)
    names = [*done, "approved_words"]
    Clause.objects.bulk_create(
        clauses, update_conflicts=True, unique_fields=["id"], update_fields=names
    )


def approve(clause: Clause) -> None:
    """The reader says a clause back and approves it."""
    actions.approve(clause=clause, by=reader(), on=cast.TODAY, words=SAID_BACK)


def freeze(wording: Wording) -> None:
    """The reader, who has read the whole, closes it."""
    actions.freeze(wording=wording, by=reader(), at=AT)


def serial(number: int = 70_042) -> str:
    return f"{number}-{check(str(number))}"


def paper(
    number: int = 70_042,
    person: Participant | None = None,
    state: str = FormState.CARRIED,
    **rest: Any,
) -> Form:
    """A form of this site as a row, without the minute that its PDF would take."""
    sheet = Sheet.objects.create(serial=serial(number), kind="form", digest="0" * 64, printed_at=AT)
    wording, other = _wording("fr", "Français"), _wording("ar", "العربية")
    defaults = {
        "wording_was_read": True,
        "state_on": cast.TODAY,
        "first_wording": wording,
        "second_wording": other,
    }
    return Form.objects.create(sheet=sheet, person=person, state=state, **{**defaults, **rest})


def _wording(language: str, name: str) -> Wording:
    """Any wording in a language; an empty one where the drafts were not taken in."""
    found = Wording.objects.filter(language=language).first()
    return found or Wording.objects.create(language=language, version=9, labels={"language": name})


def sitting(code: str, *people: Participant, on: date = date(2026, 5, 14)) -> Sitting:
    made = Sitting.objects.create(code=code, on=on)
    made.sitters.set(people)
    return made


def picture(code: str, made_at: Sitting, *people: Participant) -> Picture:
    made = Picture.objects.create(code=code, sitting=made_at, made_on=made_at.on, others="none")
    for place, person in enumerate(people, start=1):
        Appearance.objects.create(picture=made, person=person, place=place, recognisable="yes")
    return made


def caption(picture: Picture, version: str = "c1", words: str = "At the quay.") -> Caption:
    return Caption.objects.create(picture=picture, version=version, words=words, written_at=AT)


def quote(code: str, by: Participant) -> Quote:
    return Quote.objects.create(code=code, by=by, words="I came by sea.")


def scan(shade: int = 255) -> bytes:
    """One page in one grey; each shade is another file."""
    out = BytesIO()
    Image.new("L", (60, 80), shade).save(out, format="PNG")
    return out.getvalue()


def filed(number: int = 70_042, person: Participant | None = None, **rest: Any) -> Form:
    """A paper of somebody that came home and was scanned, read by nobody yet."""
    form = paper(number, person or cast.danuta(), **rest)
    actions.file(serial=form.sheet.serial, content=scan(number % 250), by=cast.assistant(), at=AT)
    form.refresh_from_db()
    return form


def read_twice(form: Form, first: dict[str, Any], second: dict[str, Any] | None = None) -> Form:
    """Read by the assistant, then by the artist: the same unless a second reading is given."""
    actions.read(form=form, answers=first, by=cast.assistant(), at=AT)
    actions.read(
        form=form,
        answers=first if second is None else second,
        by=cast.artist(),
        at=AT,
        sittings=form.person.sittings.all(),
    )
    form.refresh_from_db()
    return form


def standing(number: int = 70_042, person: Participant | None = None, **answers: Any) -> Form:
    """A form of which both readings agree and nothing is missing."""
    return read_twice(filed(number, person), WHOLE | answers)


def later(hours: int) -> datetime:
    return cast.moment(hour=9 + hours)
