"""Who asked for the whole register, who confirmed it, and what came of it."""

import uuid

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

import relations.privacy.fields


class Migration(migrations.Migration):
    dependencies = [
        ("rights", "0008_telling"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="TakingOut",
            fields=[
                (
                    "id",
                    models.UUIDField(
                        default=uuid.uuid4, editable=False, primary_key=True, serialize=False
                    ),
                ),
                ("asked_at", models.DateTimeField()),
                ("reason", relations.privacy.fields.SealedText()),
                ("confirmed_at", models.DateTimeField(blank=True, null=True)),
                ("is_open", models.BooleanField(blank=True, default=True, null=True, unique=True)),
                ("ended_at", models.DateTimeField(blank=True, null=True)),
                (
                    "ended_how",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("taken", "taken"),
                            ("refused", "refused"),
                            ("called_off", "called_off"),
                            ("too_late", "too_late"),
                            ("alarm", "alarm"),
                            ("held_back", "held_back"),
                            ("one_is_gone", "one_is_gone"),
                        ],
                        max_length=11,
                    ),
                ),
                ("digest", models.CharField(blank=True, max_length=64)),
                (
                    "asked_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "confirmed_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "ended_by",
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
                "ordering": ["-asked_at"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("confirmed_at", None), ("confirmed_by", None)),
                            models.Q(
                                ("confirmed_at__isnull", False),
                                ("confirmed_by__isnull", False),
                                models.Q(("confirmed_by", models.F("asked_by")), _negated=True),
                            ),
                            _connector="OR",
                        ),
                        name="taking_out_confirmed_by_another",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("ended_at", None),
                                ("ended_how", ""),
                                ("is_open", True),
                                ("is_open__isnull", False),
                            ),
                            models.Q(
                                ("ended_at__isnull", False),
                                (
                                    "ended_how__in",
                                    [
                                        "taken",
                                        "refused",
                                        "called_off",
                                        "too_late",
                                        "alarm",
                                        "held_back",
                                        "one_is_gone",
                                    ],
                                ),
                                ("is_open", None),
                            ),
                            _connector="OR",
                        ),
                        name="taking_out_open_until_it_ends",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                models.Q(("ended_how", "taken"), _negated=True), ("digest", "")
                            ),
                            models.Q(
                                ("confirmed_at__isnull", False),
                                ("ended_how", "taken"),
                                models.Q(("digest", ""), _negated=True),
                            ),
                            _connector="OR",
                        ),
                        name="taking_out_taken_once_confirmed",
                    ),
                ],
            },
        ),
    ]
