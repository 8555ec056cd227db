"""Who was told after an alarm, and whether the authority was, or why not."""

import uuid

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

import relations.privacy.fields


class Migration(migrations.Migration):
    dependencies = [
        ("people", "0005_introduction_precision"),
        ("rights", "0007_handing_on_and_endings"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Telling",
            fields=[
                (
                    "id",
                    models.UUIDField(
                        default=uuid.uuid4, editable=False, primary_key=True, serialize=False
                    ),
                ),
                ("told_at", models.DateTimeField()),
                (
                    "alarm",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="tellings",
                        to="rights.alarm",
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to="people.participant",
                    ),
                ),
                (
                    "told_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(fields=("alarm", "person"), name="telling_once"),
                ],
            },
        ),
        migrations.AddField(
            model_name="alarm",
            name="authority_told_on",
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="alarm",
            name="not_needed_on",
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="alarm",
            name="not_needed_why",
            field=relations.privacy.fields.SealedText(blank=True, null=True),
        ),
        migrations.AddConstraint(
            model_name="alarm",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("authority_told_on", None), ("not_needed_on", None), _connector="OR"
                ),
                name="alarm_authority_told_or_not_needed",
            ),
        ),
    ]
