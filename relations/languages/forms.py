"""The form every page builds on: tidy text, one token a form, our own fields and words."""

import re
import unicodedata
from collections.abc import Sequence
from typing import Any
from uuid import UUID, uuid4

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Fieldset, Layout, Submit
from django import forms
from django.core.exceptions import ValidationError
from django.db.models import TextChoices
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from .day_fields import DayField as DayField
from .day_fields import Typed
from .digits import to_ascii
from .direction import hidden_characters, strip_marks
from .said import listed

Words = str | Promise

# Fields whose characters are figures and codes: any script's digits become 0-9.
FIGURES: tuple[type[forms.Field], ...] = (
    forms.DateField,
    forms.DateTimeField,
    forms.DecimalField,
    forms.IntegerField,
    forms.TimeField,
)
# What is far longer than its field is turned down unread: to tidy a megabyte takes longer than a
# page does. LONG: letters of a field that has no length of its own.
LONG, FAR = 1000, 4
DASHES = dict.fromkeys(map(ord, "\u2010\u2011\u2012\u2013\u2014\u2212"), "-")


def tidy(field: forms.Field, typed: object) -> object:
    """Give what was typed into `field` as it may be kept; what is no text comes back untouched.

    NFC for every text; hidden characters out of one-line text, all but line breaks and tabs out
    of longer text (names keep them, to be refused by `NameField`); digits of any script as 0-9 in
    figures, dates and codes. Passwords are never changed. Source: languages.md 2.2, UAX 15.
    """
    widget = field.widget
    if not isinstance(typed, str) or isinstance(widget, forms.PasswordInput):
        return typed
    if isinstance(typed, Typed):
        return Typed(_tidied(field, typed), typed.meant)
    return _tidied(field, typed)


def _tidied(field: forms.Field, typed: str) -> str:
    widget = field.widget
    text = unicodedata.normalize("NFC", typed)
    if isinstance(field, NameField):
        return text
    text = strip_marks(text, lines=isinstance(widget, forms.Textarea))
    if isinstance(field, (*FIGURES, CodeField, PhoneField)):
        return to_ascii(text)
    return text


def _short(field: forms.Field, typed: Any) -> Any:
    """What was typed; where it is far too long, something in its place that no field takes."""
    most = getattr(field, "max_length", None) or LONG
    is_unbound = isinstance(field, forms.CharField) and field.max_length is None
    if is_unbound or not isinstance(typed, str) or len(typed) <= FAR * most:
        return typed
    return "…" * (most + 1)


class PlainBoundField(forms.BoundField):
    """A field that is checked tidied and shown again exactly as it was typed."""

    @property
    def data(self) -> Any:
        return tidy(self.field, _short(self.field, super().data))

    def value(self) -> Any:
        shown = self.initial
        if self.form.is_bound:
            shown = self.field.bound_data(super().data, shown)
        return self.field.prepare_value(shown)


class NameField(forms.CharField):
    """A name in any script; characters that hide or turn the reading direction are refused."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", 120)
        super().__init__(**kwargs)
        self.widget.attrs.setdefault("dir", "auto")
        self.widget.attrs.setdefault("autocomplete", "off")

    def validate(self, value: str) -> None:
        super().validate(value)
        found = hidden_characters(value)
        if found:
            raise ValidationError(
                _("This holds characters that cannot be seen (%(found)s). Type the name again."),
                code="direction",
                params={"found": listed(found)},
            )


class NoteField(forms.CharField):
    """Several lines of words: what to do, not why."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", 2000)
        kwargs.setdefault("widget", forms.Textarea(attrs={"rows": 4, "dir": "auto"}))
        super().__init__(**kwargs)
        self.widget.attrs.setdefault("autocomplete", "off")


class CodeField(forms.CharField):
    """A short code as we say it by telephone: capital letters, figures and lines."""

    shape = re.compile(r"[0-9A-Z]+(?:-[0-9A-Z]+)*")
    shape_words: Words = _("A code is made of letters and figures only.")
    attrs = {"dir": "ltr", "autocomplete": "off", "autocapitalize": "characters", "class": "short"}

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", 24)
        super().__init__(**kwargs)
        for name, value in self.attrs.items():
            self.widget.attrs.setdefault(name, value)

    def to_python(self, value: object) -> str:
        text = str(super().to_python(value) or "")
        return re.sub(r"\s+", "", text).translate(DASHES).upper()

    def validate(self, value: str) -> None:
        super().validate(value)
        if value and not self.shape.fullmatch(value):
            raise ValidationError(str(self.shape_words), code="shape")


