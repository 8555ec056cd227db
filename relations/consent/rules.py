"""The weighing: whether a picture may be shown in a planned use, and every reason why not."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from relations.languages.sorting import contains_folded, fold
from relations.people.rules import OF_AGE, birthday, counted, ripeness
from relations.people.values import Condition, Ripeness, Risk
from relations.pictures.values import Others, Recognisable

from .answers import Answer, Code, Scales
from .values import (
    ALL,
    FINENESS,
    Decision,
    Form,
    NameForm,
    Person,
    Picture,
    Plan,
    Use,
    Windows,
    Wish,
)

WINDOWS = Windows()


def weigh(
    picture: Picture,
    people: Mapping[str, Person],
    plan: Plan,
    *,
    today: date,
    windows: Windows = WINDOWS,
) -> Answer:
    """Whether the picture may be shown as planned, with all reasons of all who are in it.

    `people` holds at least everybody in the frame, by code (KeyError otherwise). Any stop is
    "not cleared", else any condition is "conditions". The strictest sitter decides, unknown is
    no, and no use implies another. Source: the project's own rule, from the practice of the
    trade (common practice, no source).
    """
    scales = Scales(picture, plan, today, windows)
    weigh_frame(scales)
    for sitter in picture.sitters:
        scales.about = sitter.code
        weigh_sitter(scales, people[sitter.code], sitter.recognisable)
    return scales.answer()


def binding(forms: Sequence[Form], sitting: str) -> tuple[Form | None, Sequence[Form]]:
    """The base among the forms that cover a sitting, and the forms that bind with it.

    Base is the newest form that stands; it and every newer one bind. Without a base: None and
    all that cover the sitting, oldest first. Forms of one day count in the order given.
    """
    covering = [form for form in forms if sitting in form.sittings]
    if len(covering) > 1:
        covering.sort(key=lambda form: form.given_on)
    for place in range(len(covering) - 1, -1, -1):
        if covering[place].stands:
            return covering[place], covering[place:] if place else covering
    return None, covering


def is_taken_back(person: Person, use: Use, base: Form | None, *, by: date | None = None) -> bool:
    """Whether this use or all was taken back and no form was given and stands since that day.

    `by` leaves out what was said after that day; without it every no counts.
    """
    days = [day for key in (ALL, use) if (day := person.taken_back.get(key)) is not None]
    return any((base is None or base.given_on <= day) and (by is None or day <= by) for day in days)


def weigh_frame(scales: Scales) -> None:
    """Weigh what is asked about the frame itself, whoever sits in it."""
    picture = scales.picture
    if picture.is_on_hold:
        scales.stop(Code.HOLD)
    if picture.others is Others.UNRESOLVED:
        scales.stop(Code.STRANGER)
    elif picture.others is Others.ERASED:
        scales.stop(Code.ERASED)
    if scales.plan.shows_captions and picture.quotes:
        in_frame = {sitter.code for sitter in picture.sitters}
        if any(quote.by not in in_frame for quote in picture.quotes):
            scales.stop(Code.QUOTE)


def weigh_sitter(scales: Scales, person: Person, recognisable: Recognisable) -> None:
    """Weigh one sitter; `scales.about` is that person's code."""
    if person.is_on_hold:
        scales.stop(Code.HOLD)
    base, forms = binding(person.forms, scales.picture.sitting)
    if person.taken_back and is_taken_back(person, scales.plan.use, base):
        scales.stop(Code.WITHDRAWN)
    if base is None:
        _without_base(scales, person, forms)
        return
    _uses(scales, forms)
    for form in forms:
        _place(scales, form)
        _days(scales, form)
        _sight(scales, form, recognisable)
    if scales.plan.shows_captions:
        _words(scales, forms)
        _name(scales, forms)
    if person.never_print:
        _leaks(scales, person)
    _age(scales, person, base, forms)
    _last_word(scales, person, forms)


def _without_base(scales: Scales, person: Person, forms: Sequence[Form]) -> None:
    if not forms:
        scales.stop(Code.NO_FORM)
    else:
        if not forms[-1].is_complete:
            scales.stop(Code.INCOMPLETE)
        if not forms[-1].is_read:
            scales.stop(Code.WORDING)
        if not forms[-1].is_filed:
            scales.stop(Code.NOT_FILED)
    if person.condition is not Condition.WELL:
        scales.stop(Code.DIED if person.condition is Condition.DIED else Code.AWAY)


def _uses(scales: Scales, forms: Sequence[Form]) -> None:
    if not all(scales.plan.use in form.uses for form in forms):
        scales.stop(Code.USE)
    elif len(forms) > 1:
        (scales.stop if scales.is_ink else scales.condition)(Code.NEWER_FORM)


def _place(scales: Scales, form: Form) -> None:
    if not form.is_limited:
        return
    if scales.is_everywhere and not form.knows_seen_everywhere:
        scales.stop(Code.EVERYWHERE)
        return
    planned, only = scales.plan.countries, form.only_countries
    if planned is None:
        is_outside = not scales.is_everywhere
    else:
        is_outside = (only is not None and not planned <= only) or bool(
            planned & form.not_countries
        )
    if is_outside:
        scales.stop(Code.PLACE)


def _days(scales: Scales, form: Form) -> None:
    start, end, last = scales.plan.starts_on, scales.plan.ends_on, form.last_day
    if form.first_day is not None and start < form.first_day:
        scales.stop(Code.TOO_EARLY)
    if last is None:
        return
    if start > last:
        scales.stop(Code.ENDED)
    elif scales.is_span:
        if end is not None and end > last:
            scales.stop(Code.RUNS_OVER)
            return
        scales.look_again(last)
        if end is None:
            scales.condition(Code.TAKE_DOWN_BY)


