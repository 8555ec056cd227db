"""For which way of giving a form is printed, and the trip to which it was signed out."""

import django.db.models.deletion
from django.db import migrations, models

import relations.consent.values


class Migration(migrations.Migration):
    dependencies = [
        ("consent", "0002_read_back_and_further_papers"),
        ("meetings", "0001_initial"),
    ]

    operations = [
        migrations.AddField(
            model_name="form",
            name="kind",
            field=models.CharField(
                choices=[
                    ("adult", "adult"),
                    ("child", "child"),
                    ("cannot_read", "cannot_read"),
                    ("spoken", "spoken"),
                    ("sign_language", "sign_language"),
                    ("group", "group"),
                ],
                default=relations.consent.values.FormKind["ADULT"],
                max_length=13,
            ),
        ),
        migrations.AddField(
            model_name="form",
            name="trip",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="forms",
                to="meetings.trip",
            ),
        ),
    ]
