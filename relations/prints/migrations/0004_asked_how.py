"""When to come is asked with the way of a print; a promise may be a thank-you, or say its sum."""

from django.db import migrations, models

import relations.privacy.fields


class Migration(migrations.Migration):
    dependencies = [
        ("prints", "0003_rounds"),
    ]

    operations = [
        migrations.AddField(
            model_name="print",
            name="when_to_come",
            field=relations.privacy.fields.SealedText(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="promise",
            name="amount",
            field=models.DecimalField(blank=True, decimal_places=2, max_digits=9, null=True),
        ),
        migrations.AddField(
            model_name="promise",
            name="currency",
            field=models.CharField(blank=True, default="", max_length=3),
            preserve_default=False,
        ),
        migrations.AlterField(
            model_name="promise",
            name="kind",
            field=models.CharField(
                choices=[
                    ("print", "Print"),
                    ("book_copy", "Book Copy"),
                    ("invitation", "Invitation"),
                    ("sum", "Sum"),
                    ("tell_before", "Tell Before"),
                    ("substitute_print", "Substitute Print"),
                    ("thank_you", "Thank You"),
                ],
                max_length=16,
            ),
        ),
        migrations.AddConstraint(
            model_name="promise",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("amount", None), ("currency", "")),
                    models.Q(
                        ("amount__gt", 0),
                        ("amount__isnull", False),
                        ("kind", "sum"),
                        models.Q(("currency", ""), _negated=True),
                    ),
                    _connector="OR",
                ),
                name="promise_sum_says_its_currency",
            ),
        ),
    ]
