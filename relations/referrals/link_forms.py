"""What is pressed on the pages that look after links: whose, which of them, and for good."""

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar

from django import forms
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import CodeField, PlainForm, TicksField
from relations.people.words import REFUSED
from relations.privacy.answering import ActionForm

from .links import Over
from .words import OVER


class WhomForm(PlainForm):
    """Whose links are to be looked at, by code; of somebody inside or outside."""

    method = "get"
    press = _("Show")
    code = CodeField(label=_("Code"), max_length=8)


class SealForm(ActionForm, PlainForm):
    """The press that nothing brings back: what may be needed again was noted elsewhere before."""

    refusals: ClassVar[Mapping[str, str | Promise]] = REFUSED
    press = _("Seal for good")
    look = "stopbtn"

    noted = forms.BooleanField(
        label=_("I have noted it on paper that is kept elsewhere, or it need not be known again")
    )


class OverForm(SealForm):
    """Which of the proposed links are sealed; none is ticked beforehand."""

    which = TicksField(label=_("Links"), required=True)
    field_order = ("which", "noted")

    def __init__(self, *args: Any, over: Sequence[Over], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.over = over
        self.fields["which"].choices = [  # type: ignore[attr-defined]
            (str(one.row.pk), _label(one)) for one in over
        ]

    @property
    def chosen(self) -> list[Over]:
        """Those that were ticked."""
        keys = set(self.cleaned_data["which"])
        return [one for one in self.over if str(one.row.pk) in keys]


def _label(one: Over) -> str:
    words = _("%(source)s told us of %(person)s: %(why)s")
    return words % {"source": one.source, "person": one.row.person.code, "why": OVER[one.why]}
