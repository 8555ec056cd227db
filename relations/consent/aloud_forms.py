"""What may be typed when a picture was shown to somebody and its words were read to them."""

from collections.abc import Iterable
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import Group, YesNoField
from relations.meetings.known_helpers import interpreters
from relations.people.templatetags.people_words import spoken
from relations.pictures.models import Caption, Quote
from relations.privacy.models import User

from .aloud import Heard
from .forms import DatedForm
from .spoken import Aloud


class AloudForm(DatedForm):
    """Who read, in which language, on which day, and what was answered; "not said" is no answer."""

    press = _("Note what they said")
    about: ClassVar = {"no_form_here": "on", "before_the_form": "on"}

    read_by = forms.ChoiceField(label=_("Who read it to them"))
    language = forms.ChoiceField(label=_("In which language"))
    interpreter = forms.ModelChoiceField(
        interpreters(), label=_("Through which interpreter"), required=False
    )
    seen = YesNoField(label=_("May this picture be shown?"))
    version = forms.CharField(required=False, widget=forms.HiddenInput)
    words_read = YesNoField(label=_("May these words stand under it?"))

    def __init__(self, *args: Any, heard: Heard, caption: Caption | None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.theirs = heard.person.language_list
        self.users: dict[str, User] = {}
        self.quotes: dict[str, Quote] = {f"quote_{one.pk}": one for one in heard.quotes}
        if caption is None or not caption.words:
            del self.fields["words_read"], self.fields["version"]
        else:
            self.fields["version"].initial = caption.version
        for name, quote in self.quotes.items():
            self.fields[name] = YesNoField(label=_("May %(code)s be used?") % {"code": quote.code})

    def offer(self, readers: Iterable[User], languages: Iterable[str]) -> None:
        """Say who may have read, and in which languages beside the person's own."""
        self.users = {str(one.pk): one for one in readers}
        called = [(key, one.called) for key, one in self.users.items()]
        self.fields["read_by"].choices = called  # type: ignore[attr-defined]
        self.fields["read_by"].initial = str(self.user.pk)
        tongues = [(tag, spoken(tag)) for tag in dict.fromkeys([*self.theirs, *languages])]
        self.fields["language"].choices = tongues  # type: ignore[attr-defined]

    def groups(self) -> list[Group | str]:
        answers = [name for name in ("seen", "words_read", *self.quotes) if name in self.fields]
        return ["on", "read_by", "language", "interpreter", Group(_("They say"), *answers)]

    @property
    def said(self) -> dict[str, Any]:
        """What `aloud.read_to` takes of it."""
        data = self.cleaned_data
        quotes = {quote: data[name] for name, quote in self.quotes.items()}
        return {
            "aloud": Aloud(self.users[data["read_by"]], data["language"], data["interpreter"]),
            "on": data["on"],
            "seen": data["seen"],
            "version": data.get("version", ""),
            "words": data.get("words_read"),
            "quotes": {quote: is_yes for quote, is_yes in quotes.items() if is_yes is not None},
        }
