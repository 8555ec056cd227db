"""What may be typed of word that came through: who told us, on which day, what was asked."""

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import CodeField, NameField, YesNoField
from relations.languages.name_forms import ByNameField
from relations.privacy.home import today
from relations.privacy.models import User
from relations.privacy.once import was_sent

from . import search
from .forms import NoteLine, PastDayField, PerhapsField, PersonForm
from .models import Community, Introduction, OutsideIntroducer, Participant
from .values import Precision
from .words import PRECISIONS


class KnownField(forms.ChoiceField):
    """How much of a day is known; nothing said is the day itself."""

    answers_itself = True

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(
            required=False, choices=list(PRECISIONS.items()), initial=Precision.DAY, **kwargs
        )

    def clean(self, value: Any) -> str:
        return str(super().clean(value) or Precision.DAY)


class DayForm(PersonForm):
    """On which day word came through, or only in which month or year."""

    about: ClassVar = {"in_the_future": "heard_on", "after_yes": "heard_on"}

    heard_on = PastDayField(label=_("Heard on"), initial=today)
    precision = KnownField(
        label=_("What is known of it"),
        help_text=_("Of a month or a year choose any day in it."),
    )

    @property
    def day(self) -> dict[str, Any]:
        """The day as the actions take it."""
        return {"on": self.cleaned_data["heard_on"], **self.typed_in("precision")}


class SourceForm(DayForm):
    """Who told us of somebody, and when."""

    about: ClassVar = {
        **DayForm.about,
        "two_sources": "source",
        "by_themselves": "introducer",
        "told_before": "source",
    }
    OWN, PERSON, OUTSIDE = "own", "person", "outside"
    field_order: tuple[str, ...] = (
        "source",
        "introducer",
        "outside",
        "heard_on",
        "precision",
    )

    source = forms.ChoiceField(
        label=_("Who told us?"),
        widget=forms.RadioSelect,
        choices=[
            (PERSON, _("One of those we know, by code")),
            (OUTSIDE, _("Somebody outside")),
            (OWN, _("Our own start")),
        ],
    )
    introducer = CodeField(label=_("Code of the one who told us"), required=False)
    outside = forms.ModelChoiceField(
        OutsideIntroducer.objects.order_by("code"),
        label=_("Which one outside"),
        required=False,
        empty_label="–",
    )

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        source = data.get("source")
        data["introducer"] = self.somebody("introducer") if source == self.PERSON else None
        if source == self.PERSON and not self.data.get(self.add_prefix("introducer")):
            self.add_error("introducer", _("Type the code of the one who told us."))
        if source != self.OUTSIDE:
            data["outside"] = None
        elif not data.get("outside"):
            self.add_error("outside", _("Choose who told us."))
        return data

    @property
    def source_of(self) -> dict[str, Any]:
        """Who told us and when, as `actions.hear_again` and `links.mend_hearing` take it."""
        return {**self.typed_in("introducer", "outside"), **self.day}


class NewForm(SourceForm):
    """Word of somebody came through: code, what to call them, who spoke, the day."""

    about: ClassVar = {**SourceForm.about, "told_before": "perhaps"}
    field_order: tuple[str, ...] = (
        *("call_name", "perhaps", "community"),
        *(*SourceForm.field_order, "instruction"),
    )

    call_name = NameField(
        label=_("What to call them"),
        help_text=_("The name to ask for. No family name is needed."),
    )
    perhaps = PerhapsField()
    community = ByNameField(
        Community.objects, label=_("Group"), required=False, empty_label=_("Not known")
    )
    instruction = NoteLine(label=_("What to do"), help_text=_("One line of 140 signs at most."))

    def __init__(self, *args: Any, user: User | None = None, **kwargs: Any) -> None:
        """Only the artist may learn that somebody is known; nobody else is asked."""
        super().__init__(*args, **kwargs)
        may_know = user is not None and user.is_artist
        called = self.data.get(self.add_prefix("call_name"), self.initial.get("call_name", ""))
        found = search.same(called) if may_know else []
        if user and found and was_sent(self.data.get("token", ""), user):
            found = []
        if not self.fields["perhaps"].ask(found):  # type: ignore[attr-defined]
            del self.fields["perhaps"]

    @property
    def known(self) -> Participant | None:
        """The one of those we know who was meant; None for somebody new."""
        return next(iter(search.by_code(self.cleaned_data.get("perhaps", ""))), None)

    @property
    def heard(self) -> dict[str, Any]:
        """What `actions.hear` takes."""
        return {**self.source_of, **self.typed_in("call_name", "community", "instruction")}


class VouchForm(PersonForm):
    """What was asked before the name was said."""

    about: ClassVar = {"not_asked_first": "asked_first"}
    press = _("Vouched for")

    asked_first = YesNoField(label=_("Did they ask the person first?"))
    may_say_who = YesNoField(label=_("May we say who sent us?"))
    has_power = YesNoField(
        label=_("Have they power over the person?"),
        help_text=_("An employer, a chief, kin who decide. Then the first talk is without them."),
    )


class MendToldForm(SourceForm):
    """Who told us, or when, put right."""

    press = _("Mend")

    def __init__(self, *args: Any, told: Introduction, **kwargs: Any) -> None:
        introducer, source = told.introducer, self.OWN
        if introducer or told.outside:
            source = self.PERSON if introducer else self.OUTSIDE
        kwargs["initial"] = {
            "source": source,
            "introducer": introducer and introducer.code,
            "outside": told.outside,
            **when(told),
        }
        super().__init__(*args, **kwargs)


class MendDayForm(DayForm):
    """When a sealed word came through: of who told us nothing is left to be put right."""

    press = _("Mend")

    def __init__(self, *args: Any, told: Introduction, **kwargs: Any) -> None:
        super().__init__(*args, initial=when(told), **kwargs)

    @property
    def source_of(self) -> dict[str, Any]:
        """The day alone, as `links.mend_hearing` takes it."""
        return self.day


def when(told: Introduction) -> dict[str, Any]:
    """The day of a hearing as the fields of these forms show it."""
    return {"heard_on": told.heard_on, "precision": told.precision}
