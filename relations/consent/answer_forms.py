"""What may be typed to settle two readings, or to note what was said after a form."""

from collections.abc import Iterable
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.direction import isolated
from relations.languages.forms import Group, NameField, YesNoField

from .completeness import HOLDERS
from .forms import ConsentForm, DatedForm, TheySayForm
from .models import Form
from .pages import Open
from .reading_forms import sittings_field
from .words import AUTHORITIES, BOXES, USES

SAID = {True: "yes", False: "no", None: "not_said"}
DECISIONS = [
    ("", _("not decided yet")),
    ("can", _("can be kept")),
    ("cannot", _("cannot be kept")),
]


class SettleForm(ConsentForm):
    """Only the boxes in which two readings differ, each with both answers and "cannot be read"."""

    press = _("Settle it")

    def __init__(
        self, *args: Any, boxes: Iterable[tuple[str, Any, list[tuple[Any, Any]]]], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.held: dict[str, dict[str, Any]] = {}
        for number, (box, label, answers) in enumerate(boxes, start=1):
            name = f"box_{number}"
            self.held[name] = {"box": box, "values": [value for value, _words in answers]}
            self.fields[name] = forms.ChoiceField(
                label=label,
                choices=[(str(place), words) for place, (_value, words) in enumerate(answers)],
                widget=forms.RadioSelect,
            )

    @property
    def answers(self) -> dict[str, Any]:
        """The chosen answer of each box, as an action takes it."""
        return {
            held["box"]: held["values"][int(self.cleaned_data[name])]
            for name, held in self.held.items()
        }


class GuardianForm(TheySayForm):
    """What one holder of authority over a child said."""

    press = _("Note their answer")
    field_order = ("authority", "name", "is_yes", "on")

    authority = forms.ChoiceField(
        label=_("By what right"),
        choices=[(code.value, AUTHORITIES[code]) for code in HOLDERS],
        widget=forms.RadioSelect,
        help_text=_("A grandparent, teacher or team captain does not count."),
    )
    name = NameField(label=_("Their name"), required=False)


class AnswersForm(DatedForm):
    """What was shown or read to a sitter after the form: pictures, captions, quotes, and more."""

    press = _("Note these answers")
    about: ClassVar = dict.fromkeys(("before_the_form", "day_in_future"), "on")

    def __init__(self, *args: Any, paper: Form, open_: Open, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.open = open_
        self.sittings = {str(one.pk): one for one in open_.sittings}
        self.fields["sittings"] = sittings_field(self.sittings)
        self.fields["sittings"].initial = [str(one.pk) for one in paper.sittings.all()]
        for picture, said in open_.pictures:
            self.fields[f"picture_{picture.pk}"] = YesNoField(
                label=picture.code, initial=SAID[said]
            )
        for caption in open_.captions:
            words = f"{caption.picture.code}: {isolated(caption.words)}"
            self._tick(f"caption_{caption.pk}", words)
        for quote in open_.quotes:
            self._tick(f"quote_{quote.pk}", f"{quote.code}: {isolated(quote.words)}")
        if open_.is_child:
            self.fields["childs_answer"] = YesNoField(label=BOXES["childs_answer"])
        for use in open_.undecided:
            self.fields[f"condition_{use}"] = forms.ChoiceField(
                label=USES[use], choices=DECISIONS, required=False, widget=forms.RadioSelect
            )
        if paper.is_from_before and not paper.wording_was_read:
            self._tick(
                "wording_was_read", _("Its language version was since read by a second person")
            )

    def _tick(self, name: str, label: Any) -> None:
        self.fields[name] = forms.BooleanField(label=label, required=False)

    def groups(self) -> list[Group | str]:
        parts = {
            "picture_": _("Pictures they saw"),
            "caption_": _("Words read aloud, to which they said yes"),
            "quote_": _("Quotes to which they said yes"),
            "condition_": _("Their own wish, use by use"),
        }
        found: list[Group | str] = ["on", "sittings"]
        for prefix, legend in parts.items():
            names = [name for name in self.fields if name.startswith(prefix)]
            if names:
                found.append(Group(legend, *names, ticks=prefix == "picture_"))
        return found

    def said(self) -> dict[str, Any]:
        """What was noted, as `spoken.answer_all` takes it; "not said" is left out."""
        said = self.cleaned_data
        pictures = {
            picture: said[f"picture_{picture.pk}"]
            for picture, _before in self.open.pictures
            if said[f"picture_{picture.pk}"] is not None
        }
        conditions = {
            use: said[f"condition_{use}"] == "can"
            for use in self.open.undecided
            if said[f"condition_{use}"]
        }
        return {
            "sittings": [self.sittings[key] for key in said["sittings"]],
            "pictures": pictures,
            "captions": [one for one in self.open.captions if said[f"caption_{one.pk}"]],
            "quotes": [one for one in self.open.quotes if said[f"quote_{one.pk}"]],
            "child": said.get("childs_answer"),
            "conditions": conditions,
            "wording_was_read": said.get("wording_was_read", False),
        }
