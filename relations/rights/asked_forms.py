"""What may be typed when others ask, and of a picture that was seen where it should not be."""

from typing import Any, ClassVar
from uuid import UUID, uuid5

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import CodeField
from relations.people.forms import NoteLine, PastDayField
from relations.people.models import Participant
from relations.people.search import by_code
from relations.pictures.models import Picture
from relations.privacy.home import today

from .forms import RightsForm
from .values import Told
from .words import ASKED_BY, TOLD


class OthersAskForm(RightsForm):
    """Somebody asked: who it was, and what they were told; never what they wanted to know."""

    press = _("Note it")
    asked_by = forms.ChoiceField(
        label=_("Who asked?"), choices=list(ASKED_BY.items()), widget=forms.RadioSelect
    )
    told = forms.ChoiceField(
        label=_("What were they told?"),
        choices=list(TOLD.items()),
        widget=forms.RadioSelect,
        initial="nothing",
    )
    code = CodeField(
        label=_("About whom, by code"),
        required=False,
        help_text=_("Only if they named somebody. Whether this code is anybody’s is not said."),
    )
    asked_on = PastDayField(label=_("Asked on"), initial=today)
    about: ClassVar = {"artist_and_lawyer": "told"}

    def __init__(self, *args: Any, is_artist: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        # An assistant who said the sentence for police has said the sentence: one choice for it.
        if not is_artist:
            told = [(code, said) for code, said in TOLD.items() if code != Told.TO_LAWYER]
            self.fields["told"].choices = told  # type: ignore[attr-defined]

    def person(self) -> Participant | None:
        """Whom the code names, if anybody."""
        return next(iter(by_code(self.cleaned_data["code"] or "")), None)


class MisuseForm(RightsForm):
    """A picture was seen where it should not be."""

    press = _("Note it")
    picture = CodeField(label=_("Code of the picture"))
    where = NoteLine(
        label=_("Where it was seen"),
        required=True,
        help_text=_("So that it is found again; not who put it there."),
    )
    seen_on = PastDayField(label=_("Seen on"), initial=today)
    hold = forms.BooleanField(
        label=_("Hold the picture: it goes nowhere until somebody has looked"),
        required=False,
        initial=True,
    )

    def clean_picture(self) -> Picture:
        """The picture with this code."""
        found = Picture.objects.filter(code__iexact=self.cleaned_data["picture"]).first()
        if found is None:
            raise ValidationError(_("No picture has this code."), code="no_picture")
        return found


class MisuseStepForm(RightsForm):
    """One press on what was seen: they were told, it was asked down, it is gone."""

    what = forms.ChoiceField(label="", choices=[("told", ""), ("asked", ""), ("gone", "")])

    def __init__(self, *args: Any, key: UUID, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.key = key

    @property
    def token(self) -> UUID:
        """The presses of one list share its token, so each makes its own out of it."""
        return uuid5(super().token, f"{self.key} {self.data['what']}")
