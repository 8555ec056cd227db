"""The words beside a number get a field of their own; lines of before have none."""

from django.db import migrations

import relations.privacy.fields


class Migration(migrations.Migration):
    dependencies = [("people", "0002_life_changes")]

    operations = [
        migrations.AddField(
            model_name="phoneline",
            name="note",
            field=relations.privacy.fields.SealedText(blank=True, null=True),
        ),
    ]
