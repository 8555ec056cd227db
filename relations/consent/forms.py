"""What may be typed on the pages of wordings and papers, and the words for what is refused."""

from collections.abc import Iterable
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import (
    CodeField,
    PlainForm,
    SerialField,
)
from relations.languages.said import figures
from relations.people.access import somebody
from relations.people.forms import PastDayField
from relations.people.models import Participant
from relations.privacy.answering import ActionForm
from relations.privacy.home import today
from relations.privacy.models import User
from relations.privacy.uploads import is_too_large

from .editions import printing_codes
from .models import Form, Wording
from .refusals import REFUSALS
from .source import text_of
from .states import State, ways_on
from .values import FormKind
from .words import KINDS, MOVES, USES

# Why a file is no scan, as `filing.inspect` says it.
NO_SCAN = (
    *("not_a_scan", "broken", "too_large", "too_many_pixels"),
    *("empty", "locked", "no_pages", "too_many_pages"),
)

# Where no form may be printed yet, a proof still can.
PROOF_ONLY = {"first_unread", "second_unread", "editions_differ"}


class ConsentForm(ActionForm, PlainForm):
    """A form of this room: what its actions refuse is said in this room's words."""

    refusals: ClassVar = REFUSALS

    def __init__(self, *args: Any, user: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.user = user

    def somebody(self, field: str) -> Participant | None:
        """The person in sight whose code was typed; an unknown code is an error beside it."""
        typed = self.cleaned_data.get(field)
        if not typed:
            return None
        found = somebody(self.user, typed)
        if found is None:
            self.add_error(field, _("Look at this code again."))
        return found


class DatedForm(ConsentForm):
    """What happened on a day that has come."""

    on = PastDayField(
        label=_("On which day"),
        initial=today,
        error_messages={"future": REFUSALS["day_in_future"]},
    )


class KeepForm(ConsentForm):
    """One press: nothing is typed."""

    press = _("Make the copies")


class KindField(forms.ChoiceField):
    """For whom, or for which way of giving, a form is printed; an adult's where nothing is said."""

    def __init__(self, **kwargs: Any) -> None:
        kinds = list(KINDS.items())
        super().__init__(label=_("Kind of form"), choices=kinds, initial=FormKind.ADULT, **kwargs)

    def clean(self, value: Any) -> Any:
        return super().clean(value or FormKind.ADULT)


def heading_field() -> forms.BooleanField:
    """Whether a neutral heading stands at the top."""
    return forms.BooleanField(
        label=_("A neutral heading at the top: “Portrait paper”, in both languages"),
        required=False,
        help_text=_("Without it nothing but the number stands there. No cause is ever named."),
    )


class PairForm(ConsentForm):
    """Which two languages, the sitter's first."""

    about: ClassVar = {
        "first_unread": "first",
        "second_unread": "second",
        "same_language": "second",
        "clauses_differ": "second",
        "editions_differ": "second",
    }

    first = forms.ChoiceField(label=_("Their language"))
    second = forms.ChoiceField(label=_("Second language"))

    def __init__(self, *args: Any, wordings: Iterable[Wording], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.wordings = {str(wording.pk): wording for wording in wordings}
        choices = [("", _("Choose"))] + [
            (key, wording_name(wording)) for key, wording in self.wordings.items()
        ]
        for field in ("first", "second"):
            self.fields[field].choices = choices  # type: ignore[attr-defined]

    @property
    def unread_pair(self) -> tuple[Wording, Wording] | None:
        """The two wordings where they are not read as one, so that a proof can be offered."""
        said = self.data if self.is_bound else {}
        pair = [self.wordings.get(said.get(field, "")) for field in ("first", "second")]
        first, second = pair
        if first is None or second is None or first == second:
            return None
        codes = printing_codes(text_of(first), text_of(second))
        return (first, second) if PROOF_ONLY.intersection(codes) else None

    @property
    def pair(self) -> tuple[Wording, Wording]:
        """The two wordings chosen."""
        return (
            self.wordings[self.cleaned_data["first"]],
            self.wordings[self.cleaned_data["second"]],
        )


class PrintForm(PairForm):
    """Which two languages a form is in; for whom it is meant, if for anybody yet."""

    press = _("Print the form")
    field_order = ("code",)
    about: ClassVar = {**PairForm.about, "too_long": "second", "words_missing": "kind"}

    code = CodeField(
        label=_("For whom"),
        required=False,
        help_text=_("A person’s code. No name stands on the paper. Leave it empty for a blank."),
    )
    kind = KindField()
    has_heading = heading_field()

    def clean(self) -> dict[str, Any]:
        said = super().clean() or self.cleaned_data
        said["person"] = self.somebody("code")
        return said


def wording_name(wording: Wording) -> Any:
    """A wording as a list names it: its own language's name, its version, and if it is unread."""
    names = {
        "language": wording.labels.get("language", wording.language),
        "version": figures(wording.version),
    }
    if wording.frozen_at is None:
        return _("%(language)s, version %(version)s: not read yet, proof only") % names
    return _("%(language)s, version %(version)s") % names


class MoveForm(DatedForm):
    """Where a paper is now, in the words of whoever holds it."""

    press = _("Note it")
    field_order = ("to", "on")

    to = forms.ChoiceField(label=_("What happened to it?"), widget=forms.RadioSelect)

    def __init__(self, *args: Any, paper: Form, more: Iterable[State] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        ways = [*ways_on(State(paper.state)), *more]
        self.fields["to"].choices = [  # type: ignore[attr-defined]
            (state.value, MOVES[state]) for state in ways
        ]


class ScanField(forms.FileField):
    """A scan; one beyond the limit was let go on its way in and is said to be so."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault(
            "widget",
            forms.FileInput(
                attrs={
                    "accept": "image/jpeg,image/png,image/tiff,application/pdf",
                    "data-shrink": True,
                }
            ),
        )
        super().__init__(**kwargs)

    def clean(self, data: Any, initial: Any = None) -> Any:
        if is_too_large(data):
            raise forms.ValidationError(REFUSALS["too_large"], code="too_large")
        return super().clean(data, initial)


class FileForm(ConsentForm):
    """One scan under the serial read from the paper."""

    press = _("File it")
    about: ClassVar = {
        **dict.fromkeys(("shape", "mistyped", "no_such_paper", "not_expected"), "serial"),
        **dict.fromkeys(("whose", "another_person"), "code"),
        **dict.fromkeys(NO_SCAN, "scan"),
        "filed_under_another": "scan",
    }

    serial = SerialField(
        label=_("The serial on the paper"),
        help_text=_("Type it from the paper, never from a list."),
    )
    code = CodeField(
        label=_("Whose form it is"),
        required=False,
        help_text=_("Needed only where the form was printed for nobody yet."),
    )
    scan = ScanField(
        label=_("The scan or photo"),
        help_text=_("Both sides in one PDF, or one picture after the other. At most 25 MB."),
    )

    def clean(self) -> dict[str, Any]:
        said = super().clean() or self.cleaned_data
        said["person"] = self.somebody("code")
        return said


class TheySayForm(DatedForm):
    """A yes or a no that somebody said on a day, and no third answer."""

    is_yes = forms.TypedChoiceField(
        label=_("They say"),
        choices=[("yes", _("Yes")), ("no", _("No"))],
        coerce=lambda said: said == "yes",
        widget=forms.RadioSelect,
    )


class SpeakerForm(TheySayForm):
    """What whoever speaks for somebody said of one use."""

    press = _("Note it")
    about: ClassVar = {"kin_may_only_narrow": "is_yes", "said_no": "is_yes"}
    field_order = ("use", "is_yes", "on")

    use = forms.ChoiceField(label=_("Of which use"), choices=list(USES.items()))
