"""What may be typed about a frame: who else is in it, a crop of it, words of those who sit."""

from collections.abc import Sequence
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.direction import isolated
from relations.languages.forms import Group, NoteField, SerialField
from relations.languages.templatetags.words import day
from relations.meetings.models import Interview
from relations.people.forms import PastDayField
from relations.people.models import Participant
from relations.privacy.home import today

from . import queries
from .forms import PictureForm, PictureRoomForm, WordsForm
from .models import Picture
from .words import BECAME


class StrangerForm(PictureRoomForm):
    """Somebody in the frame who did not sit: where they stand, and what became of it."""

    press = _("Note it")
    about: ClassVar = {"sitter_there": "place", "no_paper": "serial"}

    place = forms.IntegerField(
        label=_("Place from the left"),
        min_value=1,
        max_value=60,
        help_text=_("Never a name. Also somebody in a picture inside the picture."),
    )
    became = forms.ChoiceField(
        label=_("What became of it"), choices=list(BECAME.items()), widget=forms.RadioSelect
    )
    serial = SerialField(label=_("Serial of the form with their yes"), required=False)
    on = PastDayField(label=_("Day"), initial=today)

    @property
    def noted(self) -> dict[str, Any]:
        """What `actions.settle` takes."""
        return self.typed_in("place", "became", "serial", "on")


class CropForm(PictureForm):
    """A part of a picture as one of its own: those left in it are judged anew."""

    press = _("Keep this crop")
    left_out = ("made_on", "sheet", "crop_of")

    def __init__(self, *args: Any, whole: Picture, sitters: list[Participant], **kwargs: Any):
        super().__init__(*args, sitting=whole.sitting, sitters=sitters, **kwargs)
        for name in self.left_out:
            del self.fields[name]
        self.whole = whole
        self.fields["code"].initial = queries.next_crop_code(whole)
        self.fields["place_word"].initial = whole.place_word

    def groups(self) -> Sequence[Group | str]:
        return [part for part in super().groups() if part not in self.left_out]

    @property
    def noted(self) -> dict[str, Any]:
        of_the_whole = {"made_on": self.whole.made_on, "sheet": self.whole.sheet}
        self.cleaned_data |= {**of_the_whole, "crop_of": self.whole}
        return super().noted


class TalkField(forms.ModelChoiceField):  # type: ignore[type-arg]  # no generic at run time
    """One interview, called by the code of its person and its day."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(Interview.objects.none(), **kwargs)

    def label_from_instance(self, obj: Interview) -> str:
        return f"{obj.person.code} · {day(obj.held_on)}"


class QuoteForm(WordsForm):
    """Words of somebody in the frame; each use of them needs a yes of its own."""

    press = _("Keep these words")
    about: ClassVar = {
        **dict.fromkeys(("quote_leaks", "quote_leaks_elsewhere"), "their_words"),
        "not_their_talk": "interview",
    }

    said_by = forms.ChoiceField(label=_("Who said them"), widget=forms.RadioSelect)
    their_words = NoteField(label=_("Their words"), max_length=400)
    interview = TalkField(label=_("Said in the talk"), required=False, empty_label=_("Elsewhere"))

    def __init__(self, *args: Any, sitters: list[Participant], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        talks = queries.talks_of(sitters)
        if talks:
            self.fields["interview"].queryset = talks  # type: ignore[attr-defined]
        else:
            del self.fields["interview"]
        self.sitters = {person.code: person for person in sitters}
        self.fields["said_by"].choices = [  # type: ignore[attr-defined]
            (code, f"{isolated(person.call_name)} {code}") for code, person in self.sitters.items()
        ]

    @property
    def said(self) -> dict[str, Any]:
        """What `actions.add_quote` takes."""
        said = self.cleaned_data
        return {
            "code": queries.next_quote_code(),
            "person": self.sitters[said["said_by"]],
            "words": said["their_words"],
            "interview": said.get("interview"),
            "means_another": self.means,
        }
