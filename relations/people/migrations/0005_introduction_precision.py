"""How much is known of the day on which word came through, and which word of somebody it was."""

from django.db import migrations, models

from relations.people.values import Precision


class Migration(migrations.Migration):
    dependencies = [("people", "0004_thanks_and_hopes")]

    operations = [
        migrations.AddField(
            model_name="introduction",
            name="precision",
            field=models.CharField(
                choices=[("day", "day"), ("month", "month"), ("year", "year")],
                default=Precision.DAY,
                max_length=5,
            ),
        ),
        migrations.AddField(
            model_name="introduction",
            name="number",
            field=models.PositiveSmallIntegerField(default=1),
        ),
        migrations.AlterModelOptions(
            name="introduction", options={"ordering": ["heard_on", "number", "id"]}
        ),
        migrations.AddConstraint(
            model_name="introduction",
            constraint=models.CheckConstraint(
                condition=models.Q(precision__in=["day", "month", "year"]),
                name="introduction_precision_known",
            ),
        ),
    ]
