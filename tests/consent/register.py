"""Worked cases put into the register's own tables, row by row, to be loaded again."""

from datetime import UTC, date, datetime
from typing import Any

from relations.consent.models import (
    CaptionAnswer,
    ConditionDecision,
    Form,
    GuardianAnswer,
    PictureAnswer,
    QuoteAnswer,
    SpeakerAnswer,
    TakenBack,
)
from relations.consent.states import State as FormState
from relations.documents.models import Scan, Sheet
from relations.documents.serials import check
from relations.people.models import Name, NameKind, Participant, PersonHold
from relations.pictures.models import Appearance, Caption, Picture, PictureHold, Quote, Sitting
from relations.privacy.models import Role, User

AT = datetime(2026, 11, 23, 8, tzinfo=UTC)
EVER = date(2020, 1, 1)


def user(role: Role = Role.ARTIST, name: str = "") -> User:
    return User.objects.create_user(name or role.value, None, role=role, called="Ines")


def day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None


class Register:
    """Enters one case; `number` keeps serials apart when several cases share a register."""

    def __init__(self, by: User) -> None:
        self.by = by
        self.number = 20_000
        self.people: dict[str, Participant] = {}
        self.sittings: dict[str, Sitting] = {}

    def person(self, said: dict[str, Any]) -> Participant:
        born, year = day(said["born_on"]), said["born_year"]
        person = Participant.objects.create(
            code=said["code"],
            standing_since=EVER,
            heard_on=EVER,
            level=said["risk"] or "",
            condition=said["condition"],
            condition_on=day(said["condition_on"]),
            born_earliest=born or (date(year, 1, 1) if year else None),
            born_latest=born or (date(year, 12, 31) if year else None),
            met_as_adult=said["met_as_adult"],
            authority_holders=said["authority_holders"],
            last_talk_on=day(said["last_talk_on"]),
        )
        if said["hold"]:
            PersonHold.objects.create(person=person, laid_at=AT, laid_by=self.by, next_look_on=EVER)
        for text in said["never_print"]:
            Name.objects.create(person=person, kind=NameKind.NEVER_PRINT, text=text)
        for use, on in said["speaker_yes"].items():
            SpeakerAnswer.objects.create(person=person, use=use, is_yes=True, said_on=day(on))
        for use, on in said["taken_back"].items():
            TakenBack.objects.create(
                person=person,
                scope="all" if use == "all" else "use",
                use="" if use == "all" else use,
                said_on=day(on),
                heard_at=AT,
                heard_by=self.by,
                answer_due_on=day(on),
            )
        self.people[person.code] = person
        return person

    def sitting(self, code: str) -> Sitting:
        if code not in self.sittings:
            self.sittings[code] = Sitting.objects.create(code=code, on=EVER)
        return self.sittings[code]

    def picture(self, said: dict[str, Any]) -> Picture:
        picture = Picture.objects.create(
            code=said["id"],
            sitting=self.sitting(said["sitting"]),
            made_on=day(said["made_on"]),
            others=said["others"],
            alt_text=said["alt_text"],
            file_name=said["file_name"],
            place_word=said["place_word"],
        )
        for place, sitter in enumerate(said["sitters"], start=1):
            Appearance.objects.create(
                picture=picture,
                person=self.people[sitter["code"]],
                place=place,
                recognisable=sitter["recognisable"],
            )
        if said["hold"]:
            PictureHold.objects.create(
                picture=picture, laid_at=AT, laid_by=self.by, next_look_on=EVER
            )
        # An older version, which must not be taken for the one that is shown.
        Caption.objects.create(picture=picture, version="c0", words="old", written_at=AT)
        if said["caption"]:
            caption = Caption.objects.create(
                picture=picture,
                version=said["caption"],
                words=said["words"],
                written_at=AT.replace(hour=9),
            )
            for quote in said["quotes"]:
                caption.quotes.add(self.quote(quote["id"], quote["by"]))
        return picture

    def quote(self, code: str, by: str) -> Quote:
        person = self.people.get(by) or self.person(BLANK_PERSON | {"code": by})
        quote, _ = Quote.objects.get_or_create(code=code, defaults={"by": person, "words": "…"})
        return quote

    def form(self, person: Participant, said: dict[str, Any]) -> Form:
        self.number += 1
        sheet = Sheet.objects.create(serial=f"{self.number}-{check(str(self.number))}", kind="form")
        form = Form.objects.create(
            sheet=sheet,
            person=person,
            is_from_before=True,
            state=FormState.DOUBTFUL,
            state_on=EVER,
            given_on=day(said["given_on"]),
            first_day=day(said["first_day"]),
            last_day=day(said["last_day"]),
            agreed_name=said["agreed_name"] or "",
            childs_answer=said["childs_answer"] or "",
            missing_lines=[] if said["complete"] else ["witness"],
            wording_was_read=said["wording_read"],
            settled_at=AT if said["filed"] else None,
            **{key: said[key] for key in SAME},
        )
        Scan.objects.create(
            sheet=sheet,
            file=str(self.number),
            media_type="image/png",
            digest=str(self.number),
            size=1,
            filed_at=AT,
            filed_by=self.by,
        )
        form.sittings.set(self.sitting(code) for code in said["sittings"])
        self.answers(form, said)
        return form

    def answers(self, form: Form, said: dict[str, Any]) -> None:
        on = form.given_on
        for is_yes, key in ((True, "pictures_accepted"), (False, "pictures_refused")):
            for picture in Picture.objects.filter(code__in=said[key]):
                PictureAnswer.objects.create(form=form, picture=picture, is_yes=is_yes, said_on=on)
        mine = Caption.objects.filter(picture__appearances__person=form.person)
        for version in said["captions_accepted"]:
            self.older(form, version)
            for caption in mine.filter(version=version):
                CaptionAnswer.objects.create(form=form, caption=caption, said_on=on)
        for code in said["quotes_accepted"]:
            quote = Quote.objects.filter(code=code).first()
            if quote:
                QuoteAnswer.objects.create(form=form, quote=quote, said_on=on)
        for use, decision in said["own_condition_decided"].items():
            ConditionDecision.objects.create(
                form=form, use=use, can=decision == "can", decided_on=on, decided_by=self.by
            )
        for number in range(said["guardians_yes"] + said["guardian_no"]):
            GuardianAnswer.objects.create(
                form=form, authority="parent", is_yes=number < said["guardians_yes"], said_on=on
            )

    def older(self, form: Form, version: str) -> None:
        """A version that was accepted once and is no longer the one under the picture."""
        for picture in Picture.objects.filter(appearances__person=form.person):
            Caption.objects.get_or_create(
                picture=picture, version=version, defaults={"words": "old", "written_at": AT}
            )

    def enter(self, people: list[dict[str, Any]], pictures: list[dict[str, Any]]) -> None:
        """Put in everybody, then the pictures, then the forms that speak of them."""
        for person in people:
            self.person(person)
        for picture in pictures:
            self.picture(picture)
        for person in people:
            for form in person["forms"]:
                self.form(self.people[person["code"]], form)


# What a case and a row call by the same name.
SAME = (
    *("only_countries", "not_countries", "seen_everywhere", "name_form", "no_face", "show_first"),
    *("approves_captions", "place_word", "own_condition", "if_cannot_answer", "if_died", "uses"),
)
BLANK_PERSON: dict[str, Any] = {
    "risk": None,
    "condition": "well",
    "condition_on": None,
    "born_on": None,
    "born_year": None,
    "met_as_adult": False,
    "authority_holders": 2,
    "last_talk_on": None,
    "hold": False,
    "never_print": [],
    "speaker_yes": {},
    "taken_back": {},
}
