"""What may be typed on the pages of a wording: by its second reader, and by who writes it."""

from collections import defaultdict
from collections.abc import Mapping
from typing import Any

from django import forms
from django.conf import settings
from django.utils.translation import gettext_lazy as _

from relations.documents.values import PaperKind
from relations.documents.words import PAPERS
from relations.languages.forms import Group, NoteField
from relations.languages.said import figures
from relations.languages.templatetags.words import in_language
from relations.people.templatetags.people_words import spoken
from relations.privacy.refused import Refused

from . import access, source
from .approvals import Press
from .forms import ConsentForm
from .texts import Clause, Wording

WHY = 200  # characters


class WordingForm(ConsentForm):
    """One press on the page of a wording, and all that its second reader has typed on it."""

    act = forms.RegexField(
        r"^((approve|send_back):[a-z0-9_]+(\.[a-z0-9_]+)?|freeze|keep)$", label=""
    )

    def __init__(self, *args: Any, wording: Wording, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.clauses = access.to_read(self.user, wording)
        tongue = settings.RELATIONS_SOURCE_LANGUAGE
        says = _("What it says, in other words, in %(language)s")
        if not source.is_own(wording.language):
            says = _("What it says, in %(language)s")
        for clause in self.clauses:
            self.fields[f"said_{clause.name}"] = NoteField(
                label=says % {"language": spoken(tongue)},
                initial=clause.read_back,
                required=False,
                widget=forms.Textarea(attrs={"rows": 3, "lang": tongue, "dir": "auto"}),
            )
            self.fields[f"why_{clause.name}"] = forms.CharField(
                label=_("Why, in one line"),
                initial=clause.why,
                max_length=WHY,
                required=False,
                widget=forms.TextInput(attrs={"dir": "auto", "autocomplete": "off"}),
            )

    @property
    def name(self) -> str:
        """The clause that was pressed, by its name; "" for a press about none."""
        return str(self.cleaned_data["act"].partition(":")[2])

    @property
    def pressed(self) -> Press:
        """The press as the action takes it."""
        act, _colon, name = self.cleaned_data["act"].partition(":")
        return Press(act, name, self._all("said_"), self._all("why_"), self._seals())

    def _all(self, prefix: str) -> dict[str, str]:
        return {one.name: self.cleaned_data[prefix + one.name] for one in self.clauses}

    def _seals(self) -> dict[str, str]:
        """The marks of the words as the page showed them, which the page shows anew each time."""
        sent = {key: str(value) for key, value in self.data.items() if key.startswith("seal_")}
        return {key.removeprefix("seal_"): value for key, value in sent.items()}

    def refuse(self, refused: Refused) -> None:
        """Put what is missing beside the field of the clause that was pressed."""
        about = {"not_read_back": f"said_{self.name}", "why_missing": f"why_{self.name}"}
        for code in refused.codes:
            field = about.get(code)
            self.add_error(field if field in self.fields else None, self.words(code))


def _in(language: str, words: str | None) -> str:
    """Words of a wording beside a field, read aloud and set in the language that they are in."""
    return in_language(words, language) if words else ""


class WriteForm(ConsentForm):
    """The clauses of a language with their headings, then the words on its lines, paper by paper.

    Beside each stands what the artist wrote, and why it was sent back where somebody says so.
    """

    press = _("Keep these words")

    def __init__(self, *args: Any, model: Wording, language: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.language = language
        self.clauses = list(model.clauses.all())
        self.keys = sorted(model.labels)
        self.is_first = model.language != language
        late = source.behind(model)
        followed = source.followed(language)
        for clause in self.clauses:
            self._clause(clause, clause if self.is_first else followed.get(clause.name))
            if not self.is_first and (clause.sent_back_by_id or clause.name in late):
                self._may_stand(clause)
        beside = model if self.is_first else (None if source.is_own(language) else source.own())
        self._lines(model.labels, beside)

    def _lines(self, labels: Mapping[str, str], beside: Wording | None) -> None:
        for key in self.keys:
            self.fields[f"label_{key}"] = forms.CharField(
                label=in_language(key.replace("_", " "), "en"),
                help_text=_in(beside.language, beside.labels.get(key)) if beside else "",
                initial="" if self.is_first else labels[key],
                max_length=400,
                widget=forms.TextInput(attrs={"lang": self.language, "dir": "auto"}),
            )

    def _clause(self, clause: Clause, says: Clause | None) -> None:
        how = {"lang": self.language, "dir": "auto"}
        number = {"number": figures(clause.number)}
        self.fields[f"heading_{clause.name}"] = forms.CharField(
            label=_("%(number)s. Heading") % number,
            help_text=_in(says.wording.language, says.heading) if says else "",
            initial="" if self.is_first else clause.heading,
            max_length=120,
            required=False,
            widget=forms.TextInput(attrs=how),
        )
        self.fields[f"text_{clause.name}"] = NoteField(
            label=_("%(number)s. Words") % number,
            help_text=_in(says.wording.language, says.text) if says else "",
            initial="" if self.is_first else clause.text,
            widget=forms.Textarea(attrs={**how, "rows": 3}),
        )

    def _may_stand(self, clause: Clause) -> None:
        """A tick for a clause that waits to be written: its words hold as they are."""
        moved = _("The words it follows have changed.")
        why = _("Sent back: %(why)s") % {"why": clause.why} if clause.sent_back_by_id else moved
        self.fields[f"stands_{clause.name}"] = forms.BooleanField(
            label=_("%(number)s holds as it is") % {"number": figures(clause.number)},
            help_text=why,
            required=False,
        )

    def groups(self) -> list[Group | str]:
        """A part for the clauses of each paper and one for the words on its lines."""
        fields: dict[tuple[str, str], list[str]] = defaultdict(list)
        for clause in self.clauses:
            for part in ("heading", "text", "stands"):
                if f"{part}_{clause.name}" in self.fields:
                    fields[clause.paper, "clauses"].append(f"{part}_{clause.name}")
        for key in self.keys:
            kind = key.partition(".")[0] if "." in key else PaperKind.FORM.value
            fields[kind, "lines"].append(f"label_{key}")
        legends = {"clauses": _("%(paper)s: clauses"), "lines": _("%(paper)s: words on the lines")}
        return [
            Group(legends[part] % {"paper": PAPERS[kind]}, *fields[kind, part])
            for kind in PaperKind
            for part in legends
            if fields[kind, part]
        ]

    @property
    def texts(self) -> dict[str, tuple[str, str]]:
        """Heading and text by the clause's name, as an action takes them."""
        said = self.cleaned_data
        return {c.name: (said[f"heading_{c.name}"], said[f"text_{c.name}"]) for c in self.clauses}

    @property
    def labels(self) -> dict[str, str]:
        """The words on the lines by their key."""
        return {key: self.cleaned_data[f"label_{key}"] for key in self.keys}

    @property
    def stands(self) -> frozenset[str]:
        """The names of the clauses that wait and hold as they are."""
        ticked = (one.name for one in self.clauses if self.cleaned_data.get(f"stands_{one.name}"))
        return frozenset(ticked)
