"""What is said beside or after a form: of pictures, words, by guardians, by a speaker, and no."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime, timedelta
from typing import Any, NamedTuple

from django.db import transaction
from django.utils import timezone

from relations.meetings.models import Helper
from relations.people import actions as people
from relations.people.models import Participant
from relations.people.values import Condition, Standing
from relations.pictures.models import Caption, Picture, Quote, Sitting
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import evidence, papers
from .completeness import Authority
from .models import (
    CaptionAnswer,
    ConditionDecision,
    Form,
    GuardianAnswer,
    PictureAnswer,
    QuoteAnswer,
    SaidOfWords,
    SpeakerAnswer,
    TakenBack,
)
from .states import NOT_GIVEN, State, may_move
from .values import ChildsAnswer, Scope, Use

# Whoever takes something back hears within this time what was done and what cannot be undone.
ANSWER_WITHIN = timedelta(days=14)
# From which a person who took everything back steps back of themselves.
STEPS_BACK = (Standing.TAKING_PART, Standing.GONE_QUIET)


class Aloud(NamedTuple):
    """How words were read aloud: by whom, in which language (BCP 47), through whom."""

    read_by: User
    language: str
    interpreter: Helper | None = None


def _held(form: Form, on: date) -> Form:
    """The form as it is now, for this press alone: what is said at once is taken in turn."""
    held = Form.objects.select_for_update(of=("self",)).get(pk=form.pk)
    if State(held.state) in NOT_GIVEN or held.person_id is None:
        raise Refused("not_given")
    if held.given_on is not None and on < held.given_on:
        raise Refused("before_the_form")
    return held


@transaction.atomic
def answer_picture(
    *, form: Form, picture: Picture, is_yes: bool, on: date, by: User
) -> PictureAnswer:
    """Note what a sitter said of a picture they saw; a later answer takes the place of it.

    Refused with "not_given", "before_the_form", "not_in_it" for a picture without them.
    """
    _held(form, on)
    if not picture.appearances.filter(person=form.person_id).exists():
        raise Refused("not_in_it")
    answer, _ = PictureAnswer.objects.update_or_create(
        form=form, picture=picture, defaults={"is_yes": is_yes, "said_on": on}
    )
    return answer


@transaction.atomic
def answer_caption(
    *,
    form: Form,
    caption: Caption,
    on: date,
    by: User,
    is_yes: bool = True,
    aloud: Aloud | None = None,
) -> CaptionAnswer:
    """Note what was said of one version of a caption, read aloud. Refused as `answer_picture`.

    A no that was said that day or later is not turned into a yes: "said_no".
    """
    _held(form, on)
    if not caption.picture.appearances.filter(person=form.person_id).exists():
        raise Refused("not_in_it")
    said = _said_of_words(form.caption_answers.filter(caption=caption).first(), is_yes, on, aloud)
    return CaptionAnswer.objects.update_or_create(form=form, caption=caption, defaults=said)[0]


@transaction.atomic
def answer_quote(
    *,
    form: Form,
    quote: Quote,
    on: date,
    by: User,
    is_yes: bool = True,
    aloud: Aloud | None = None,
) -> QuoteAnswer:
    """Note what was said of one quote. Refused with "not_their_words" for somebody else's.

    A no that was said that day or later is not turned into a yes: "said_no".
    """
    _held(form, on)
    if quote.by_id != form.person_id:
        raise Refused("not_their_words")
    said = _said_of_words(form.quote_answers.filter(quote=quote).first(), is_yes, on, aloud)
    return QuoteAnswer.objects.update_or_create(form=form, quote=quote, defaults=said)[0]


def _said_of_words(
    before: SaidOfWords | None, is_yes: bool, on: date, aloud: Aloud | None
) -> dict[str, Any]:
    if is_yes and before is not None and not before.is_yes and before.said_on >= on:
        raise Refused("said_no")
    return {"is_yes": is_yes, "said_on": on, **(aloud._asdict() if aloud else {})}


@transaction.atomic
def answer_guardian(
    *, form: Form, authority: str, is_yes: bool, on: date, by: User, name: str = ""
) -> GuardianAnswer:
    """Note what one holder of authority over a child said, by what right.

    Refused with "not_given", "before_the_form", "too_many" beyond those who must be asked.
    """
    _held(form, on)
    if form.person is not None and form.guardians.count() >= form.person.authority_holders:
        raise Refused("too_many")
    answer = GuardianAnswer.objects.create(
        form=form, authority=Authority(authority), name=name, is_yes=is_yes, said_on=on
    )
    evidence.stand(form, on=on)
    return answer


@transaction.atomic
def answer_child(*, form: Form, is_yes: bool, on: date, by: User) -> Form:
    """Note the child's own answer; a no said once is not turned into a yes on the same form.

    Refused with "not_given", "before_the_form", "said_no".
    """
    if _held(form, on).childs_answer == ChildsAnswer.NO and is_yes:
        raise Refused("said_no")
    form.childs_answer = ChildsAnswer.YES if is_yes else ChildsAnswer.NO
    form.save(update_fields=["childs_answer"])
    return form


@transaction.atomic
def decide_condition(*, form: Form, use: str, can: bool, on: date, by: User) -> ConditionDecision:
    """Decide whether a condition in the sitter's own words can be kept in one use.

    Refused with "artist_only", "no_condition".
    """
    if not by.is_artist:
        raise Refused("artist_only")
    if not form.own_condition:
        raise Refused("no_condition")
    decision, _ = ConditionDecision.objects.update_or_create(
        form=form, use=Use(use), defaults={"can": can, "decided_on": on, "decided_by": by}
    )
    return decision


@transaction.atomic
def answer_all(
    *,
    form: Form,
    on: date,
    by: User,
    sittings: Iterable[Sitting] = (),
    pictures: Mapping[Picture, bool] | None = None,
    captions: Iterable[Caption] = (),
    quotes: Iterable[Quote] = (),
    child: bool | None = None,
    conditions: Mapping[str, bool] | None = None,
    wording_was_read: bool = False,
) -> Form:
    """Note all that was said at one showing, each as its own action does and with its refusals.

    `sittings` are those the form speaks of from now on; `pictures` and `conditions` give the
    answer by picture and by use; None is "not said" and changes nothing.
    """
    papers.cover(form, sittings)
    for picture, is_yes in (pictures or {}).items():
        answer_picture(form=form, picture=picture, is_yes=is_yes, on=on, by=by)
    for caption in captions:
        answer_caption(form=form, caption=caption, on=on, by=by)
    for quote in quotes:
        answer_quote(form=form, quote=quote, on=on, by=by)
    if child is not None:
        answer_child(form=form, is_yes=child, on=on, by=by)
    for use, can in (conditions or {}).items():
        decide_condition(form=form, use=use, can=can, on=on, by=by)
    if wording_was_read:
        papers.trust_wording(form, by=by)
        evidence.stand(form, on=on)
    return form


@transaction.atomic
def speaker_says(
    *, person: Participant, use: str, is_yes: bool, on: date, by: User
) -> SpeakerAnswer:
    """Note what whoever speaks for a person said of one use; a no of a day outweighs a yes.

    Refused with "can_answer" while the person answers, "no_speaker" where nobody was named,
    "kin_may_only_narrow" for a yes of next of kin whom the person did not choose, "said_no".
    """
    if person.condition == Condition.WELL:
        raise Refused("can_answer")
    speakers = list(person.speakers.all())
    if not speakers:
        raise Refused("no_speaker")
    if is_yes and all(speaker.is_next_of_kin for speaker in speakers):
        raise Refused("kin_may_only_narrow")
    answer, is_new = SpeakerAnswer.objects.get_or_create(
        person=person, use=Use(use), said_on=on, defaults={"is_yes": is_yes}
    )
    if not is_new and answer.is_yes != is_yes:
        if is_yes:
            raise Refused("said_no")
        answer.is_yes = False
        answer.save(update_fields=["is_yes"])
    return answer


@transaction.atomic
def take_back(
    *,
    person: Participant,
    scope: str,
    said_on: date,
    by: User,
    at: datetime,
    use: str = "",
    picture: Picture | None = None,
) -> TakenBack:
    """Hear a no: to everything ("all"), to one use ("use"), to one picture ("picture").

    It acts at once, whoever hears it, and no paper is waited for. The same no on the same day
    is kept once. The sitter is owed an answer within 14 days. Refused with "scope" where use or
    picture do not fit it, "not_in_it" for a picture without them, "day_in_future".
    """
    kind = Scope(scope)
    if (kind is Scope.USE) != bool(use) or (kind is Scope.PICTURE) != (picture is not None):
        raise Refused("scope")
    if picture is not None and not picture.appearances.filter(person=person).exists():
        raise Refused("not_in_it")
    today = timezone.localtime(at).date()
    if said_on > today:
        raise Refused("day_in_future")
    # Two who hear it at one moment keep it once: the second waits for the first.
    Participant.objects.select_for_update().get(pk=person.pk)
    heard, is_new = TakenBack.objects.get_or_create(
        person=person,
        scope=kind,
        use=Use(use) if use else "",
        picture=picture,
        said_on=said_on,
        defaults={"heard_at": at, "heard_by": by, "answer_due_on": today + ANSWER_WITHIN},
    )
    if is_new:
        _act_on(heard, by, today)
    return heard


def _act_on(heard: TakenBack, by: User, on: date) -> None:
    """Move the forms it speaks of and, where all was taken back, the person."""
    to = State.WITHDRAWN if heard.scope == Scope.ALL else State.WITHDRAWN_IN_PART
    forms = Form.objects.filter(
        person=heard.person, state__in=[State.STANDING, State.WITHDRAWN_IN_PART]
    )
    for form in forms:
        if not may_move(State(form.state), to, papers.facts(form, on)):
            papers.step(form, to=to, on=on)
    if heard.scope == Scope.ALL and heard.person.standing in STEPS_BACK:
        facts = {"took_all_back": True}
        people.move(person=heard.person, to=Standing.STEPPED_BACK, on=on, by=by, facts=facts)


@transaction.atomic
def answer_them(*, person: Participant, on: date, by: User) -> int:
    """Note that whoever took something back was told what became of it; give how many nos it was.

    Refused with "before_they_said" for a day before one of them was heard.
    """
    waiting = TakenBack.objects.filter(person=person, answered_on=None)
    if waiting.filter(said_on__gt=on).exists():
        raise Refused("before_they_said")
    return waiting.update(answered_on=on)
