"""The link of one sheet for one venue: its pass phrase, its door, and a session for it alone."""

import hashlib
import secrets
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache

from django.conf import settings
from django.contrib.auth.hashers import check_password, make_password
from django.db import transaction
from django.db.models import F
from django.http import Http404, HttpRequest
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode

from relations.privacy import codes, tries
from relations.privacy.home import today
from relations.privacy.log import note
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import clearing
from .clearances import State
from .models import ClearanceSheet, ClearedPicture
from .standstill import refuse_new_uses

# 256 random bits in an address; twelve signs that can be told by telephone are 60 bits.
TOKEN_BYTES, PHRASE_SIGNS = 32, 12
# So many wrong phrases, wherever they come from, and the link opens nothing any more.
MOST_WRONG = 20
SESSION, LINK = "venue", "link"
# A link opens a sheet that may be kept to, or says what took its place.
OPENS = (State.OPEN, State.REPLACED)


@dataclass(frozen=True)
class Link:
    """What the artist is shown once: the random part of the address, and the pass phrase."""

    token: str
    phrase: str


@transaction.atomic
def make_link(*, sheet: ClearanceSheet, ends_on: date, by: User, at: datetime) -> Link:
    """Give a sheet a new link with a new phrase; one it had before opens nothing any more.

    It ends after `ends_on`, the sheet's own last day at the latest. Kept are a digest and a hash.
    Refused: artist_only, no_new_uses, sheet_not_open, link_day.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    refuse_new_uses()
    on = timezone.localdate(at)
    if not clearing.look(sheet, on).is_open:
        raise Refused("sheet_not_open")
    if not on <= ends_on <= sheet.valid_until:
        raise Refused("link_day")
    phrase = "".join(secrets.choice(codes.SIGNS) for _ in range(PHRASE_SIGNS))
    made = Link(secrets.token_urlsafe(TOKEN_BYTES), codes.in_groups(phrase))
    sheet.link_digest, sheet.phrase = digest(made.token), make_password(phrase)
    sheet.link_ends_on, sheet.wrong_phrases = ends_on, 0
    sheet.save(update_fields=["link_digest", "phrase", "link_ends_on", "wrong_phrases"])
    note(by, "made_link", clearing.KIND, sheet.pk)
    return made


def address_of(link: Link) -> str:
    """Where a link leads, on this site."""
    return f"{reverse('uses:open_sheet')}?{urlencode({LINK: link.token})}"


def digest(token: str) -> str:
    """By which a link is found: SHA-256 in hex, enough for 256 random bits."""
    return hashlib.sha256(token.encode()).hexdigest()


def is_locked(sheet: ClearanceSheet) -> bool:
    """Whether too many wrong phrases have ended a link."""
    return sheet.wrong_phrases >= MOST_WRONG


def come_in(request: HttpRequest, token: str, said: str) -> ClearanceSheet | None:
    """The sheet that a link and its phrase open, in a session that sees this sheet and no more.

    None, after the same work, for a wrong phrase, for a link that is not there, has ended or is
    locked, and for whoever tried too often.
    """
    key = digest(token)
    sheet = ClearanceSheet.objects.filter(link_digest=key).first()
    about = (clearing.KIND, sheet.pk if sheet else None)
    try:
        found = tries.attempt(request, key, lambda: _opened(key, sheet, said), about=about)
    except tries.HeldOff:
        return None
    if found is not None:
        tries.forget(request, key)
        _begin(request, found)
    return found


def _opened(key: str, sheet: ClearanceSheet | None, said: str) -> ClearanceSheet | None:
    """Count the phrase before it is looked at; the right one starts the count anew."""
    row = ClearanceSheet.objects.filter(link_digest=key)
    is_free = row.filter(wrong_phrases__lt=MOST_WRONG).update(wrong_phrases=F("wrong_phrases") + 1)
    kept = sheet.phrase if sheet else _nobodys()
    fits = check_password(codes.paper_text(said), kept)
    if not (fits and is_free and sheet and _may_enter(sheet)):
        return None
    row.update(wrong_phrases=0)
    return sheet


@cache
def _nobodys() -> str:
    """A hash that no phrase fits, so that a link that is not there takes as long as one that is."""
    return make_password(secrets.token_urlsafe())


def _may_enter(sheet: ClearanceSheet) -> bool:
    return _is_running(sheet) and clearing.look(sheet, today()).state in OPENS


def _is_running(sheet: ClearanceSheet) -> bool:
    """Whether the link of a sheet has neither ended with it nor by itself."""
    ends = sheet.link_ends_on
    return sheet.ended_at is None and ends is not None and today() <= ends


def _begin(request: HttpRequest, sheet: ClearanceSheet) -> None:
    """A new session that holds nothing of an older one: whoever was signed in is so no more."""
    request.session.flush()
    began = timezone.now().timestamp()
    request.session[SESSION] = [sheet.number, sheet.link_digest, began]
    note(None, "opened", clearing.KIND, sheet.pk)


@transaction.atomic
def confirm_down(*, sheet: ClearanceSheet, at: datetime) -> int:
    """The venue says that what counts no more is down; give how many pictures it says so of."""
    up = clearing.look(sheet, timezone.localdate(at)).up
    rows = ClearedPicture.objects.filter(sheet=sheet, weighing__asked__picture__code__in=up)
    if up:
        note(None, "took_down", clearing.KIND, sheet.pk)
    return rows.update(down_at=at)


def sheet_of(request: HttpRequest) -> ClearanceSheet:
    """The one sheet that the session of a venue sees.

    Http404 where there is none, where its link was ended, made anew or has run out, and eight
    hours after the phrase was given.
    """
    number, key, began = request.session.get(SESSION) or (0, "", 0.0)
    age = timezone.now().timestamp() - began
    found = clearing.sheets().filter(number=number, link_digest=key).first()
    if found is None or not (0 <= age < settings.SESSION_TOTAL_AGE and _is_running(found)):
        raise Http404
    return found
