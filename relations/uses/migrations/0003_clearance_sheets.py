"""Clearance sheets get a language, a link with its phrase, and an end; lines an instruction."""

from django.db import migrations, models
from django.db.models import F, Q


class Migration(migrations.Migration):
    dependencies = [("uses", "0002_plans_and_weighings")]

    operations = [
        migrations.RenameField("clearancesheet", "stopped_at", "ended_at"),
        migrations.AddField(
            "clearancesheet", "language", models.CharField(default="en", max_length=12)
        ),
        # Nothing has made a sheet before, so that none is without its day.
        migrations.AlterField("clearancesheet", "valid_until", models.DateField()),
        migrations.AddField(
            "clearancesheet",
            "link_digest",
            models.CharField(blank=True, max_length=64, null=True, unique=True),
        ),
        migrations.AddField(
            "clearancesheet", "phrase", models.CharField(blank=True, max_length=128)
        ),
        migrations.AddField(
            "clearancesheet", "wrong_phrases", models.PositiveSmallIntegerField(default=0)
        ),
        migrations.AddConstraint(
            "clearancesheet",
            models.CheckConstraint(
                condition=Q(link_digest=None, phrase="", link_ends_on=None)
                | Q(link_digest__isnull=False, link_ends_on__isnull=False) & ~Q(phrase=""),
                name="sheet_link_is_whole",
            ),
        ),
        migrations.AddConstraint(
            "clearancesheet",
            models.CheckConstraint(
                condition=Q(link_ends_on=None) | Q(link_ends_on__lte=F("valid_until")),
                name="sheet_link_ends_with_it",
            ),
        ),
        migrations.AddField(
            "clearedpicture", "instruction", models.CharField(blank=True, max_length=140)
        ),
        migrations.AddField("clearedpicture", "word_on", models.DateField(blank=True, null=True)),
    ]
