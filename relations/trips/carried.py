"""What a travelling set may hold, table by table and field by field: what is not here stays home.

Source: job.md 4, column "Trip device"; places are on paper only, no level, nobody who told us.
"""

# Every other field is as in a new row; what a row cannot be without, `travelling.fill` makes up.
CARRIED: dict[str, tuple[str, ...]] = {
    "privacy.User": ("id", "username", "called", "language", "figures", "calendar"),
    "privacy.OutboxKey": ("id", "public"),  # never the private half
    "meetings.Trip": ("id", "code", "first_day", "last_day"),
    "trips.Day": ("id", "trip", "on", "has_round"),
    "people.Participant": (
        *("id", "code", "call_name", "languages", "reads", "instruction", "may_say"),
        *("safe_hours", "safe_days", "text_only"),
    ),
    "people.PhoneLine": ("id", "person", "as_typed", "number", "extension", "is_shared", "zone"),
    "meetings.Meeting": ("id", "person", "trip", "state", "at", "with_camera", "others", "sheets"),
    "people.InSight": ("person", "user", "day", "why"),
    "pictures.Picture": ("id", "code"),
    "prints.Print": ("id", "code", "person", "picture", "state", "is_safe"),
    "consent.Wording": ("id", "language", "version"),
    "documents.Sheet": ("id", "serial", "kind", "version", "pages"),
    "consent.Form": ("id", "sheet", "first_wording", "second_wording", "kind", "trip", "state"),
}
