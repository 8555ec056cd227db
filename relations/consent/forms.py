"""What may be typed on the pages of wordings and papers, and the words for what is refused."""

from collections.abc import Iterable
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import (
    CodeField,
    Group,
    NoteField,
    PlainForm,
    SerialField,
)
from relations.people.access import somebody
from relations.people.forms import PastDayField
from relations.people.models import Participant
from relations.privacy.answering import ActionForm
from relations.privacy.home import today
from relations.privacy.models import User
from relations.privacy.uploads import is_too_large

from .models import Form, Wording
from .states import State, ways_on
from .words import MOVES, REFUSALS, USES


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


class WordingForm(ConsentForm):
    """One press on the page of a wording: approve or send back a clause, or freeze the whole."""

    act = forms.RegexField(r"^((approve|send_back):[a-z_]{1,24}|freeze)$")


class WriteForm(ConsentForm):
    """The clauses of a language with their headings, then the words on its lines."""

    press = _("Keep these words")

    def __init__(self, *args: Any, model: Wording, language: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.clauses = list(model.clauses.all())
        self.keys = sorted(model.labels)
        is_own = model.language == language
        for clause in self.clauses:
            self._clause(clause.key, clause.number, clause.heading, clause.text, is_own, language)
        for key in self.keys:
            words = model.labels[key]
            self.fields[f"label_{key}"] = forms.CharField(
                label=key.replace("_", " "),
                help_text="" if is_own else words,
                initial=words if is_own else "",
                max_length=400,
                widget=forms.TextInput(attrs={"lang": language, "dir": "auto"}),
            )

    def _clause(
        self, key: str, number: int, heading: str, text: str, is_own: bool, language: str
    ) -> None:
        how = {"lang": language, "dir": "auto"}
        self.fields[f"heading_{key}"] = forms.CharField(
            label=_("%(number)s. Heading") % {"number": number},
            help_text="" if is_own else heading,
            initial=heading if is_own else "",
            max_length=120,
            required=False,
            widget=forms.TextInput(attrs=how),
        )
        self.fields[f"text_{key}"] = NoteField(
            label=_("%(number)s. Words") % {"number": number},
            help_text="" if is_own else text,
            initial=text if is_own else "",
            widget=forms.Textarea(attrs={**how, "rows": 3}),
        )

    def groups(self) -> list[Group | str]:
        clauses = [f"{part}_{c.key}" for c in self.clauses for part in ("heading", "text")]
        labels = [f"label_{key}" for key in self.keys]
        return [Group(_("Clauses"), *clauses), Group(_("Words on the lines"), *labels)]

    @property
    def texts(self) -> dict[str, tuple[str, str]]:
        """Heading and text by the clause's key, as an action takes them."""
        said = self.cleaned_data
        return {c.key: (said[f"heading_{c.key}"], said[f"text_{c.key}"]) for c in self.clauses}

    @property
    def labels(self) -> dict[str, str]:
        """The words on the lines by their key."""
        return {key: self.cleaned_data[f"label_{key}"] for key in self.keys}


class PrintForm(ConsentForm):
    """Which two languages, the sitter's first; for whom it is meant, if for anybody yet."""

    press = _("Print the form")
    about: ClassVar = {
        "first_unread": "first",
        "second_unread": "second",
        "same_language": "second",
        "clauses_differ": "second",
    }

    code = CodeField(
        label=_("For whom"),
        required=False,
        help_text=_("A person’s code. No name stands on the paper. Leave it empty for a blank."),
    )
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

    def clean(self) -> dict[str, Any]:
        said = super().clean() or self.cleaned_data
        said["person"] = self.somebody("code")
        return said

    @property
    def unread_pair(self) -> tuple[Wording, Wording] | None:
        """The two wordings where one of them is unread, so that a proof can be offered."""
        said = self.data if self.is_bound else {}
        pair = [self.wordings.get(said.get(field, "")) for field in ("first", "second")]
        first, second = pair
        if first is None or second is None or first == second:
            return None
        is_unread = first.frozen_at is None or second.frozen_at is None
        return (first, second) if is_unread else None

    @property
    def pair(self) -> tuple[Wording, Wording]:
        """The two wordings chosen."""
        return (
            self.wordings[self.cleaned_data["first"]],
            self.wordings[self.cleaned_data["second"]],
        )


def wording_name(wording: Wording) -> Any:
    """A wording as a list names it: its own language's name, its version, and if it is unread."""
    names = {
        "language": wording.labels.get("language", wording.language),
        "version": wording.version,
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
            forms.FileInput(attrs={"accept": "image/jpeg,image/png,image/tiff,application/pdf"}),
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
        **dict.fromkeys(("not_a_scan", "broken", "too_large", "too_many_pixels"), "scan"),
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
