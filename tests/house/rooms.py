"""The rooms and storeys as the tests know them, and a way to read every module of them."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
PACKAGE = ROOT / "relations"

# From the ground up; rooms that share a storey do not know one another.
STOREYS = (
    {"languages"},
    {"privacy"},
    {"documents"},
    {"people"},
    {"meetings"},
    {"pictures"},
    {"consent", "prints"},
    {"uses", "referrals"},
    {"rights"},
    {"trips"},
    {"today"},
)
ROOMS = {room: height for height, rooms in enumerate(STOREYS) for room in rooms}

# The names a module may have in any room, and those that belong to one room. A room with many pages
# parts them by subject, as `known_views` and `known_forms`.
PARTED = ("_views", "_forms")
EVERYWHERE = {
    "__init__",
    "urls",
    "views",
    "forms",
    "actions",
    "access",
    "queries",
    "models",
    "rules",
    "values",
    "words",  # what the codes of the room are called on a screen
}
OWN = {
    "languages": {
        *("calendars", "digits", "direction", "sorting", "codes", "daylight", "catalogues"),
        *("reading_level", "changes", "djangos"),
        *("apps", "checks", "local_calendars", "month_names", "paper_days"),
        *("finding", "letters", "romanising", "likeness"),
        *("manner", "said"),
        *("finding", "letters", "romanising", "likeness", "naming"),
        *("counted_calendars", "month_spellings", "reading_days", "day_fields", "manner"),
    },
    "privacy": {
        *("home", "keys", "slots", "crypt", "fields", "files", "uploads", "log", "once"),
        *("middleware", "context", "hashers", "cipher", "refused", "opening", "server"),
        *("answering", "holds", "heads", "rekeying", "idle", "carried"),
        *("codes", "passwords", "tries", "devices", "ending", "ledger", "residue"),
        *("turned_away", "month_keys", "sureness", "durable", "failing", "clock", "damage"),
        *("bodies", "tables"),
        *("outbox", "rows"),
        *("travelling", "sets", "reading_only"),
        *("reaching", "workers"),
    },
    "documents": {
        *("render", "fonts", "tags", "overlay", "qr", "serials", "split", "locate", "marks"),
        *("filing", "traps", "columns", "keeping", "joining"),
        *("codes", "photographs", "sorting", "stacks"),
        "papers",
        *("apps", "checks", "outside"),
        *("layouts", "one_language"),
        "faults",
    },
    "people": {
        *("search", "phones", "lines", "word", "changes", "moves"),
        *("known_names", "zones"),
        "groups",
        "births",
        *("links", "told"),
        *("newcomers", "closed"),
        *("contacts", "contacts_cards", "contacts_tables"),
        *("contacts_carried", "contacts_known", "contacts_taking", "contacts_words"),
    },
    "meetings": {
        "calendar",
        "due",
        "rings",
        "hours",
        "helpers",
        "helping",
        "known_helpers",
        "light",
        "recordings",
        "stays",
        "talks",
        "travelling",
    },
    "pictures": {"light", "leaks", "strangers", "written"},
    "referrals": {
        *("graph", "answers", "steps", "shapes", "figures", "drawing", "sharing"),
        *("threads", "overview"),
        *("links", "questions"),
        *("across", "blocks", "by_line", "drawn", "drawn_words", "facts", "geometry", "glyphs"),
        *("paging", "papers", "rows", "said", "scopes", "share_svg", "shared", "svg", "waves"),
        "working_map",
    },
    "consent": {
        *("answers", "record", "wordings", "boxes", "completeness", "states", "paper", "printing"),
        *("papers", "readings", "spoken", "countries", "pages", "said"),
        *("events", "export", "mandatory", "evidence", "history", "archive"),
        *("texts", "editions", "source", "shipped", "approvals", "side_by_side"),
        *("kinds", "needs", "blanks"),
        *("coming_home", "home_pages", "waiting"),
        *("sheets", "refusals", "spot", "team"),
        *("beside", "proposed"),
        "aloud",
        *("frames", "weighing"),
    },
    "prints": {
        *("sizes", "lab", "stripping", "ordered", "orders", "lab_papers"),
        *("doors", "round_papers", "round_words", "rounds", "walking", "walks"),
        *("asking", "endings", "promises", "labels", "slips"),
    },
    "uses": {
        *("sidecar", "digest", "grouping", "undoing", "telling"),
        *("causes", "coming_down", "register", "last_words", "words_due"),
        "situations",
        "packing",
        *("clearances", "clearing", "clearing_pages", "venue"),
        *("planned", "selection", "talks"),
        "standstill",
    },
    "trips": {"packing", "portfolio", "carried", "travelling"},
    "rights": {
        *("erasing", "leaving", "blanking", "archive", "backing_up", "restoring", "shelf"),
        "asked",
        *("counting", "counts"),
        *("closing", "ending"),
        *("impact", "impact_house", "impact_people", "impact_pictures", "impact_uses"),
        *("impact_place", "impact_rows", "impact_table", "impact_words"),
        *("apps", "checks"),
        *("clocks", "due", "destroying", "letting_go", "letting_words"),
        *("requests", "masking", "file_table", "file_left_out", "file_of", "file_papers"),
        *("handing_on", "ends", "deposit", "deposited", "people_ending"),
        *("taken", "taking_out", "taking_out_table", "taking_out_rows", "taking_out_file"),
        *("taking_out_words", "opening_out", "in_csv", "in_vcard"),
        "telling",
    },
    "today": {
        "person",
        "outbox",
        "outbox_pages",
        "day_sheet",
        "typed_in",
        "doorsteps",
        "promised",
        "coming_home",
    },
}
# What is worked out from plain values alone, in every room that has it and in one room.
PURE = (
    *("*/rules", "*/values", "people/phones", "referrals/graph"),
    *("referrals/answers", "referrals/steps", "referrals/shapes"),
    "referrals/figures",
    *("consent/answers", "consent/boxes", "consent/completeness", "consent/record"),
    *("consent/events", "consent/export", "consent/mandatory"),
    *(
        "consent/needs",
        "consent/states",
        "consent/editions",
        "languages/changes",
        "documents/sorting",
        "documents/marks",
        "documents/serials",
        "documents/qr",
    ),
    *("languages/calendars", "languages/codes", "languages/daylight", "languages/digits"),
    *("languages/direction", "languages/naming", "languages/reading_level"),
    "languages/sorting",
    *("privacy/codes", "trips/carried"),
    *("uses/digest", "uses/grouping", "uses/causes", "uses/last_words"),
    *("consent/spot", "consent/team"),
    *("documents/outside", "languages/local_calendars", "languages/month_names"),
    *("languages/paper_days", "languages/manner"),
    "consent/proposed",
    *("languages/finding", "uses/sidecar"),
    "uses/clearances",
    *("consent/weighing", "meetings/calendar", "uses/talks"),
    *("languages/letters", "languages/romanising", "languages/likeness"),
    *("languages/counted_calendars", "languages/month_spellings", "languages/reading_days"),
    "languages/manner",
    *("people/births", "people/zones", "meetings/hours"),
    *("people/contacts", "people/contacts_cards", "people/contacts_tables"),
    "meetings/helping",
    "referrals/threads",
    "referrals/questions",
    "rights/counts",
    *("referrals/across", "referrals/blocks", "referrals/by_line", "referrals/drawing"),
    *("referrals/facts", "referrals/geometry", "referrals/glyphs", "referrals/paging"),
    *("referrals/rows", "referrals/said", "referrals/share_svg", "referrals/sharing"),
    *("referrals/svg", "referrals/waves"),
    *("prints/sizes", "prints/lab", "prints/stripping"),
    *("prints/doors", "prints/rounds"),
    *("prints/promises", "rights/closing", "rights/impact"),
    *("prints/promises", "rights/closing", "rights/deposit"),
    *("prints/promises", "rights/closing"),
    *("rights/masking", "rights/file_table", "rights/file_left_out"),
    *("rights/taking_out_table", "rights/in_csv", "rights/in_vcard"),
    "prints/labels",
    "rights/clocks",
)
# Where every branch must be walked by a test: what is pure, what writes, what lets through.
WHOLE = (
    *PURE,
    *("*/actions", "*/access", "people/lines", "people/word", "people/changes"),
    "people/known_names",
    *("people/contacts_carried", "people/contacts_known", "people/contacts_taking"),
    *("privacy/answering", "privacy/holds", "privacy/tries", "privacy/devices"),
    *("privacy/ledger", "privacy/residue", "privacy/month_keys", "privacy/reaching"),
    *("privacy/passwords", "privacy/ending", "privacy/sureness"),
    *("rights/erasing", "rights/leaving", "rights/blanking", "rights/asked"),
    *("rights/taking_out", "rights/taking_out_file"),
    *("consent/archive", "consent/evidence"),
    *("consent/papers", "consent/readings", "consent/spoken", "consent/approvals"),
    *("consent/source", "consent/shipped", "consent/wordings", "consent/blanks"),
    "consent/coming_home",
    "languages/said",
    *("meetings/due", "meetings/rings", "pictures/light", "uses/undoing"),
    *("uses/coming_down", "uses/register", "uses/situations"),
    *("consent/aloud", "pictures/leaks", "pictures/strangers", "pictures/written"),
    *("uses/clearing", "uses/venue"),
    *("meetings/helpers", "meetings/recordings", "meetings/stays"),
    *("privacy/outbox", "today/outbox"),
    *("today/day_sheet", "today/typed_in"),
    *("trips/packing", "trips/portfolio"),
    "people/links",
    "rights/counting",
    *("prints/orders", "prints/lab_papers"),
    "prints/walking",
    *("prints/asking", "today/doorsteps", "today/promised"),
    *("prints/endings", "rights/ending"),
    "rights/telling",
    "rights/requests",
    "prints/slips",
    *("rights/destroying", "rights/letting_go"),
    *(
        "people/newcomers",
        "people/closed",
        "uses/standstill",
        "rights/handing_on",
        "rights/people_ending",
    ),
)
# Beside the rooms.
HOUSE = {"__init__", "settings", "urls", "wsgi", "bootstrap"}
FOLDERS = {"templatetags", "management", "migrations", "commands", "cipher"}


@dataclass(frozen=True)
class Module:
    """One source file of the package."""

    path: Path

    def __str__(self) -> str:
        return str(self.path.relative_to(ROOT))

    @property
    def room(self) -> str | None:
        """The room it stands in; None beside the rooms."""
        first = self.path.relative_to(PACKAGE).parts[0]
        return first if (PACKAGE / first).is_dir() else None

    @cached_property
    def text(self) -> str:
        return self.path.read_text(encoding="utf-8")

    @cached_property
    def tree(self) -> ast.Module:
        return ast.parse(self.text)


def modules(name: str = "*") -> Iterator[Module]:
    """Every module of the package with this file name (without `.py`), migrations left out."""
    for path in sorted(PACKAGE.rglob(f"{name}.py")):
        if "migrations" not in path.parts:
            yield Module(path)


def pure_modules() -> list[Module]:
    """The modules that exist of those that may know no Django."""
    return [Module(path) for name in PURE for path in sorted(PACKAGE.glob(f"{name}.py"))]


def functions(tree: ast.AST) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    """Every function and method in a module, inner ones too."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node


def length(node: ast.stmt) -> int:
    """How many lines a statement takes, decorators left out."""
    return (node.end_lineno or node.lineno) - node.lineno + 1
