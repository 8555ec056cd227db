"""Where a print is brought and in which hours, and the doors of a round with what came of each."""

import uuid

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

import relations.privacy.fields

CAME = ["given", "handed_on", "not_home", "not_safe", "gave_back", "lost", "not_reached"]


class Migration(migrations.Migration):
    dependencies = [
        ("prints", "0002_lab_lines"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.AddField(
            "print", "quarter", relations.privacy.fields.SealedText(blank=True, null=True)
        ),
        migrations.AddField(
            "print", "place", relations.privacy.fields.SealedText(blank=True, null=True)
        ),
        migrations.AddField("print", "opens_at", models.TimeField(blank=True, null=True)),
        migrations.AddField("print", "closes_at", models.TimeField(blank=True, null=True)),
        migrations.AddField("round", "starts_at", models.TimeField(blank=True, null=True)),
        migrations.AddField("round", "starts_in", models.CharField(blank=True, default="", max_length=40), False),
        migrations.AddField("round", "ends_by", models.TimeField(blank=True, null=True)),
        migrations.AddField("round", "set_out_at", models.DateTimeField(blank=True, null=True)),
        migrations.AddConstraint(
            "print",
            models.CheckConstraint(
                condition=models.Q(
                    ("opens_at", None),
                    ("closes_at", None),
                    ("opens_at__lt", models.F("closes_at")),
                    _connector="OR",
                ),
                name="print_hours_begin_before_they_end",
            ),
        ),
        migrations.CreateModel(
            name="RoundDoor",
            fields=[
                (
                    "id",
                    models.UUIDField(
                        default=uuid.uuid4, editable=False, primary_key=True, serialize=False
                    ),
                ),
                ("letter", models.CharField(max_length=1)),
                ("due_at", models.TimeField()),
                (
                    "came",
                    models.CharField(
                        blank=True, choices=[(came, came) for came in CAME], max_length=11
                    ),
                ),
                ("typed_at", models.DateTimeField(blank=True, null=True)),
                (
                    "print",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="doors",
                        to="prints.print",
                    ),
                ),
                (
                    "round",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="doors",
                        to="prints.round",
                    ),
                ),
                (
                    "typed_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ["letter"],
                "constraints": [
                    models.UniqueConstraint(
                        fields=("round", "letter"), name="round_letter_once"
                    ),
                    models.UniqueConstraint(fields=("round", "print"), name="round_print_once"),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("came", ""), ("typed_at", None)
                        )
                        | models.Q(
                            models.Q(("came", ""), _negated=True),
                            ("typed_at__isnull", False),
                            ("typed_by__isnull", False),
                        ),
                        name="round_door_typed_by_somebody",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("came__in", ["", *CAME])),
                        name="round_door_came_known",
                    ),
                ],
            },
        ),
    ]
