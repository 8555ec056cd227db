"""The words of the documents room: what the kinds of printed paper are called on a screen."""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _

from .values import PaperKind

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise as Words

PAPERS: dict[str, "Words"] = {
    PaperKind.FORM: _("Release form"),
    PaperKind.EXPLANATION: _("Explanation sheet"),
    PaperKind.STOP_CARD: _("Stop card"),
    PaperKind.TAKE_BACK: _("Take-back slip"),
    PaperKind.MEETING: _("Meeting sheet"),
    PaperKind.SITTING: _("Sitting sheet"),
    PaperKind.SPOT: _("Spot sheet"),
    PaperKind.RECEIPT: _("Print receipt"),
    PaperKind.ANSWER: _("Answer to a take-back"),
    PaperKind.NOTICE: _("Notice of what is kept"),
    PaperKind.DAY: _("Day sheet"),
    PaperKind.LAB_SLIP: _("Lab slip"),
}
