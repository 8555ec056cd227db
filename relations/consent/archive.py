"""The copy of a form that is kept for decades: laid out once, its record inside, and sealed."""

import hashlib
from datetime import datetime, time

from django.db.models import QuerySet
from django.utils import timezone

from relations.documents.render import Attached, RenderFault
from relations.privacy.files import scans
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import evidence
from .history import KeptCopy
from .models import Form
from .paper import LengthError
from .papers import STANDING
from .printing import archive_copy

NAME = "consent-record.jsonld"
# Each takes about as long as printing a form in two new wordings: a page must still be answered.
AT_ONCE = 15


def waiting() -> QuerySet[Form]:
    """Forms that stood, of which a copy is not laid out yet; a paper from before has none."""
    printed = Form.objects.filter(first_wording__isnull=False).select_related("sheet")
    unmade = printed.filter(kept__file="") & printed.filter(kept__isnull=False)
    return (unmade | printed.filter(state__in=STANDING, kept=None)).distinct()


def lay_out_some(*, by: User, at: datetime) -> int:
    """Lay out and seal the copies of up to fifteen forms that wait; give how many were made.

    One that fails is left waiting. Refused with "artist_only", and "cannot_be_laid_out" where
    none could. What each says was fixed when the form came to stand, and its wordings are frozen:
    to make it later is to make the same.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    made, failed = 0, False
    for form in waiting().order_by("sheet__serial")[:AT_ONCE]:
        if not form.kept.exists():
            evidence.keep(form, on=timezone.localtime(at).date())
        try:
            for kept in form.kept.filter(file=""):
                _lay_out(kept, by, at)
                made += 1
        except (RenderFault, LengthError):
            failed = True
    if failed and not made:
        raise Refused("cannot_be_laid_out")
    return made


def _lay_out(kept: KeptCopy, by: User, at: datetime) -> None:
    """Lay out one copy and seal it; two who press at once make one, the other's file goes."""
    stood_at = timezone.make_aware(datetime.combine(kept.stood_on, time()))
    record = Attached(NAME, kept.record.encode(), stood_at)
    content = archive_copy(form=kept.form, record=record)
    storage = scans()
    key = storage.save(content)
    digest = hashlib.sha256(content).hexdigest()
    mine = KeptCopy.objects.filter(pk=kept.pk, file="").update(
        file=key, digest=digest, made_at=at, made_by=by
    )
    if not mine:
        storage.delete(key)


def content(kept: KeptCopy) -> bytes:
    """The clear bytes of a copy, to the byte as made; whoever calls leaves a line in the log.

    Raise SealBroken where the file is not the one that was sealed.
    """
    with scans().open(kept.file) as opened:
        return bytes(opened.read())
