"""When the project began to close, went on after all, and was closed."""

import uuid

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("rights", "0003_counts_report"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Closing",
            fields=[
                (
                    "id",
                    models.UUIDField(
                        default=uuid.uuid4, editable=False, primary_key=True, serialize=False
                    ),
                ),
                ("begun_on", models.DateField()),
                (
                    "is_current",
                    models.BooleanField(blank=True, default=True, null=True, unique=True),
                ),
                ("closed_on", models.DateField(blank=True, null=True)),
                ("called_off_on", models.DateField(blank=True, null=True)),
                (
                    "begun_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "called_off_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "closed_by",
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
                "ordering": ["-begun_on"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("closed_by", None), ("closed_on", None)),
                            models.Q(("closed_by__isnull", False), ("closed_on__isnull", False)),
                            _connector="OR",
                        ),
                        name="closing_closed_by_whom",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("called_off_by", None),
                                ("called_off_on", None),
                                ("is_current", True),
                                ("is_current__isnull", False),
                            ),
                            models.Q(
                                ("called_off_by__isnull", False),
                                ("called_off_on__isnull", False),
                                ("is_current", None),
                            ),
                            _connector="OR",
                        ),
                        name="closing_is_current_until_called_off",
                    ),
                ],
            },
        ),
    ]
