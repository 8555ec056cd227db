"""What everybody in a picture said of it and of its words, and noting what is said at a reading."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from django.db import transaction
from django.db.models import Q

from relations.languages.sorting import by_name
from relations.people.models import Participant
from relations.pictures import actions as pictures
from relations.pictures import queries as frames
from relations.pictures.models import Caption, Picture, Quote
from relations.privacy.models import Role, User
from relations.privacy.refused import Refused

from . import papers, spoken
from .models import CaptionAnswer, Form, PictureAnswer, QuoteAnswer
from .spoken import Aloud
from .states import NOT_GIVEN

if TYPE_CHECKING:
    from relations.pictures.models import Appearance


@dataclass(frozen=True)
class Heard:
    """Somebody in the frame: what they asked for on their forms, and what they said so far.

    Answers are those on the newest form that speaks of the sitting, since that one binds last.
    """

    appearance: "Appearance"
    person: Participant
    forms: list[Form]
    quotes: list[Quote]
    seen: PictureAnswer | None
    caption: CaptionAnswer | None
    quoted: dict[Quote, QuoteAnswer]

    @property
    def asks_to_see(self) -> bool:
        """Whether any form that binds asks to be shown a picture first."""
        return any(form.show_first for form in self.forms)

    @property
    def asks_to_approve(self) -> bool:
        """Whether any form that binds asks to be read the words first."""
        return any(form.approves_captions for form in self.forms)

    @property
    def unsaid(self) -> list[Quote]:
        """Their quotes in the words that stand, of which they said nothing yet."""
        return [quote for quote in self.quotes if quote not in self.quoted]


def speaking_of(picture: Picture, person: Participant) -> list[Form]:
    """The forms of somebody that were given and speak of the sitting of a picture, oldest first.

    One that was not settled yet and names no sitting speaks of all, as in the weighing.
    """
    names_it = Q(sittings=picture.sitting_id) | Q(sittings=None, settled_at=None)
    rows = Form.objects.filter(names_it, person=person, given_on__isnull=False)
    found = rows.exclude(state__in=NOT_GIVEN).select_related("sheet").distinct()
    return sorted(found, key=papers.order)


def heard(picture: Picture) -> list[Heard]:
    """Everybody in the frame from left to right, with what they said of it and of its words."""
    caption = frames.newest_caption(picture)
    return [
        _heard(row, speaking_of(picture, row.person), caption)
        for row in picture.appearances.select_related("person", "picture")
    ]


def heard_of(picture: Picture, person: Participant) -> Heard | None:
    """The same of one person; None where they are not in the frame."""
    return next((one for one in heard(picture) if one.person == person), None)


def _heard(row: "Appearance", forms: list[Form], caption: Caption | None) -> Heard:
    quotes = (
        []
        if caption is None
        else [one for one in caption.quotes.all() if one.by_id == row.person_id]
    )
    newest = forms[-1] if forms else None
    if newest is None:
        return Heard(row, row.person, forms, quotes, None, None, {})
    said = newest.quote_answers.filter(quote__in=quotes).select_related("quote", "read_by")
    return Heard(
        row,
        row.person,
        forms,
        quotes,
        newest.picture_answers.filter(picture=row.picture).first(),
        newest.caption_answers.filter(caption=caption).select_related("read_by").first(),
        {one.quote: one for one in said},
    )


def readers() -> Iterable[User]:
    """Who may have read to somebody: artist and assistants, by what they are called."""
    rows = User.objects.filter(is_active=True, role__in=(Role.ARTIST, Role.ASSISTANT))
    return by_name(rows, lambda user: user.called)


@transaction.atomic
def read_to(
    *,
    picture: Picture,
    person: Participant,
    aloud: Aloud,
    on: date,
    by: User,
    at: datetime,
    seen: bool | None = None,
    version: str = "",
    words: bool | None = None,
    quotes: Mapping[Quote, bool] | None = None,
) -> list[Form]:
    """Note what somebody said when a picture was shown and its words were read to them.

    It counts for every form of theirs that speaks of the sitting and was given by then; a form of
    a later day asks again. `seen`, `words`, `quotes`: yes, no, or None for not said; `version`:
    of the caption that was read. A no to words of one who did not ask to approve them holds the
    picture, since no form would keep it off.
    Refused: no_form_here, nothing_said, words_changed, and as the actions of `spoken` refuse.
    """
    forms = [form for form in speaking_of(picture, person) if form.given_on and form.given_on <= on]
    if not forms:
        raise Refused("no_form_here")
    if seen is None and words is None and not quotes:
        raise Refused("nothing_said")
    caption = _as_read(picture, version) if words is not None else None
    for form in forms:
        if seen is not None:
            spoken.answer_picture(form=form, picture=picture, is_yes=seen, on=on, by=by)
        if caption is not None and words is not None:
            spoken.answer_caption(
                form=form, caption=caption, is_yes=words, on=on, by=by, aloud=aloud
            )
        for quote, is_yes in (quotes or {}).items():
            spoken.answer_quote(form=form, quote=quote, is_yes=is_yes, on=on, by=by, aloud=aloud)
    if words is False and not any(form.approves_captions for form in forms):
        pictures.hold(picture=picture, by=by, at=at)
    return forms


def _as_read(picture: Picture, version: str) -> Caption:
    """The words that stand, if they are still those that were read."""
    caption = frames.newest_caption(picture)
    if caption is None or caption.version != version:
        raise Refused("words_changed")
    return caption
