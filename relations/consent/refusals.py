"""Why something of the consent room was refused, in words; in the order in which papers are met."""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _

from .states import Refusal

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise as Words

REFUSALS: dict[str, "Words"] = {
    Refusal.NO_SUCH_MOVE: _("A form in this state cannot go there."),
    Refusal.NOT_SIGNED_OUT: _("Nobody has signed it out."),
    Refusal.NO_SCAN: _("No scan is filed under it."),
    Refusal.NOT_READ: _("Nobody has read it."),
    Refusal.NOT_SETTLED: _("Its two readings are not settled."),
    Refusal.INCOMPLETE: _("A line is missing for its way of giving."),
    Refusal.WORDING_UNREAD: _("Nobody has read its language version."),
    Refusal.GUARDIANS_OPEN: _("Not everybody who answers for the child has answered."),
    Refusal.NO_NEWER_ONE: _("No newer form stands in its place."),
    Refusal.NOTHING_TAKEN_BACK: _("Nothing was taken back."),
    Refusal.NOT_OVER_YET: _("Its last day is not over."),
    Refusal.STILL_TO_BE_KEPT: _("It must still be kept."),
    Refusal.ALARM_IS_OPEN: _("Its alarm is still open."),
    "not_by_hand": _("This cannot be said by hand."),
    "artist_only": _("Only the artist can say this."),
    "first_unread": _(
        "No second person has read the first language yet: it cannot be printed. Ask its wording "
        "reader; until then only a proof can be made."
    ),
    "second_unread": _(
        "No second person has read the second language yet: it cannot be printed. Ask its wording "
        "reader; until then only a proof can be made."
    ),
    "same_language": _("Choose two different languages."),
    "clauses_differ": _(
        "These two wordings do not hold the same clauses. Choose the same version."
    ),
    "editions_differ": _(
        "Both languages were read, but not on the same version of your own words. Ask the wording "
        "readers of both to read what changed; until then only a proof can be made."
    ),
    "words_missing": _("A wording lacks words of this kind of form. Write a new version of it."),
    "too_long": _("These two wordings are too long for one sheet. Shorten a clause."),
    "none_asked": _("Say how many, in one language at least."),
    "too_many_blanks": _("At most 200 in one go."),
    "no_words": _("These languages hold no words of this paper yet. Write them on its wording."),
    "serial_taken": _("A paper with this number is here already."),
    "shape": _("A serial has five figures, a line and two figures, such as 60022-64."),
    "mistyped": _("This number is mistyped: one of its figures is wrong. Read it from the paper."),
    "no_such_paper": _("No paper of ours has this number. Look at the paper again."),
    "whose": _("This form was printed for nobody yet. Say whose it is."),
    "another_person": _("This paper is somebody else’s. One form is never filed under two people."),
    "not_expected": _("This paper cannot have come home: see what was noted of it last."),
    "already_filed": _("This form was read twice already. No further scan is needed."),
    "filed_under_another": _("This very file lies under another serial. Choose the right scan."),
    "too_large": _("This file is larger than 25 MB. Scan it smaller, in grey, at 200 dpi."),
    "too_many_pixels": _("This picture has more than 200 megapixels. Scan it smaller."),
    "not_a_scan": _("This is no image and no PDF. Send JPEG, PNG, TIFF, WebP or PDF."),
    "broken": _("This file does not open. Scan the paper again."),
    "empty": _("This file is empty. Scan the paper again."),
    "locked": _("This PDF asks for a password. Take the password off, then send it again."),
    "no_pages": _("This PDF has no pages. Scan the paper again."),
    "too_many_pages": _("This is more than 1,000 pages at once. Send them in parts."),
    "not_waiting": _("Somebody has put this page somewhere meanwhile. Open the tray again."),
    "no_form": _("This is the number of another sheet, not of a form. Set the page aside."),
    "erased_form": _("What stood on this paper was erased. Destroy the paper too."),
    "not_to_be_read": _("This form is not waiting to be read."),
    "read_twice": _("It was read twice already."),
    "same_reader": _("You have read it. Somebody else reads it the second time."),
    "not_your_turn": _("The assistant reads first, the artist second."),
    "day_in_future": _("This day is still to come."),
    "days_cross": _("The first day allowed lies after the last."),
    "nothing_to_settle": _("There is nothing to settle here."),
    "still_differs": _("Choose one answer for every box."),
    "not_in_doubt": _("The readings have changed. Open the page again."),
    "not_theirs": _("They did not sit for one of these."),
    "frozen": _("This version is frozen. Write a new one."),
    "not_your_language": _("You are not named as a reader of this language."),
    "same_person": _("Who wrote it cannot be the one who reads it."),
    "sent_back": _("It was sent back: it must be written anew first."),
    "source_moved": _("The words it follows have changed: it must be written anew first."),
    "not_read_back": _("Say first, in your own words, what this clause says."),
    "why_missing": _("Say in one line why."),
    "words_changed": _("These words have changed since you opened the page. Read them again."),
    "not_approved": _("A clause still waits for its reader."),
    "no_model": _("There is no wording yet from which to begin."),
    "unknown_clause": _("This page is older than the wording. Open it again."),
    "clause_missing": _("No clause may be left empty."),
    "slots": _("Keep the words in braces as they are, such as {page}."),
    "nothing_changed": _("Nothing has changed."),
    "not_given": _("This form has not been given yet."),
    "before_the_form": _("This day lies before the day of the form."),
    "before_they_said": _("This day lies before the day on which they said it."),
    "no_form_here": _("No form of theirs that was given by then speaks of this sitting."),
    "nothing_said": _("Note at least one answer."),
    "not_in_it": _("They are not in this picture."),
    "not_their_words": _("These are somebody else’s words."),
    "too_many": _("All who must be asked have answered."),
    "said_no": _("They said no. A no is not turned into a yes here."),
    "no_condition": _("No wish in their own words stands on this form."),
    "can_answer": _("They can answer for themselves."),
    "no_speaker": _("Nobody is named to speak for them."),
    "kin_may_only_narrow": _("Next of kin whom they did not choose may only say no."),
    "scope": _("Say what is taken back: everything, one use or one picture."),
    "from_before": _("This paper was not printed by this site."),
    "not_as_kept": _("What was kept of this paper is damaged. A backup may have it whole."),
    "cannot_be_laid_out": _("A copy could not be laid out. The form stands all the same."),
    "not_the_same": _("The page no longer comes out as it was printed. Print a new form."),
}
