"""A day as it is typed in any calendar; what was understood is shown, and sent once more."""

from collections.abc import Callable
from datetime import date
from typing import Any, NamedTuple

from django import forms
from django.core.exceptions import ValidationError
from django.template.loader import render_to_string
from django.utils.translation import get_language, gettext
from django.utils.translation import gettext_lazy as _

from .direction import strip_marks
from .local_calendars import Calendar, to_local
from .manner import manner
from .paper_days import local, local_part, paper_day
from .reading_days import Reading, readings

# The field beside a day that says which reading of it was meant, by its first Gregorian day.
MEANT = "_meant"
# A day for examples.
SUCH_AS = date(2026, 11, 25)
CONFIRM = _("Look at what was understood, below. If it is right, send this once more.")
CHOOSE = _("This may be more than one day. Choose below which one is meant.")


class Typed(str):
    """What was typed as a day, with the reading of it that was confirmed ("" before it is)."""

    meant: str

    def __new__(cls, text: str, meant: str = "") -> "Typed":
        typed = super().__new__(cls, text)
        typed.meant = meant
        return typed


def read(text: str) -> tuple[Reading, ...]:
    """Every reading of what was typed, by the calendar that this user reads."""
    return readings(text, manner().calendar)


def read_exact(text: str) -> tuple[Reading, ...]:
    """Every reading that is a single day."""
    return tuple(one for one in read(text) if one.is_exact)


def in_words(reading: Reading) -> str:
    """What was understood: the Gregorian day or days, and what was said in another calendar."""
    lang, calendar = get_language() or "en", reading.calendar
    first, last = reading.interval.earliest, reading.interval.latest
    if reading.is_exact:
        return paper_day(first, lang, calendar)
    days = " – ".join(paper_day(day, lang, Calendar.GREGORIAN) for day in (first, last))
    if calendar is Calendar.GREGORIAN:
        return days
    return f"{days} ({local_part(calendar, reading.year, reading.month, reading.day, lang)})"


def settled(typed: str, fits: tuple[Reading, ...]) -> Reading:
    """The reading that counts: the plain one, or the one confirmed; ValidationError: to be asked.

    What is Gregorian and in figures needs no confirming. A confirmed day that is no reading of
    what is typed now was confirmed of something else.
    """
    if len(fits) == 1 and fits[0].is_plain:
        return fits[0]
    meant = getattr(typed, "meant", "")
    for reading in fits:
        if reading.interval.earliest.isoformat() == meant:
            return reading
    raise ValidationError(CONFIRM if len(fits) == 1 else CHOOSE, code="confirm")


class Understood(NamedTuple):
    """What was made of a text: the key that confirms it and its words, or choices of both.

    Nothing is asked where all of it is empty.
    """

    key: str = ""
    said: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    chosen: str = ""


class DayInput(forms.TextInput):
    """The browser's own field for a day, or a line of text where it has none for this calendar."""

    is_day = True

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__({"autocomplete": "off", **(attrs or {})})
        # Set by the field: which readings of a text it may take.
        self.fits: Callable[[str], tuple[Reading, ...]] = read_exact

    def value_from_datadict(self, data: Any, files: Any, name: str) -> Any:
        value = super().value_from_datadict(data, files, name)
        return Typed(value, data.get(name + MEANT) or "") if isinstance(value, str) else value

    def format_value(self, value: Any) -> str | None:
        if not isinstance(value, date):
            return value or None
        day = to_local(value, manner().calendar)
        if day is None or day.calendar is Calendar.GREGORIAN:
            return f"{value:%Y-%m-%d}"
        return strip_marks(local(day, get_language() or "en"))

    def get_context(self, name: str, value: Any, attrs: dict[str, Any] | None) -> dict[str, Any]:
        context = super().get_context(name, value, attrs)
        if self.is_day and _is_for_browser(context["widget"]["value"]):
            context["widget"]["type"] = "date"
        else:
            context["widget"]["attrs"].setdefault("dir", "auto")
        return context

    def render(self, name: str, value: Any, attrs: Any = None, renderer: Any = None) -> Any:
        value = _proposed(value)
        context = {
            "field": super().render(name, value, attrs, renderer),
            "such_as": _such_as(),
            "understood": self.understood(value),
            "name": name + MEANT,
            "id": (attrs or {}).get("id", name),
        }
        return render_to_string("plain/day.html", context)

    def understood(self, value: Any) -> Understood:
        """What was understood of a text: to be sent once more, or to be chosen from."""
        if isinstance(value, date):
            # Of a day that stands there before anybody typed: nothing to ask.
            is_local = manner().calendar is not Calendar.GREGORIAN
            return Understood(f"{value:%Y-%m-%d}" if is_local else "")
        fits = self.fits(value) if isinstance(value, str) else ()
        if not fits or (len(fits) == 1 and fits[0].is_plain):
            return Understood()
        if len(fits) == 1:
            said = gettext("Understood: %(day)s") % {"day": in_words(fits[0])}
            return Understood(_key(fits[0]), said)
        choices = tuple((_key(one), in_words(one)) for one in fits)
        return Understood(choices=choices, chosen=getattr(value, "meant", ""))


def _proposed(value: Any) -> Any:
    """A day that a page proposes as YYYY-MM-DD, as a day; what was typed stays as it was typed."""
    if isinstance(value, str) and not isinstance(value, Typed):
        try:
            return date.fromisoformat(value)
        except ValueError:
            return value
    return value


def _key(reading: Reading) -> str:
    return reading.interval.earliest.isoformat()


def _is_for_browser(value: str | None) -> bool:
    """Whether the browser's own field can hold it: a Gregorian reader's, and no words in it."""
    if manner().calendar is not Calendar.GREGORIAN:
        return False
    try:
        return not value or bool(date.fromisoformat(value))
    except ValueError:
        return False


def _such_as() -> str:
    """How a day may be typed, for whoever reads another calendar."""
    calendar = manner().calendar
    day = to_local(SUCH_AS, calendar)
    if day is None or calendar is Calendar.GREGORIAN:
        return ""
    mine = local(day, get_language() or "en")
    return gettext("Such as %(mine)s, or %(ours)s.") % {"mine": mine, "ours": "25.11.2026"}


class DayField(forms.DateField):
    """One day; a browser sends YYYY-MM-DD, a person may type it in any calendar and digits.

    What is typed in another calendar, or with the name of a month, is asked back once.
    """

    widget = DayInput

    def __init__(self, **kwargs: Any) -> None:
        kwargs["error_messages"] = {
            "invalid": _("This is no day. Write it as day.month.year, such as 25.11.2026."),
            **(kwargs.get("error_messages") or {}),
        }
        super().__init__(**kwargs)
        widget: Any = self.widget
        widget.fits = self.fits

    def to_python(self, value: Any) -> date | None:
        if not isinstance(value, str):
            return super().to_python(value)
        if not value.strip():
            return None
        found = read_exact(value)
        if not found:
            raise ValidationError(self.error_messages["invalid"], code="invalid")
        fits = self.fits(value)
        # Where none holds, `validate` says why of the first.
        return (settled(value, fits) if fits else found[0]).interval.earliest

    def fits(self, text: str) -> tuple[Reading, ...]:
        """The readings that this field may take, such as none in the future."""
        return tuple(one for one in read_exact(text) if self._holds(one.interval.earliest))

    def _holds(self, day: date) -> bool:
        try:
            self.validate(day)
            self.run_validators(day)
        except ValidationError:
            return False
        return True
