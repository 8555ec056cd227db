"""How many of a group are hoped for, who was thanked when, and who was asked to tell of others."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("people", "0003_line_note")]

    operations = [
        migrations.AddField(
            model_name="community",
            name="hoped_for",
            field=models.PositiveSmallIntegerField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="outsideintroducer",
            name="thanked_on",
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="participant",
            name="asked_to_tell_on",
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="participant",
            name="thanked_on",
            field=models.DateField(blank=True, null=True),
        ),
    ]
