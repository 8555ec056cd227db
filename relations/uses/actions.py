"""What is done about uses: planned, asked for, weighed, shown, and taken down after a stop."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from relations.consent.values import NameForm, Use
from relations.people.models import Participant
from relations.pictures.models import Caption, Picture
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import queries
from .models import NameShown, PlannedPicture, PlannedUse, Shown, Weighing
from .standstill import refuse_new_uses
from .undoing import open_undo, told, told_holder, undo_done

__all__ = [
    "ask_for", "drop", "leave_out", "name_shown", "open_undo", "plan", "show", "told",
    "told_holder", "undo_done", "weigh", "word",
]  # fmt: skip


@transaction.atomic
def plan(
    *,
    code: str,
    use: str,
    starts_on: date,
    by: User,
    countries: Iterable[str] | None = None,
    ends_on: date | None = None,
    place: str = "",
    one_day: bool = False,
    paper_only: bool = False,
    captions: bool = True,
    files_with: str = "",
) -> PlannedUse:
    """Note a use that somebody wants pictures for; `countries` are two letters, None the world.

    Refused: artist_only, no_new_uses, code_taken, ends_before, no_country.
    """
    _for_the_artist(by)
    refuse_new_uses()
    if PlannedUse.objects.filter(code__iexact=code).exists():
        raise Refused("code_taken")
    return PlannedUse.objects.create(
        code=code,
        use=Use(use),
        place=place,
        countries=_countries(countries),
        starts_on=starts_on,
        ends_on=_end(starts_on, ends_on),
        one_day=one_day,
        paper_only=paper_only,
        captions=captions,
        files_with=files_with,
    )


def _for_the_artist(by: User) -> None:
    if not by.is_artist:
        raise Refused("artist_only")


def _countries(said: Iterable[str] | None) -> list[str] | None:
    """The countries in order; a use in no country at all is a slip."""
    if said is None:
        return None
    found = sorted(set(said))
    if not found:
        raise Refused("no_country")
    return found


def _end(starts_on: date, ends_on: date | None) -> date | None:
    """The last day, kept as it was said; the rule decides whether it counts."""
    if ends_on is not None and ends_on < starts_on:
        raise Refused("ends_before")
    return ends_on


@transaction.atomic
def drop(*, plan: PlannedUse, by: User, on: date) -> PlannedUse:
    """Give up a plan; its answers stay readable. Refused: artist_only."""
    _for_the_artist(by)
    plan.dropped_on = plan.dropped_on or on
    plan.save(update_fields=["dropped_on"])
    return plan


@transaction.atomic
def ask_for(*, plan: PlannedUse, pictures: Iterable[Picture], by: User) -> list[PlannedPicture]:
    """Ask for pictures in a plan; one that is asked for already stays, a dropped one comes back.

    Refused: artist_only, no_new_uses, plan_dropped.
    """
    _for_the_artist(by)
    refuse_new_uses()
    if plan.dropped_on is not None:
        raise Refused("plan_dropped")
    return [
        PlannedPicture.objects.update_or_create(
            plan=plan, picture=picture, defaults={"dropped_on": None}
        )[0]
        for picture in pictures
    ]


@transaction.atomic
def leave_out(*, plan: PlannedUse, pictures: Iterable[Picture], by: User, on: date) -> int:
    """Drop pictures from a plan and give how many were in it. Refused: artist_only."""
    _for_the_artist(by)
    return queries.asked_for(plan).filter(picture__in=list(pictures)).update(dropped_on=on)


@transaction.atomic
def name_shown(
    *,
    plan: PlannedUse,
    person: Participant,
    name_form: str,
    by: User,
    picture: Picture | None = None,
) -> NameShown:
    """Say how one sitter is named in a plan, or in one of its pictures.

    Whether they allow it is for the weighing. Refused: artist_only.
    """
    _for_the_artist(by)
    row, _ = NameShown.objects.update_or_create(
        plan=plan, person=person, picture=picture, defaults={"name_form": NameForm(name_form)}
    )
    return row


@transaction.atomic
def word(
    *,
    asked: PlannedPicture,
    captioned: str,
    caption: Caption | None,
    names: Mapping[Participant, str],
    by: User,
) -> PlannedPicture:
    """Say with which words one picture of a plan is shown, and how those in it are named there.

    `captioned` "" and a name "" are as the plan says for all its pictures; `caption` None is the
    newest. Refused: artist_only, not_its_words.
    """
    _for_the_artist(by)
    if caption is not None and caption.picture_id != asked.picture_id:
        raise Refused("not_its_words")
    asked.captioned, asked.caption = captioned, caption
    asked.save(update_fields=["captioned", "caption"])
    plan, picture = asked.plan, asked.picture
    for person, name_form in names.items():
        if name_form:
            name_shown(plan=plan, person=person, picture=picture, name_form=name_form, by=by)
        else:
            plan.names.filter(person=person, picture=picture).delete()
    return asked


@transaction.atomic
def weigh(*, plan: PlannedUse, by: User, at: datetime) -> list[Weighing]:
    """Weigh the whole selection of a plan as things stand, and keep every answer with its digest.

    The only way to an answer; none is ever set by hand. Refused: artist_only.
    """
    _for_the_artist(by)
    on = timezone.localdate(at)
    keys = dict(queries.asked_for(plan).values_list("picture__code", "pk"))
    return Weighing.objects.bulk_create(
        Weighing(
            asked_id=keys[found.picture],
            **{**found.spelt, "look_again_on": found.look_again_on},
            digest=found.digest,
            on=on,
            weighed_at=at,
            by=by,
        )
        for found in queries.weighed(plan, on)
    )


@transaction.atomic
def show(
    *,
    code: str,
    use: str,
    pictures: Iterable[Picture],
    place: str,
    holder: str,
    starts_on: date,
    by: User,
    plan: PlannedUse | None = None,
    countries: Iterable[str] | None = None,
    ends_on: date | None = None,
    press_day: date | None = None,
    copies: int | None = None,
    reach_holder: str = "",
) -> Shown:
    """Note in the use register what is or was shown, where, and who holds the files.

    Refused: artist_only, code_taken, no_holder, no_picture, ends_before, no_country.
    """
    _for_the_artist(by)
    chosen = list(pictures)
    if not holder.strip():
        raise Refused("no_holder")
    if not chosen:
        raise Refused("no_picture")
    if Shown.objects.filter(code__iexact=code).exists():
        raise Refused("code_taken")
    row = Shown.objects.create(
        code=code,
        use=Use(use),
        plan=plan,
        place=place,
        countries=_countries(countries),
        starts_on=starts_on,
        ends_on=_end(starts_on, ends_on),
        press_day=press_day,
        copies=copies,
        holder=holder.strip(),
        reach_holder=reach_holder,
    )
    row.pictures.set(chosen)
    return row
