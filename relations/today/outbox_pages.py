"""What the empty form and its worker are made of: the same for everybody who speaks a language."""

import hashlib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.staticfiles import finders
from django.template.loader import render_to_string
from django.templatetags.static import static
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode

from relations.privacy import home, outbox
from relations.privacy.access import HANDS
from relations.privacy.models import User

from .outbox_forms import FORMS, EntryForm, StopEntry

# What the kept form needs beside itself.
FILES = ("site.css", "icon.svg", "hide.js", "outbox.js")


def empty(user: User | None, *, kept: bool = False) -> dict[str, Any]:
    """The forms for somebody who has a right to them; a stranger may be anybody. `kept`: for the
    form that stays in a browser, without a token of any kind."""
    hands = user is None or user.role in HANDS
    kinds = FORMS.values() if hands else (StopEntry,)
    forms: dict[str, EntryForm] = {kind.KIND: kind(user=user) for kind in kinds}
    for form in forms.values() if kept else ():
        del form.fields["token"]
        form.is_kept = True
    return {"delivery": None, "round": None, "ring": None, "hides": True, "shell": kept, **forms}


def sealing() -> dict[str, Any]:
    """The key to seal to, and our time; without a key the form is posted as it is."""
    to, key = outbox.newest() or ("", "")
    # Where the lists stand still, so does the day of the form.
    is_fixed = home.home().is_rehearsal or settings.RELATIONS_TODAY is not None
    return {"to": to, "key": key, "at": timezone.now().isoformat(), "is_fixed": is_fixed}


def shell(said: Mapping[str, Any]) -> str:
    """The empty form as a browser keeps it: of no session and nobody, in the language of now."""
    context = {**empty(None, kept=True), **said, "is_rehearsal": home.home().is_rehearsal}
    return render_to_string("today/write.html", context)


def worker(language: str) -> dict[str, Any]:
    """What the worker keeps, and a version that changes with any byte of it."""
    digest = hashlib.sha256(shell({**sealing(), "at": ""}).encode())
    for name in FILES:
        digest.update(Path(str(finders.find(name))).read_bytes())
    return {
        "version": digest.hexdigest()[:12],
        "form": f"{reverse('today:write')}?{urlencode({'in': language})}",
        "away": reverse("privacy:away"),
        "out": reverse("privacy:sign_out"),
        "files": [static(name) for name in FILES],
    }
