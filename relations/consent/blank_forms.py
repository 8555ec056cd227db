"""What may be typed where blanks for a trip are printed: how many in each language."""

from collections.abc import Iterable
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import Group
from relations.languages.name_forms import ByNameField
from relations.people.templatetags.people_words import spoken
from relations.privacy.access import HANDS
from relations.privacy.models import User

from .blanks import MOST, Need, beside
from .forms import ConsentForm, KindField, heading_field

COUNT = "count_"


class BlanksForm(ConsentForm):
    """How many blanks in each language that was read, and who carries them."""

    press = _("Print them and sign them out")
    about: ClassVar = {
        "words_missing": "kind",
        **dict.fromkeys(("second_unread", "editions_differ", "too_long"), "second"),
    }

    second = forms.ChoiceField(
        label=_("Second language"),
        required=False,
        help_text=_("Left alone, the project’s own stands second."),
    )
    kind = KindField()
    has_heading = heading_field()
    carrier = ByNameField(
        queryset=User.objects.none(), label=_("Who carries them"), empty_label=None
    )

    def __init__(self, *args: Any, proposed: Iterable[Need], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.read = [need for need in proposed if not need.refused and beside(need.language)]
        for need in self.read:
            self.fields[COUNT + need.language] = forms.IntegerField(
                label=str(spoken(need.language)).capitalize(),
                min_value=0,
                max_value=MOST,
                required=False,
                initial=need.missing,
            )
        tags = [need.language for need in self.read]
        self.fields["second"].choices = [("", _("Choose by itself"))] + [  # type: ignore[attr-defined]
            (tag, str(spoken(tag)).capitalize()) for tag in tags
        ]
        # What others are called is the artist's to see: an assistant carries them themself.
        hands = User.objects.in_role(*HANDS)
        hands = hands if self.user.is_artist else hands.filter(pk=self.user.pk)
        self.fields["carrier"].queryset = hands  # type: ignore[attr-defined]
        self.fields["carrier"].label_from_instance = lambda user: user.called  # type: ignore[attr-defined]
        self.fields["carrier"].initial = self.user

    def groups(self) -> list[Group | str]:
        counts = [COUNT + need.language for need in self.read]
        how = ["second", "kind", "has_heading", "carrier"]
        return [Group(_("How many still to print"), *counts), Group(_("How"), *how)]

    @property
    def counts(self) -> dict[str, int]:
        """How many in each language; an empty line is none."""
        said = self.cleaned_data
        return {need.language: said[COUNT + need.language] or 0 for need in self.read}
