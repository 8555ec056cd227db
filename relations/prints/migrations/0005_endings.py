"""Who decided how a print ended; how a promise ends that is not kept."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

import relations.privacy.fields


class Migration(migrations.Migration):
    dependencies = [
        ("prints", "0004_asked_how"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.AddField(
            model_name="print",
            name="decided_by",
            field=relations.privacy.fields.SealedText(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="promise",
            name="ended_how",
            field=models.CharField(
                blank=True,
                choices=[("let_off", "let_off"), ("could_not", "could_not")],
                default="",
                max_length=9,
            ),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="promise",
            name="ended_on",
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="promise",
            name="ended_why",
            field=relations.privacy.fields.SealedText(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="promise",
            name="ended_by",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddConstraint(
            model_name="promise",
            constraint=models.CheckConstraint(
                condition=models.Q(("kept_on", None), ("ended_how", ""), _connector="OR"),
                name="promise_ends_once",
            ),
        ),
        migrations.AddConstraint(
            model_name="promise",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("ended_by", None), ("ended_how", ""), ("ended_on", None)),
                    models.Q(
                        ("ended_by__isnull", False),
                        ("ended_how__in", ["let_off", "could_not"]),
                        ("ended_on__isnull", False),
                    ),
                    _connector="OR",
                ),
                name="promise_ended_how_when_by_whom",
            ),
        ),
    ]
