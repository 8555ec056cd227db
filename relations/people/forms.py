"""What may be typed on the pages about people, and the words for what is refused."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any, ClassVar
from urllib.parse import urlencode

from django import forms
from django.core.exceptions import ValidationError
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from relations.languages.direction import isolated
from relations.languages.forms import (
    CodeField,
    DayField,
    NameField,
    PlainForm,
)
from relations.languages.name_forms import ByNameField
from relations.privacy.answering import ActionForm
from relations.privacy.home import today

from . import search
from .models import Community, Participant
from .values import Standing
from .words import REFUSED, STANDINGS

NOTE_SIGNS = 140


class NoteLine(forms.CharField):
    """One line of words, such as what to do; at most 140 signs unless it says less."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("required", False)
        kwargs.setdefault("max_length", NOTE_SIGNS)
        super().__init__(**kwargs)
        self.widget.attrs.update({"dir": "auto", "autocomplete": "off"})


class PastDayField(DayField):
    """The day on which something happened: today or before."""

    default_error_messages: ClassVar = {"future": REFUSED["in_the_future"]}

    def validate(self, value: date | None) -> None:
        super().validate(value)
        if value and value > today():
            raise ValidationError(self.error_messages["future"], code="future")


class PerhapsField(forms.ChoiceField):
    """Those who may be the same person, or somebody new: nobody is put together unasked."""

    NEW = "new"

    def __init__(self) -> None:
        super().__init__(
            label=_("Is it one of these?"),
            widget=forms.RadioSelect,
            error_messages={"required": _("Somebody of such a name is known. Say who it is.")},
        )

    def ask(self, found: Sequence[Participant], *, may_be_new: bool = True) -> bool:
        """Offer these people; whether there is anything to ask."""
        known = [(one.code, f"{isolated(one.call_name)} {one.code}") for one in found]
        self.choices = [*known, *([(self.NEW, _("Somebody new"))] if may_be_new else [])]
        return bool(known)


class PersonForm(ActionForm, PlainForm):
    """A form about people: what its actions refuse is said in this room's words."""

    refusals: ClassVar[Mapping[str, str | Promise]] = REFUSED

    def somebody(self, field: str) -> Participant | None:
        """The person whose code was typed; an unknown code is an error beside the field."""
        typed = self.cleaned_data.get(field)
        if not typed:
            return None
        found = search.by_code(typed)
        if not found:
            self.add_error(field, _("Look at this code again."))
            return None
        return found[0]

    def anybody(self) -> Participant | None:
        """Whom the typed `code` names; whether it names anybody is not said."""
        return next(iter(search.by_code(self.cleaned_data["code"])), None)


class MendForm(PersonForm):
    """A wrong entry put right; the old one stays readable to the artist."""

    press = _("Mend")

    call_name = NameField(label=_("What to call them"))
    community = ByNameField(
        Community.objects, label=_("Group"), required=False, empty_label=_("Not known")
    )
    heard_on = DayField(label=_("Heard on"))

    def __init__(self, *args: Any, person: Participant, **kwargs: Any) -> None:
        self.person = person
        names = ("call_name", "community", "heard_on")
        kwargs["initial"] = {name: getattr(person, name) for name in names}
        super().__init__(*args, **kwargs)

    def clean_heard_on(self) -> Any:
        day = self.cleaned_data["heard_on"]
        if day > self.person.standing_since:
            raise ValidationError(_("Something was noted of them before this day."))
        return day

    @property
    def changes(self) -> dict[str, Any]:
        """The fields whose value is another one now."""
        names = ("call_name", "community", "heard_on")
        said = self.typed_in(*names).items()
        return {name: new for name, new in said if new != getattr(self.person, name)}


class RangUsForm(PersonForm):
    """Somebody rang or wrote: what they said of themselves."""

    press = _("Heard")
    typed = NameField(
        label=_("Who rang?"),
        max_length=80,
        help_text=_("A code, a number or the name they say."),
    )


class CommunityForm(PersonForm):
    """A group under a neutral name."""

    key = forms.SlugField(label=_("Short key"), max_length=20)
    name = NameField(label=_("Neutral name"), max_length=40, help_text=_("A tree, for instance."))
    is_raised = forms.BooleanField(label=_("Many in it are at risk"), required=False)

    def clean_key(self) -> str:
        key: str = self.cleaned_data["key"].casefold()
        if Community.objects.filter(key=key).exists():
            raise ValidationError(_("There is a group with this key."))
        return key

    def clean_name(self) -> str:
        name: str = self.cleaned_data["name"]
        if Community.objects.filter(name=name).exists():
            raise ValidationError(_("There is a group with this name."))
        return name


class OutsideForm(PersonForm):
    """Somebody outside who passes names on: a label, no file."""

    code = CodeField(label=_("Code"), max_length=8)
    label = NameField(label=_("Label"), max_length=80)
    accepted_on = DayField(label=_("Accepted on"), required=False)


class FilterForm(PlainForm):
    """Which people the artist's list shows."""

    method = "get"
    press = _("Show")
    group = ByNameField(
        Community.objects,
        label=_("Group"),
        required=False,
        empty_label=_("All groups"),
        to_field_name="key",
    )
    standing = forms.ChoiceField(label=_("Standing"), required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["standing"].choices = [  # type: ignore[attr-defined]
            ("", _("All")),
            *((code, STANDINGS[code]) for code in Standing),
        ]

    def chosen(self) -> dict[str, Any]:
        """What `queries.filtered` takes; what cannot be read narrows nothing."""
        if not self.is_valid():
            return {}
        return {"community": self.cleaned_data["group"], "standing": self.cleaned_data["standing"]}

    def query(self) -> str:
        """The chosen filter as it stands in the address of the next page."""
        chosen = {name: value for name, value in self.data.items() if name in self.fields}
        return urlencode({name: value for name, value in chosen.items() if value})


class FindForm(PersonForm):
    """The artist's search, sent as a post so that no name stands in an address."""

    press = _("Find")
    typed = NameField(label=_("Code, number or name"), max_length=80)

    def found(self) -> list[Participant]:
        """Those who may be meant."""
        return search.find(self.cleaned_data["typed"])