def _sight(scales: Scales, form: Form, recognisable: Recognisable) -> None:
    """The face, this picture, and the sitter's own condition."""
    picture = scales.picture.id
    if picture in form.pictures_refused:
        scales.stop(Code.NOT_THIS_ONE)
    if form.is_faceless and recognisable is not Recognisable.NO:
        scales.stop(Code.FACE)
    if form.shows_first and picture not in form.pictures_accepted:
        scales.stop(Code.SHOW_FIRST)
    if form.has_own_condition:
        decision = form.own_condition_decided.get(scales.plan.use)
        if decision is None:
            scales.stop(Code.READ_IT)
        elif decision is Decision.CANNOT:
            scales.stop(Code.CANNOT_KEEP)
        else:
            scales.condition(Code.AS_WRITTEN)


def _words(scales: Scales, forms: Sequence[Form]) -> None:
    picture = scales.picture
    spoken = [quote.id for quote in picture.quotes if quote.by == scales.about]
    for form in forms:
        if form.approves_captions and picture.caption not in form.captions_accepted:
            scales.stop(Code.CAPTION)
        if spoken and not form.quotes_accepted.issuperset(spoken):
            scales.stop(Code.QUOTE)
        if FINENESS[picture.place_word] > FINENESS[form.place_word]:
            scales.stop(Code.WHERE)


def _shows_less(shown: NameForm, asked: NameForm) -> bool:
    if shown is NameForm.NONE:
        return asked is not NameForm.NONE
    return shown is NameForm.FIRST and asked is NameForm.FULL


def _name(scales: Scales, forms: Sequence[Form]) -> None:
    shown = scales.plan.names.get(scales.about, NameForm.NONE)
    for form in forms:
        if shown is not form.name_form and not _shows_less(shown, form.name_form):
            scales.stop(Code.NAME)
    if shown is NameForm.PSEUDONYM and len(forms) > 1:
        agreed = {form.agreed_name for form in forms if form.name_form is shown}
        if len(agreed) > 1:
            scales.stop(Code.NAME)
    if _shows_less(shown, forms[-1].name_form):
        scales.condition(Code.NAMED_LESS)


def _leaks(scales: Scales, person: Person) -> None:
    texts = scales.folded_texts()
    if any(contains_folded(text, fold(name)) for name in person.never_print for text in texts):
        scales.stop(Code.NAME_LEAK)


def _age(scales: Scales, person: Person, base: Form, forms: Sequence[Form]) -> None:
    met = person.met_as_adult
    given = ripeness(person.birth, base.given_on, met_as_adult=met)
    if given is Ripeness.UNKNOWN:
        scales.stop(Code.AGE)
    elif given is Ripeness.UNSURE:
        scales.stop(Code.BIRTHDAY)
    elif given is Ripeness.ADULT:
        made = ripeness(person.birth, scales.picture.made_on, met_as_adult=met)
        if made is not Ripeness.ADULT:
            scales.condition(Code.MADE_UNDER_18)
    else:
        _childhood(scales, person, base, forms)


def _childhood(scales: Scales, person: Person, base: Form, forms: Sequence[Form]) -> None:
    """What is asked where a child was one on the day the base was given."""
    is_refused = any(form.guardian_no for form in forms)
    if is_refused:
        scales.stop(Code.GUARDIAN_NO)
    at_start = ripeness(person.birth, scales.plan.starts_on)
    if at_start is Ripeness.ADULT:
        scales.stop(Code.GROWN_UP)
        return
    if not is_refused and base.guardians_yes < person.authority_holders:
        scales.stop(Code.GUARDIAN)
    if not base.childs_yes or any(form.childs_yes is False for form in forms):
        scales.stop(Code.CHILD_SAYS)
    if at_start is Ripeness.UNSURE:
        scales.stop(Code.BIRTHDAY)
    elif scales.is_span and person.birth is not None:
        of_age_on = birthday(person.birth.earliest, OF_AGE)
        scales.look_again(of_age_on)
        if scales.plan.ends_on is None or scales.plan.ends_on >= of_age_on:
            scales.condition(Code.ASK_AT_18)


def _spoken_for(scales: Scales, person: Person, forms: Sequence[Form]) -> date | None:
    """Weigh the wish of one who cannot answer or died; the speaker's yes where it counts."""
    has_died = person.condition is Condition.DIED
    wishes = {form.if_died if has_died else form.if_cannot_answer for form in forms}
    if wishes == {Wish.GO_ON}:
        scales.condition(Code.TELL_FIRST)
        return None
    yes, event = person.speaker_yes.get(scales.plan.use), person.condition_on
    is_good = yes is not None and event is not None and event <= yes <= scales.today
    if is_good and Wish.STOP not in wishes:
        scales.condition(Code.SPEAKER)
        return yes
    scales.stop(Code.DIED if has_died else Code.AWAY)
    return None


def _last_word(scales: Scales, person: Person, forms: Sequence[Form]) -> None:
    if person.condition is Condition.WELL:
        word = person.last_talk_on
        if word is not None and word > scales.today:
            word = None
    else:
        word = _spoken_for(scales, person, forms)
        if word is None or person.condition is Condition.DIED:
            return
    risk = counted(person.risk)
    plain = timedelta(days=scales.windows.days(risk))
    opens_on = scales.windows.opens_on(scales.plan.starts_on, risk, is_ink=scales.is_ink)
    if word is not None and word >= opens_on:
        if scales.is_span and risk is not Risk.ORDINARY:
            scales.look_again(word + plain)
    elif word is not None and scales.today < opens_on and scales.today - word <= plain:
        scales.condition(Code.LAST_WORD)
        scales.look_again(opens_on)
    else:
        (scales.condition if risk is Risk.ORDINARY else scales.stop)(Code.CHECK_IN)
