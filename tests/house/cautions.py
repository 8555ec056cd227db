"""Where each caution must stand: the one table; its words lie in templates/_cautions/<key>.html."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Caution:
    """The words, and what must carry them: templates by pattern, forms by a field they hold."""

    words: str
    pages: tuple[str, ...] = ()
    fields: tuple[str, ...] = ()


CAUTIONS = {
    "foot": Caution(
        "People can be hurt by what is kept here. Write what to do, not why.",
        pages=("base.html",),
    ),
    "demo": Caution(
        "Invented people and numbers set aside for fiction. Do not add real ones here.",
        pages=("base.html",),
    ),
    "first_start": Caution(
        "This site does not give legal advice. Laws on pictures, names, children and personal data "
        "differ from country to country: follow the law where you work and where you show, and ask "
        "a licensed lawyer and, where there is one, the data-protection authority.",
        pages=(
            *("privacy/first_start.html", "consent/wordings.html", "rights/impact.html"),
            "rights/register.html",
        ),
    ),
    "new_person": Caution(
        "Did someone ask them first? If not, stop here.",
        pages=("people/new.html", "people/take_contacts.html"),
    ),
    "contacts": Caution(
        "Those in a telephone never agreed to stand in a file. Do not send it by mail; delete it "
        "from telephone and computer when you are done.",
        pages=(
            *("people/contacts.html", "people/contact_columns.html"),
            *("people/contact_lines.html", "people/take_contacts.html"),
        ),
    ),
    "notes": Caution(
        "Imagine this line read aloud at a checkpoint. No faith, origin, health, love life, "
        "papers, police. No causes: only what to do.",
        pages=("people/split.html", "people/contact_columns.html", "people/take_contacts.html"),
        fields=("note", "instruction", "own_condition"),
    ),
    "ring": Caution(
        "You may be heard. Say your first name, nothing about the project, until they say it is a "
        "good moment.",
        pages=("meetings/ring.html",),
    ),
    "risk": Caution(
        "Their view and yours: keep the higher. When unsure choose raised.",
        fields=("level",),
    ),
    "wording": Caution(
        "A machine may draft; a person must read it before anyone signs it.",
        pages=("consent/wording.html", "consent/wordings.html"),
    ),
    "children": Caution(
        "A parent's yes ends on the eighteenth birthday. A child's no is a no today.",
        fields=("guardians_yes", "guardian_no", "childs_answer"),
    ),
    "clearing": Caution(
        "This answer is about what was agreed on paper. It does not say that showing is safe, "
        "fair or lawful. Look again before the day.",
        pages=("uses/weigh.html", "uses/people.html", "uses/weighing.html", "uses/answer.html"),
    ),
    "ink": Caution(
        "After this day nothing can be taken back. Who have you spoken to this month?",
        pages=("uses/weigh.html", "uses/weighing.html", "uses/answer.html"),
    ),
    "web": Caution(
        "Once seen everywhere, always seen everywhere: faces can be searched by machines, and "
        "blocking a country does not work.",
        pages=("uses/weigh.html", "uses/weighing.html", "uses/answer.html"),
    ),
    "sheet": Caution(
        "Only the pictures here, in these words, in this place, until this date. Do not copy files "
        "on. If a stop arrives, act first and ask afterwards.",
        pages=("uses/sheet.html", "uses/paper/sheet.html"),
    ),
    "introductions": Caution(
        "This picture of who knows whom is the most dangerous page. Print one line or one group at "
        "most, then shred it; do not photograph or show it.",
        pages=(
            *("referrals/introductions.html", "referrals/tables.html", "referrals/share.html"),
            *(f"referrals/{page}.html" for page in ("growth", "names", "waves", "person")),
            *("referrals/growth_pdf.html", "referrals/paper/growth.html"),
        ),
    ),
    "trip_pack": Caution(
        "Two sheets, two pockets. Burn or shred after the trip; the site remembers.",
        pages=("trips/pack.html", "prints/walk.html"),
    ),
    "stop_done": Caution(
        "It is stopped. Tell them now what is done, what is asked of others, and what cannot be "
        "undone.",
        pages=("uses/stopped.html", "uses/undo.html", "consent/stopped.html"),
    ),
    "funders": Caution(
        "Small numbers point at people. Hidden cells stay hidden, also by telephone.",
        pages=("rights/counts.html",),
    ),
    "alarm": Caution(
        "Nobody is in trouble for telling. Tell now, details later.",
        pages=("rights/alarm.html",),
    ),
    "doors": Caution(
        "No home is safe because we think so. Come as agreed or not at all, and leave nothing with "
        "neighbours.",
        pages=("prints/step.html", "prints/round.html"),
    ),
    "lab": Caution(
        "People at the lab know faces. Codes only, never a name; bring back what was spoilt.",
        pages=("prints/lab.html", "prints/lab_files.html"),
    ),
    "closing": Caution(
        "Nothing ends by itself. Ask once more; then somebody with a name decides, and says why.",
        pages=("rights/closing.html", "rights/end_print.html"),
    ),
    "register": Caution(
        "What leaves this house can hurt people wherever it lies, for as long as it lies there. "
        "Take out nothing that a backup or a sheet would do as well.",
        pages=("rights/register.html",),
    ),
    "letting_go": Caution(
        "What is erased here also leaves the backups within 90 days.",
        pages=(
            "rights/letting_go.html",
            "rights/let_one_go.html",
            "rights/erase_whom.html",
            "rights/erased.html",
        ),
    ),
}
# Cautions whose page is still to come; one leaves this list on the day its page arrives.
LATER: set[str] = set()