class SerialField(CodeField):
    """A paper's serial, kept as 60022-64; whether its check figures agree is for the papers."""

    shape = re.compile(r"\d{5}-\d{2}", re.ASCII)
    shape_words = _("A serial has five figures, a line and two figures, such as 60022-64.")
    attrs = {**CodeField.attrs, "inputmode": "numeric"}

    def to_python(self, value: object) -> str:
        text = super().to_python(value)
        return f"{text[:5]}-{text[5:]}" if re.fullmatch(r"\d{7}", text, re.ASCII) else text


class PhoneField(forms.CharField):
    """A telephone number as it was given; reading it is for the people's room."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", 80)
        kwargs.setdefault(
            "widget",
            forms.TextInput(
                attrs={"type": "tel", "dir": "ltr", "inputmode": "tel", "autocomplete": "off"}
            ),
        )
        super().__init__(**kwargs)


class HourField(forms.TimeField):
    """An hour of the day, 24-hour clock, in any digits."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("input_formats", ("%H:%M", "%H.%M", "%H:%M:%S"))
        kwargs.setdefault(
            "widget",
            forms.TimeInput(format="%H:%M", attrs={"type": "time", "autocomplete": "off"}),
        )
        kwargs["error_messages"] = {
            "invalid": _("This is no hour. Write it as 14:30."),
            **(kwargs.get("error_messages") or {}),
        }
        super().__init__(**kwargs)


class YesNo(TextChoices):
    """An answer on paper or by mouth; what was not said is not a yes."""

    YES = "yes", _("Yes")
    NO = "no", _("No")
    NOT_SAID = "not_said", _("Not said")


class YesNoField(forms.TypedChoiceField):
    """One question with yes, no and not said; gives True, False or None.

    Not required, it starts at "not said"; required, a reader must choose one of the three.
    """

    answers_itself = True

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("required", False)
        if not kwargs["required"]:
            kwargs.setdefault("initial", YesNo.NOT_SAID)
        super().__init__(
            choices=YesNo.choices,
            coerce={YesNo.YES.value: True, YesNo.NO.value: False}.get,
            empty_value=None,
            widget=forms.RadioSelect,
            **kwargs,
        )


class TicksField(forms.MultipleChoiceField):
    """Any number of boxes out of a list."""

    answers_itself = True

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("required", False)
        super().__init__(widget=forms.CheckboxSelectMultiple, **kwargs)


class Group(Fieldset):  # type: ignore[misc]  # crispy-forms brings no types
    """Fields under one heading; with `ticks=True` a compact grid of yes/no rows.

    The heading is our own text, never a user's: crispy-forms compiles it as a template.
    """

    def __init__(self, legend: Words, *fields: str, ticks: bool = False) -> None:
        super().__init__(legend, *fields, css_class="ticks" if ticks else "")


class PlainForm(forms.Form):
    """A server-checked form: hidden token, tidy text, crispy helper of our own pack.

    `press` is the word on its button and `look` the button's class ("main" or "stopbtn"); a form
    with parts gives them by `groups()`; `method = "get"` leaves the tokens out (a search).
    """

    bound_field_class = PlainBoundField
    press: Words = _("Save")
    look = "main"
    method = "post"

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("label_suffix", "")
        super().__init__(*args, **kwargs)
        if self.method == "post":
            self.fields["token"] = forms.UUIDField(
                initial=uuid4,
                widget=forms.HiddenInput,
                error_messages={
                    "required": _("This page was incomplete. Please send it again."),
                    "invalid": _("This page was incomplete. Please send it again."),
                },
            )

    @property
    def token(self) -> UUID:
        """The token of this valid form: the same one if it is sent twice."""
        return UUID(str(self.cleaned_data["token"]))

    def groups(self) -> Sequence[Group | str]:
        """Parts of the form in their order; empty: every field, one after another."""
        return ()

    @property
    def helper(self) -> FormHelper:
        helper = FormHelper(self)
        helper.form_method = self.method
        helper.form_class = "form" if self.method == "post" else "find"
        helper.attrs = {"novalidate": True}
        if groups := self.groups():
            helper.layout = Layout(*groups)
            helper.render_hidden_fields = True
            helper.render_unmentioned_fields = True
        else:
            helper.layout = None
        button = Submit("press", str(self.press))
        button.look = self.look
        helper.add_input(button)
        return helper


class BesideForm(PlainForm):
    """A form that stands on a page of other matters and is sent to the page at `path`."""

    def __init__(self, *args: Any, path: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.path = path

    @property
    def helper(self) -> FormHelper:
        helper = super().helper
        helper.form_action = self.path
        return helper
