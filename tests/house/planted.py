"""Rows with a value in each field that can be found again in whatever is answered."""

import re
from datetime import date, timedelta
from typing import Any

from django.db.models import Model

from relations.consent import actions as consent
from relations.consent.history import KeptCopy
from relations.consent.models import Form, GuardianAnswer, Reading
from relations.documents import filing
from relations.documents.models import Page, Upload
from relations.documents.photographs import as_pdf
from relations.meetings.models import Call, Helper, Meeting, TravellingSet
from relations.people.models import (
    Community,
    InSight,
    Introduction,
    Name,
    OutsideIntroducer,
    Participant,
    PersonHold,
    PhoneLine,
    RangUs,
    Speaker,
)
from relations.pictures.models import Caption, Picture, PictureHold, Quote
from relations.pictures.queries import light_copy
from relations.prints.models import Print, Promise, QuarterMinutes, Round, Step
from relations.privacy.files import scans
from relations.privacy.models import CodeDevice, Mending, OutboxEntry, OutboxKey, User
from relations.rights.models import Alarm, Handover, Misuse, TakingOut
from relations.today.management.drawings import scan
from relations.uses.models import PlannedUse, Standstill, UndoLine
from tests.rows import AT, DAY, make

SECOND = "QQ88W"
# Born in years that nothing else is of, so that the year alone can be looked for.
BORN = {"07": (date(1931, 2, 3), date(1933, 4, 5)), SECOND: (date(1941, 2, 3), date(1943, 4, 5))}
NUMBERS = {"07": "639980071", SECOND: "639980082"}
EXTENSION = "74231"
PLANTED, TAIL = b"Zq", "é’&<w"  # how each word that is looked for begins and ends
IN_A_MONTH = timedelta(days=30)


# What is looked for: bytes as they stand, or a pattern.
Needle = re.Pattern[bytes] | bytes
# Between the digits of a number, as it is written for eyes.
GAP = rb"(?:[\s.()-]|\xc2\xa0|\xe2\x80\xaf){0,2}"


