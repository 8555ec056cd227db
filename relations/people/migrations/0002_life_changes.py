"""A move abroad asks territory again; holds that one change of the situation laid go together."""

import uuid

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("people", "0001_initial")]

    operations = [
        migrations.AddField(
            model_name="personhold",
            name="together",
            field=models.UUIDField(blank=True, null=True),
        ),
        migrations.CreateModel(
            name="MovedAbroad",
            fields=[
                (
                    "id",
                    models.UUIDField(
                        default=uuid.uuid4, editable=False, primary_key=True, serialize=False
                    ),
                ),
                ("since", models.DateField()),
                ("asked_again_on", models.DateField(blank=True, null=True)),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="moves_abroad",
                        to="people.participant",
                    ),
                ),
            ],
            options={
                "ordering": ["-since"],
                "constraints": [
                    models.UniqueConstraint(
                        fields=("person", "since"), name="moved_once_a_day"
                    )
                ],
            },
        ),
    ]
