"""What a page of the tray waits for, as a sentence that says what to do."""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _

from relations.documents.sorting import Why

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise as Words

WAITING: dict[str, "Words"] = {
    Why.BLANK: _("Nothing is on this page."),
    Why.TORN: _("Its square code is torn or covered. Type the serial that is printed beside it."),
    Why.NO_CODE: _("There is no square code on this page. If it is ours, type its serial."),
    Why.FOREIGN: _("This is a form of another project: its code was not made here."),
    Why.TWO_PAPERS: _("Two papers lie on this page. Scan each alone, or say whose page it is."),
    Why.UNKNOWN: _("Its code is ours, and no paper with this serial is in the register."),
    Why.BESIDE: _("This belongs to the form and is not the form, such as its stop card."),
    Why.TWO_SCANS: _(
        "Two different scans of this side came together. Look at both and say which one it is."
    ),
    Why.ANOTHER_SCAN: _(
        "Another scan of this side is filed, and this one differs. Look at both; keep it beside "
        "the first, or set it aside."
    ),
    Why.WHOSE: _("This form was printed for nobody yet. Say whose it is."),
    Why.NOT_EXPECTED: _("This paper cannot have come home: see what was noted of it last."),
    Why.OTHER_SHEET: _(
        "This is a sheet of ours and no form. Write down what it says where it belongs, then set "
        "it aside."
    ),
    Why.TAKEN_BACK: _(
        "Somebody takes something back. Read it, press Stop for them now, then set it aside."
    ),
    Why.ALREADY_FILED: _(
        "This form was read twice already. If this is the same paper, set it aside."
    ),
}