class Planted:
    """Two people with a value of its own in each of their fields; `needles` finds each again."""

    def __init__(self, samples: dict[str, str]) -> None:
        self.needles: dict[str, Needle] = {}
        self.samples = samples
        self.first = Participant.objects.get(code=samples["code"])
        self.second = make(Participant, code=SECOND, condition="cannot_answer", condition_on=DAY)
        self.more = {"code": [SECOND], "person": [SECOND]}
        self._known()
        self._told()
        self._met()
        self._papers()
        self._shown()
        self._house()
        self._open()

    def word(self, what: str) -> str:
        """A word that stands nowhere else, with letters that pages and addresses write anew."""
        said = f"{PLANTED.decode()}{len(self.needles):02}kxvjq{TAIL}"
        self.needles[what] = said[:9].encode()  # long enough that no random token holds it
        return said

    def _known(self) -> None:
        self.needles[f"people.Participant.code of {SECOND}"] = _whole(SECOND)
        one = self.first
        one.call_name = self.word("people.Participant.call_name")
        one.instruction = self.word("people.Participant.instruction")
        one.may_say = self.word("people.Participant.may_say")
        one.agreed_word = self.word("people.Participant.agreed_word")
        for person, of in ((one, ""), (self.second, f" of {SECOND}")):
            person.born_said = self.word(f"people.Participant.born_said{of}")
            person.born_earliest, person.born_latest = BORN[person.code]
            for name in ("born_earliest", "born_latest"):
                year = getattr(person, name).year
                self.needles[f"people.Participant.{name}{of}"] = _whole(str(year))
            person.save()
        put(Name.objects.get(person=one), text=self.word("people.Name.text"))
        line = PhoneLine.objects.get(person=one)
        line.number, line.extension = f"+33{NUMBERS['07']}", EXTENSION
        line.as_typed = self.word("people.PhoneLine.as_typed")
        line.note = self.word("people.PhoneLine.note")
        line.save()
        digits = (digit.encode() for digit in NUMBERS["07"])
        self.needles["people.PhoneLine.number"] = re.compile(GAP.join(digits))
        self.needles["people.PhoneLine.extension"] = _whole(EXTENSION)
        make(
            Speaker,
            person=one,
            name=self.word("people.Speaker.name"),
            way=self.word("people.Speaker.way"),
        )
        make(
            PersonHold,
            person=one,
            sentence=self.word("people.PersonHold.sentence"),
            lifted_at=AT,
            lifted_by=make(User),
        )

    def _told(self) -> None:
        label = "people.OutsideIntroducer.label"
        said = f"{label} may be said"
        for person, what, may in ((self.second, label, None), (self.first, said, True)):
            Introduction.objects.filter(person=person).delete()
            outside = make(OutsideIntroducer, label=self.word(what))
            make(Introduction, person=person, outside=outside, may_say_who=may)
        perhaps = "QQ77V"
        make(RangUs, typed=self.word("people.RangUs.typed"), perhaps=[perhaps])
        self.needles["people.RangUs.perhaps"] = _whole(perhaps)

    def _met(self) -> None:
        near = Meeting.objects.get(pk=self.samples["meetings:key"])
        for name in ("place", "fallback", "company", "exit_signal"):
            setattr(near, name, self.word(f"meetings.Meeting.{name}"))
        near.interpreter = make(Helper, kind="interpreter", name=self.word("meetings.Helper.name"))
        near.save()
        place = self.word(f"meetings.Meeting.place of {SECOND}")
        far = make(Meeting, person=self.second, state="fixed", at=AT + IN_A_MONTH, place=place)
        self.more["meetings:key"] = [str(far.pk)]
        self.calls, by = [], make(User)
        for days in range(1, 5):  # the last one first
            at = AT - timedelta(days=days)
            about = {"state": "not_reached", "outcome": "no_answer", "due_on": at.date(), "by": by}
            self.calls.append(make(Call, person=self.first, at=at, **about))

    def _papers(self) -> None:
        form = Form.objects.get(sheet__serial=self.samples["serial"])
        self.needles["documents.Scan.file"] = filing.content(form.sheet.scans.get())
        wordings = {
            "first_wording": form.first_wording,
            "second_wording": form.second_wording,
        }
        stack = Upload.objects.order_by("sent_at").first()
        whole = as_pdf(scan("05", [True, True]))
        put(stack, file=scans().save(whole))
        self.needles["documents.Upload.file"] = whole
        loose = Page.objects.get(pk=self.samples["consent:key"])
        alone = as_pdf(scan("06", [False]))
        put(loose, place="aside", word=self.word("documents.Page.word"), file=scans().save(alone))
        self.needles["documents.Page.file"] = alone
        other = make(Form, person=self.second, **wordings)
        by = make(User)
        consent.file(serial=other.sheet.serial, content=scan("08", [False, True]), by=by, at=AT)
        self.needles[f"documents.Scan.file of {SECOND}"] = filing.content(other.sheet.scans.get())
        Form.objects.filter(pk=other.pk).update(state="doubtful")
        other.refresh_from_db()
        said = self.word("consent.Reading.answers")
        for number, name in ((1, said), (2, "another")):
            answers = {"agreed_name": name, "way": "signed"}
            make(Reading, form=other, number=number, by=make(User), answers=answers)
        settled = make(
            Form, person=self.first, state="standing", settled_at=AT, settled_by=by, given_on=DAY,
            way="signed", wording_was_read=True,
            missing_lines=[], agreed_name=self.word("consent.Form.agreed_name"),
            own_condition=self.word("consent.Form.own_condition"), uses=["exhibition"],
            name_form="pseudonym", **wordings,
        )  # fmt: skip
        make(GuardianAnswer, form=settled, name=self.word("consent.GuardianAnswer.name"))
        copy = b"a copy that is kept as it stood"
        self.needles["consent.KeptCopy.file"] = copy
        make(
            KeptCopy, form=settled, record=self.word("consent.KeptCopy.record"),
            file=scans().save(copy), digest="0" * 64, made_at=AT,
        )  # fmt: skip
        self.settled = settled
        self.more["serial"] = [other.sheet.serial, settled.sheet.serial]

    def _shown(self) -> None:
        picture = Picture.objects.get(code=self.samples["pictures:code"])
        words = self.word("pictures.Quote.words")
        quote = make(Quote, by=self.first, words=words)
        quote.captions.add(make(Caption, picture=picture))
        with light_copy(picture) as file:
            self.needles["pictures.Picture.light_copy"] = file.read()
        put(
            Print.objects.get(person=self.first),
            into_whose_hand=self.word("prints.Print.into_whose_hand"),
            word_at_the_door=self.word("prints.Print.word_at_the_door"),
            quarter=self.word("prints.Print.quarter"),
            place=self.word("prints.Print.place"),
            when_to_come=self.word("prints.Print.when_to_come"),
            decided_by=self.word("prints.Print.decided_by"),
        )
        put(
            Promise.objects.get(person=self.first),
            ended_how="could_not",
            ended_on=DAY,
            ended_by=make(User),
            ended_why=self.word("prints.Promise.ended_why"),
        )
        plan = PlannedUse.objects.get(code=self.samples["uses:weigh:code"])
        plan.place = self.word("uses.PlannedUse.place")
        plan.save()
        shown = UndoLine.objects.get(pk=self.samples["uses:key"]).shown
        put(shown, reach_holder=self.word("uses.Shown.reach_holder"))
        make(Misuse, picture=picture, where=self.word("rights.Misuse.where"))
        put(TakingOut.objects.get(), reason=self.word("rights.TakingOut.reason"))
        why = self.word("rights.Alarm.not_needed_why")
        put(Alarm.objects.get(pk=self.samples["rights:key"]), not_needed_on=DAY, not_needed_why=why)

    def _house(self) -> None:
        make(
            Mending, kind="people.participant", about=self.first.log_key,
            old={"call_name": self.word("privacy.Mending.old")},
            why=self.word("privacy.Mending.why"),
        )  # fmt: skip
        typed = {"kind": "ring", "code": self.word("privacy.OutboxEntry.said")}
        said = {"typed": typed, "doubts": [], "codes": []}
        self.more["today:key"] = [str(make(OutboxEntry, said=said).pk)]
        make(OutboxKey, private=self.word("privacy.OutboxKey.private"))
        make(TravellingSet, secret=self.word("meetings.TravellingSet.secret"))
        other = make(User, role="assistant", called=self.word("privacy.User.called"))
        secret = "QQ" + "GEZDGNBVGY3TQOJQ"
        make(CodeDevice, user=other, secret=secret, is_set_up=True)
        self.needles["privacy.CodeDevice.secret"] = re.compile(secret.encode())

    def _open(self) -> None:
        """Words that are not sealed; they too keep their own direction on every page."""
        one, picture = self.first, Picture.objects.get(code=self.samples["pictures:code"])
        put(one, community=make(Community, name=self.word("people.Community.name")))
        make(PersonHold, person=self.second, sentence=self.word("people.PersonHold.sentence, open"))
        put(picture, **{name: self.word(f"pictures.Picture.{name}") for name in ("alt_text",)})
        put(picture.captions.first(), words=self.word("pictures.Caption.words"))
        put(PictureHold.objects.first(), sentence=self.word("pictures.PictureHold.sentence"))
        plan = PlannedUse.objects.get(code=self.samples["uses:weigh:code"])
        put(plan, files_with=self.word("uses.PlannedUse.files_with"))
        shown = UndoLine.objects.get(pk=self.samples["uses:key"]).shown
        put(shown, **{name: self.word(f"uses.Shown.{name}") for name in ("place", "holder")})
        lifted = {"is_current": None, "lifted_at": AT, "lifted_by": make(User)}
        make(Standstill, sentence=self.word("uses.Standstill.sentence"), **lifted)
        step = {"became": "kept_for_them", "reason": self.word("prints.Step.reason")}
        make(Step, print=Print.objects.get(person=one), number=9, **step)
        walked = Round.objects.get(code=self.samples["prints:round_code"])
        put(walked, starts_in=self.word("prints.Round.starts_in"))
        make(QuarterMinutes, start=self.word("prints.QuarterMinutes.start"),
             end=self.word("prints.QuarterMinutes.end"), minutes=7)  # fmt: skip
        put(Meeting.objects.get(pk=self.samples["meetings:key"]),
            late_why=self.word("meetings.Meeting.late_why"))  # fmt: skip
        put(Handover.objects.get(pk=self.samples["rights:sign_handover:key"]),
            why_differs=self.word("rights.Handover.why_differs"))  # fmt: skip

    def put_in_sight(self, user: User) -> None:
        """Both people, for the work of today."""
        for person in (self.first, self.second):
            InSight.objects.get_or_create(person=person, user=user, day=DAY, why="ring")


def put(row: Model, **values: Any) -> None:
    """Change some fields of a row that is there."""
    for name, value in values.items():
        setattr(row, name, value)
    row.save()


def _whole(word: str) -> re.Pattern[bytes]:
    """A word by itself; not a part of a random key.

    The word stands first in the pattern, and is looked back over: so it is found ten times faster.
    """
    said = word.encode()
    return re.compile(said + rb"(?<![\w-]" + said + rb")(?!\w)")
