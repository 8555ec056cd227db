"""What is typed at a handover: who goes and who comes, two counts, and each one's own password."""

from typing import Any, ClassVar
from uuid import UUID, uuid5

from crispy_forms.helper import FormHelper
from django import forms
from django.http import HttpRequest
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from relations.languages.direction import isolated
from relations.languages.forms import Group
from relations.people.forms import NoteLine, PastDayField
from relations.privacy.forms import fitting, password_field
from relations.privacy.home import today
from relations.privacy.models import User

from . import handing_on
from .forms import RightsForm
from .models import Handover
from .values import TOUCHED, Spoken
from .words import COUNTED_BY_HAND, SPOKEN

BOTH = ("gone", "come")


class UserField(forms.ModelChoiceField):  # type: ignore[type-arg] # none as it runs
    """One of those who sign in, by what the others call them."""

    def label_from_instance(self, obj: Any) -> str:
        return f"{isolated(obj.called)} ({isolated(obj.username)})"


class BeginHandoverForm(RightsForm):
    """Who goes, and who comes."""

    press = _("Begin the handover")
    about: ClassVar = {
        **dict.fromkeys(("the_same_person", "cannot_come"), "come"),
        "not_an_assistant": "gone",
    }
    gone = UserField(
        label=_("Who leaves"),
        queryset=User.objects.none(),
        widget=forms.RadioSelect,
        empty_label=None,
    )
    come = UserField(
        label=_("Who comes"),
        queryset=User.objects.none(),
        widget=forms.RadioSelect,
        empty_label=None,
        help_text=_(
            "Add them first, as a reader of wordings: so they see nobody until both have signed."
        ),
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["gone"].queryset = handing_on.may_go()  # type: ignore[attr-defined]
        self.fields["come"].queryset = handing_on.may_come()  # type: ignore[attr-defined]

    @property
    def helper(self) -> FormHelper:
        """Sent to a page of its own, as every press of this page."""
        helper = super().helper
        helper.form_action = reverse("rights:begin_handover")
        return helper


class SignForm(RightsForm):
    """Both count by hand, each alone, and sign with their own password."""

    press = _("Both sign")
    about: ClassVar = {"differs": "why_differs", "own_password_first": "come_password"}

    def __init__(
        self, *args: Any, request: HttpRequest, handover: Handover | None, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.request, self.handover = request, handover
        for who in BOTH if handover else ():
            called = getattr(handover, who).called
            for what in TOUCHED:
                words = {"what": COUNTED_BY_HAND[what], "who": called}
                self.fields[f"{who}_{what}"] = forms.IntegerField(
                    label=_("%(what)s, counted by %(who)s") % words, min_value=0, max_value=9999
                )
            self.fields[f"{who}_password"] = password_field(
                _("Password of %(who)s") % {"who": called}, "off"
            )
        self.fields["why_differs"] = NoteLine(
            label=_("Why the numbers differ"),
            help_text=_("Only where they do: what is missing and who looks for it. No name."),
        )

    def groups(self) -> list[Group | str]:
        """What each of the two counted apart, under whose it is; then why it differs."""
        counted = {
            who: [name for name in self.fields if name.startswith(f"{who}_")] for who in BOTH
        }
        return [
            Group(_("Who leaves"), *counted["gone"]),
            Group(_("Who comes"), *counted["come"]),
            "why_differs",
        ]

    @property
    def helper(self) -> FormHelper:
        """Sent to a page of its own."""
        helper = super().helper
        if self.handover:
            helper.form_action = reverse("rights:sign_handover", args=[self.handover.pk])
        return helper

    def clean(self) -> dict[str, Any]:
        """Each gives their own password; a wrong one counts as a try at signing in."""
        said: dict[str, Any] = super().clean() or {}
        # Once it is signed one of them signs in no more: what comes twice is not asked again.
        is_asked = self.handover and self.handover.is_open and not self.errors
        for who in BOTH if is_asked else ():
            user = getattr(self.handover, who)
            if fitting(self.request, user.username, said[f"{who}_password"]) != user:
                self.add_error(f"{who}_password", self.words("not_their_password"))
        return said

    @property
    def by_hand(self) -> dict[str, dict[str, int]]:
        """What each of the two counted."""
        said = self.cleaned_data
        return {who: {str(what): said[f"{who}_{what}"] for what in TOUCHED} for who in BOTH}


class PathForm(RightsForm):
    """A press on a page that has several: they share its token, so each makes its own of it."""

    def __init__(self, *args: Any, path: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.path = path

    @property
    def token(self) -> UUID:
        return uuid5(super().token, self.path)


class SpokenForm(PathForm):
    """What a sitter said of the newcomer, and when."""

    said = forms.ChoiceField(label="", choices=[(one.value, SPOKEN[one]) for one in Spoken])
    on = PastDayField(label=_("Spoken with on"), initial=today)
    about: ClassVar = {"before_the_handover": "on"}


class UnwantedForm(RightsForm):
    """Whom somebody does not want: the artist says which assistant, an assistant themselves."""

    press = _("The artist rings from now on")
    about: ClassVar = {"not_an_assistant": "user", "not_yours_to_say": "user"}
    user = UserField(
        label=_("Whom they do not want"),
        queryset=User.objects.none(),
        widget=forms.RadioSelect,
        empty_label=None,
    )

    def __init__(self, *args: Any, user: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        assistants = handing_on.may_go()
        mine = assistants if user.is_artist else assistants.filter(pk=user.pk)
        self.fields["user"].queryset = mine  # type: ignore[attr-defined]
        if not user.is_artist:
            self.initial["user"] = user.pk
